package lotproof.statistics;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.RandomFactor;
import org.junit.jupiter.api.Test;

/** The example of the package's documentation, as code that runs. */
class PackageExampleTest {
  @Test
  void theExampleRuns() {
    List<String> cells =
        List.of("a", "a", "a", "a", "b", "b", "b", "b", "c", "c", "c", "c", "d", "d", "d", "d");
    List<String> boards =
        List.of("1", "1", "2", "2", "2", "2", "3", "3", "3", "3", "4", "4", "4", "4", "1", "1");
    double[] errors = {
      3.1, 2.9, 4.4, 4.6, 1.2, 1.1, 0.3, 0.5, -2.2, -2.1, -1.0, -0.8, 0.9, 1.2, -0.4, -0.1
    };
    Component cell = new Component("cell");
    Component board = new Component("board");
    Observations observations =
        new Observations(
            errors, List.of(RandomFactor.of(cell, cells), RandomFactor.of(board, boards)));
    if (ComponentsFitter.fit(observations, FitOptions.REML) instanceof ComponentsFit fit) {
      double cellSd = Math.sqrt(fit.variance(cell));
      FutureUnitLimits limits = FutureUnitLimits.of(fit, Set.of(), 0.95, 0.95);
      double within = limits.symmetricHalfWidth();
      assertThat(cellSd).isBetween(1.0, 4.0);
      assertThat(within).isGreaterThan(4.6);
      return;
    }
    throw new AssertionError("the example must be estimable");
  }

  @Test
  void theDocumentationShowsThisCode() throws IOException {
    String source = code(Path.of("src/test/java/lotproof/statistics/PackageExampleTest.java"));
    String shown = code(Path.of("src/main/java/lotproof/statistics/package-info.java"));
    String example = shown.substring(shown.indexOf("List<String>cells"), shown.indexOf("}}</pre>"));
    assertThat(source).contains(example);
  }

  /** Without what stands at the start of comment lines, and without white space. */
  private static String code(Path file) throws IOException {
    return Files.readString(file).replaceAll("(?m)^ \\* ?", "").replaceAll("\\s", "");
  }
}
