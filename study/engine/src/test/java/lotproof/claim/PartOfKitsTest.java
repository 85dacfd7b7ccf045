package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.Remark;
import lotproof.claim.LevelOutcome.Remark.WiderThanKits;
import lotproof.claim.LevelOutcome.Remark.WiderThanKits.Cause;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.Subject;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Test;

/** Figures for cells or boards alone beside that for the kits that they are a part of. */
class PartOfKitsTest {
  /** Invented units on reference partners, or in a rotation. */
  private record Measured(
      InventedKits kits,
      List<InventedKits.Unit> cells,
      List<InventedKits.Unit> boards,
      List<ReducedRun> runs,
      Design design) {
    static Measured rotation(long seed, int units, int lots) {
      InventedKits kits = new InventedKits(seed, lots, lots > 1 ? 0.3 : 0);
      List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, units);
      List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, units);
      List<ReducedRun> runs = new ArrayList<>();
      for (int i = 0; i < units; i++) {
        runs.add(kits.run("r" + i, cells.get(i), boards.get(i)));
        runs.add(kits.run("s" + i, cells.get(i), boards.get((i + 1) % units)));
      }
      return new Measured(
          kits, cells, boards, runs, design(Design.Kind.ROTATION, Optional.empty()));
    }

    static Measured onPartners(long seed, int units) {
      InventedKits kits = new InventedKits(seed, 1, 0);
      List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, units);
      List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, units);
      InventedKits.Unit cell = new InventedKits.Unit("rc", 0.004, 3, 2);
      InventedKits.Unit board = new InventedKits.Unit("rb", 0.001, 0, 0);
      List<ReducedRun> runs = new ArrayList<>();
      for (int i = 0; i < units; i++) {
        runs.add(kits.run("r" + i, cells.get(i), board));
        runs.add(kits.run("s" + i, cell, boards.get(i)));
      }
      for (int i = 0; i < 12; i++) {
        runs.add(kits.run("x" + i, cell, board));
      }
      return new Measured(
          kits,
          cells,
          boards,
          runs,
          design(
              Design.Kind.REFERENCE_PARTNER,
              Optional.of(new Design.ReferencePartners("rc", "rb", false))));
    }

    private static Design design(Design.Kind kind, Optional<Design.ReferencePartners> reference) {
      return new Design(
          kind, InventedKits.LOADS, List.of(), reference, List.of(), Design.Pairing.RANDOM);
    }

    Figure figure(Subject subject) {
      ClaimRequest claim =
          new ClaimRequest(
              0.95,
              0.95,
              1,
              new ClaimForm.Symmetric(),
              subject,
              OptionalDouble.empty(),
              List.of(
                  new ClaimRequest.LevelRequest(
                      new CalibrationLevel.None(), OptionalDouble.empty())));
      return InventedKits.claims(
              InventedKits.study(
                  kits.lotsOf(UnitKind.CELL, cells),
                  kits.lotsOf(UnitKind.BOARD, boards),
                  design,
                  claim,
                  MassClass.F2),
              runs,
              true)
          .get(0)
          .figure()
          .orElseThrow();
    }
  }

  private static Optional<WiderThanKits> wider(Figure figure) {
    return figure.remarks().stream()
        .filter(WiderThanKits.class::isInstance)
        .map(WiderThanKits.class::cast)
        .findFirst();
  }

  /** Two lots of each kind: the runs say less of the spread of boards than of that of kits. */
  @Test
  void aPartThatIsWiderThanTheWholeSaysThatItIsLessKnown() {
    Measured study = Measured.rotation(2, 12, 2);
    Figure kits = study.figure(Subject.KIT);
    Figure boards = study.figure(Subject.BOARD);
    assertThat(boards.printableGrams()).isGreaterThan(kits.printableGrams());
    WiderThanKits why = wider(boards).orElseThrow();
    assertThat(why.cause()).isEqualTo(Cause.UNCERTAINTY);
    assertThat(why.kitsGrams()).isEqualTo(kits.printableGrams());
    assertThat(why.own().meanGrams()).isCloseTo(why.kits().meanGrams(), within(1e-9));
    assertThat(why.own().standardDeviationGrams()).isLessThan(why.kits().standardDeviationGrams());
    assertThat(why.own().countedGrams()).isGreaterThan(why.kits().countedGrams());
    assertThat(wider(kits)).isEmpty();
    assertThat(wider(study.figure(Subject.CELL))).isEmpty();
  }

  @Test
  void unitsOnAPartnerHaveItsErrorAndKitsDoNot() {
    Measured study = Measured.onPartners(1, 20);
    Figure kits = study.figure(Subject.KIT);
    Figure cells = study.figure(Subject.CELL);
    WiderThanKits why = wider(cells).orElseThrow();
    assertThat(why.cause()).isEqualTo(Cause.PARTNER);
    assertThat(why.kitsGrams()).isEqualTo(kits.printableGrams());
    assertThat(Math.abs(why.own().meanGrams())).isGreaterThan(Math.abs(why.kits().meanGrams()));
    assertThat(wider(study.figure(Subject.BOARD))).isEmpty();
  }

  @Test
  void whatWasMeasuredIsCountedInKitsAndAlone() {
    Figure inKits = Measured.rotation(1, 12, 1).figure(Subject.BOARD);
    assertThat(inKits.tested().measured()).isEqualTo(12);
    assertThat(inKits.tested().kits()).isZero();
    assertThat(inKits.remarks()).contains(new Remark.ModelOnly(12, 24));
    Figure alone = Measured.onPartners(1, 20).figure(Subject.BOARD);
    assertThat(alone.tested().measured()).isEqualTo(20);
    assertThat(alone.tested().kits()).isEqualTo(20);
  }

  /**
   * What the words rest on, at its edge: a unit's error uniform about its mean, the partner's at
   * two points. Above a content of 3/4 no more units than kits lie beyond a figure.
   */
  @Test
  void aPartnerOnlyWidensSymmetricErrors() {
    int judged = 0;
    for (double half = 0.05; half < 2; half += 0.05) {
      for (double mean = 0; mean < 1; mean += 0.05) {
        for (double other = 0; other < 2; other += 0.05) {
          double kits = (uniform(half, mean + other) + uniform(half, mean - other)) / 2;
          if (kits > 0.75) {
            judged++;
            assertThat(uniform(half, mean)).isGreaterThanOrEqualTo(kits - 1e-12);
          }
        }
      }
    }
    assertThat(judged).isGreaterThan(1000);
  }

  /** Share within -1 and 1 of values that lie evenly within half of a mean. */
  private static double uniform(double half, double mean) {
    return Math.max(0, Math.min(1, mean + half) - Math.max(-1, mean - half)) / (2 * half);
  }
}
