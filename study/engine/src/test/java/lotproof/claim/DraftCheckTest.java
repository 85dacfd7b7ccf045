package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.claim.draft.DraftCheck;
import lotproof.claim.draft.DraftReport;
import lotproof.claim.draft.DraftReport.Finding;
import lotproof.claim.draft.DraftReport.Problem;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Reading;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Draft sentences against a study of one lot with a figure at levels none and one-point. */
class DraftCheckTest {
  private static final String FIGURE = "±FIGURE g";

  /** All that a sentence has to say; parts of it are taken out or made larger. */
  private static final String WHOLE =
      "Error of reading within "
          + FIGURE
          + " after taring and a one-point calibration with 20 kg (class M1), for loads of 0 to 50"
          + " kg at 20 to 24 °C, for 95 % of kits with 95 % confidence; cells of lot L0, boards of"
          + " lot L0.";

  private static StudyResult result;

  @BeforeAll
  static void measure() {
    InventedKits kits = new InventedKits(5, 1, 0);
    List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, 8);
    List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, 8);
    List<Reading> readings = new ArrayList<>();
    for (int pass = 0; pass < 2; pass++) {
      for (int i = 0; i < 8; i++) {
        OptionalDouble celsius = OptionalDouble.of(20 + 4.0 * i / 7);
        readings.addAll(
            kits.run("r" + pass + "-" + i, cells.get(i), boards.get((i + pass) % 8), celsius, 0)
                .run()
                .readings());
      }
    }
    ClaimRequest request =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(new CalibrationLevel.None(), OptionalDouble.empty()),
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1),
                    OptionalDouble.empty())));
    result =
        new StudyAnalysis(
                InventedKits.study(
                    kits.lotsOf(UnitKind.CELL, cells),
                    kits.lotsOf(UnitKind.BOARD, boards),
                    new Design(Design.Kind.ROTATION, InventedKits.LOADS, List.of()),
                    request,
                    MassClass.M1))
            .analyse(readings, List.of());
  }

  private static double safest(int level) {
    return result.asDecided().claims().get(level).figure().orElseThrow().printableGrams();
  }

  private static DraftReport check(String draft) {
    String figure = Long.toString(Math.round(safest(1)));
    return DraftCheck.of(result, draft.replace("FIGURE", figure));
  }

  private static List<Problem> problems(DraftReport report) {
    return report.findings().stream().map(Finding::problem).toList();
  }

  @Test
  void nothingIsWrongWithAWholeSentence() {
    DraftReport report = check(WHOLE);
    assertThat(report.findings()).isEmpty();
    assertThat(report.figureGrams()).hasValue(safest(1));
    assertThat(report.level()).hasValue(1);
  }

  @ParameterizedTest(name = "without {0}")
  @CsvSource(
      delimiter = '|',
      value = {
        "LEVEL_NOT_STATED | after taring and a one-point calibration with 20 kg (class M1), ",
        "LOADS_NOT_STATED | for loads of 0 to 50 kg",
        "TEMPERATURE_NOT_STATED | at 20 to 24 °C, ",
        "CONTENT_NOT_STATED | for 95 % of kits ",
        "CONFIDENCE_NOT_STATED | with 95 % confidence",
        "ONE_LOT_NOT_STATED | ; cells of lot L0, boards of lot L0",
        "FIGURE_NOT_STATED | within ±FIGURE g"
      })
  void whatIsLeftOutIsNamed(Problem problem, String part) {
    assertThat(WHOLE).contains(part);
    assertThat(problems(check(WHOLE.replace(part, "")))).contains(problem);
  }

  @ParameterizedTest(name = "{0}: {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "FIGURE_TOO_SMALL | ±FIGURE g        | ±1 g",
        "FIGURE_TOO_SMALL | ±FIGURE g        | +/- 0.001 kg",
        "FIGURE_TOO_SMALL | ±FIGURE g        | ±0.002 %",
        "LOADS_BEYOND_TESTED | 0 to 50 kg       | 0 to 60 kg",
        "TEMPERATURE_BEYOND_SEEN | 20 to 24 °C      | -10 to 40 °C",
        "ANY_TEMPERATURE | at 20 to 24 °C   | at any temperature",
        "CONTENT_TOO_LARGE | 95 % of kits     | 99 % of kits",
        "CONTENT_EVERY_UNIT | for 95 % of kits | for every kit",
        "CONFIDENCE_TOO_LARGE | 95 % confidence  | 99 % confidence",
        "ALL_LOTS | cells of lot L0  | all lots of cells",
        "LEVEL_NOT_JUDGED | one-point        | two-point"
      })
  void whatIsSaidTooLargeIsNamed(Problem problem, String part, String instead) {
    assertThat(WHOLE).contains(part);
    assertThat(problems(check(WHOLE.replace(part, instead)))).contains(problem);
  }

  @ParameterizedTest
  @CsvSource({
    "Guaranteed accuracy, GUARANTEED",
    "Best accuracy, ACCURACY",
    "Certified and legal for trade, APPROVAL",
    "For medical scales, USE"
  })
  void wordsThatNoStudySupportsAreNamed(String words, Problem problem) {
    assertThat(problems(check(words + " ±500 g."))).contains(problem);
  }

  @Test
  void withoutALevelTheWidestFigureCounts() {
    DraftReport report = check("Error of reading ±FIGURE g.");
    assertThat(safest(0)).isGreaterThan(safest(1));
    assertThat(report.level()).hasValue(0);
    assertThat(problems(report)).contains(Problem.FIGURE_TOO_SMALL);
  }

  @Test
  void anEmptyDraftFailsToStateEverything() {
    assertThat(problems(check("")))
        .contains(
            Problem.LEVEL_NOT_STATED,
            Problem.FIGURE_NOT_STATED,
            Problem.LOADS_NOT_STATED,
            Problem.TEMPERATURE_NOT_STATED,
            Problem.CONTENT_NOT_STATED,
            Problem.CONFIDENCE_NOT_STATED);
  }
}
