package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.claim.DraftFinding.Kind;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
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
            ClaimSubject.KIT,
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
    return result.asDecided().claims().get(level).figure().orElseThrow().safestGrams();
  }

  private static DraftReport check(String draft) {
    String figure = Numbers.plain(safest(1));
    return DraftCheck.of(result, draft.replace("FIGURE", figure));
  }

  private static List<String> about(DraftReport report, Kind kind) {
    return report.findings().stream()
        .filter(finding -> finding.kind() == kind)
        .map(DraftFinding::about)
        .toList();
  }

  @Test
  void nothingIsWrongWithAWholeSentence() {
    DraftReport report = check(WHOLE);
    assertThat(report.findings()).isEmpty();
    assertThat(report.figureGrams()).hasValue(safest(1));
    assertThat(report.level()).contains("one-point");
  }

  @Test
  void theProgramsOwnSentencePassesItsOwnCheck() {
    for (LevelClaim claim : result.asDecided().claims()) {
      assertThat(DraftCheck.of(result, claim.sentence()).findings())
          .as(claim.sentence())
          .noneMatch(finding -> finding.kind() == Kind.OVERSTATED)
          .noneMatch(finding -> finding.kind() == Kind.NOT_STATED);
    }
  }

  @ParameterizedTest(name = "without {0}")
  @CsvSource(
      delimiter = '|',
      value = {
        "calibration level | after taring and a one-point calibration with 20 kg (class M1), ",
        "loads             | for loads of 0 to 50 kg",
        "temperature       | at 20 to 24 °C, ",
        "content           | for 95 % of kits ",
        "confidence        | with 95 % confidence",
        "cell lots         | ; cells of lot L0, boards of lot L0",
        "figure            | within ±FIGURE g"
      })
  void whatIsLeftOutIsNamed(String about, String part) {
    assertThat(WHOLE).contains(part);
    assertThat(about(check(WHOLE.replace(part, "")), Kind.NOT_STATED)).contains(about);
  }

  @ParameterizedTest(name = "{0}: {2}")
  @CsvSource(
      delimiter = '|',
      value = {
        "figure            | ±FIGURE g        | ±1 g",
        "figure            | ±FIGURE g        | +/- 0.001 kg",
        "figure            | ±FIGURE g        | ±0.002 %",
        "loads             | 0 to 50 kg       | 0 to 60 kg",
        "temperature       | 20 to 24 °C      | -10 to 40 °C",
        "temperature       | at 20 to 24 °C   | at any temperature",
        "content           | 95 % of kits     | 99 % of kits",
        "content           | for 95 % of kits | for every kit",
        "confidence        | 95 % confidence  | 99 % confidence",
        "cell lots         | cells of lot L0  | all lots of cells",
        "calibration level | one-point        | two-point"
      })
  void whatIsSaidTooLargeIsNamed(String about, String part, String instead) {
    assertThat(WHOLE).contains(part);
    assertThat(about(check(WHOLE.replace(part, instead)), Kind.OVERSTATED)).contains(about);
  }

  @ParameterizedTest
  @CsvSource({
    "Guaranteed accuracy, guaranteed",
    "Best accuracy, accuracy",
    "Certified and legal for trade, approval",
    "For medical scales, use"
  })
  void wordsThatNoStudySupportsAreNamed(String words, String about) {
    assertThat(about(check(words + " ±500 g."), Kind.WORDS)).contains(about);
  }

  @Test
  void withoutALevelTheWidestFigureCounts() {
    DraftReport report = check("Error of reading ±FIGURE g.");
    assertThat(safest(0)).isGreaterThan(safest(1));
    assertThat(report.level()).isEqualTo(result.asDecided().claims().get(0).level().description());
    assertThat(about(report, Kind.OVERSTATED)).contains("figure");
  }

  @Test
  void anEmptyDraftFailsToStateEverything() {
    assertThat(about(check(""), Kind.NOT_STATED))
        .contains("calibration level", "figure", "loads", "temperature", "content", "confidence");
  }
}
