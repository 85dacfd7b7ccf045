package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * How often a figure is wrong without a word where something that it assumes is not so: never; and
 * how often a clean study gets a word: in at most one of twenty.
 */
@Tag("guarantee")
class SilentErrorsGuaranteeTest {
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 200);

  @ParameterizedTest
  @EnumSource
  void noFigureIsWrongWithoutAWord(SilentErrors kind) throws IOException {
    SilentErrors.Count count = kind.count(STUDIES);
    Path target = Path.of("target", "guarantees-assumptions.md");
    Files.createDirectories(target.toAbsolutePath().getParent());
    Files.writeString(
        target,
        count.row(kind.words()) + System.lineSeparator(),
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND);
    if (kind.clean()) {
      assertThat(count.findings()).as(kind.words()).isLessThanOrEqualTo(STUDIES / 20);
      assertThat(count.wrong()).as(kind.words()).isLessThanOrEqualTo(STUDIES / 10);
    } else {
      assertThat(count.silent()).as(kind.words()).isZero();
    }
  }
}
