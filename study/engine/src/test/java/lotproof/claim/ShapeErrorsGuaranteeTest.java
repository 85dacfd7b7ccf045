package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import lotproof.claim.premise.NormalShape;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * How often a figure is wrong without a word on the shape: no more often than figures may be wrong;
 * how often what kits or lots support without a shape is wrong: likewise; and how often normal
 * errors are called not normal: as often as stated.
 */
@Tag("guarantee")
class ShapeErrorsGuaranteeTest {
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 200);
  private static final double WRONG = 0.05;

  @ParameterizedTest
  @EnumSource
  void noFigureIsWrongWithoutAWord(ShapeErrors kind) throws IOException {
    ShapeErrors.Count count = kind.count(STUDIES);
    Path target = Path.of("target", "guarantees-shape.md");
    Files.createDirectories(target.toAbsolutePath().getParent());
    Files.writeString(
        target,
        count.row(kind.words()) + System.lineSeparator(),
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND);
    assertThat(count.silent()).as(kind.words()).isLessThanOrEqualTo(most(WRONG, STUDIES));
    assertThat(count.figures() - count.supported())
        .as(kind.words())
        .isLessThanOrEqualTo(most(WRONG, count.figures()));
    if (kind.normal()) {
      assertThat(count.found())
          .as(kind.words())
          .isLessThanOrEqualTo(most(NormalShape.LEVEL, STUDIES));
    }
  }

  /** So many of the studies at a rate, and three standard errors. */
  private static int most(double rate, int studies) {
    return (int) Math.ceil(studies * rate + 3 * Math.sqrt(studies * rate * (1 - rate)));
  }
}
