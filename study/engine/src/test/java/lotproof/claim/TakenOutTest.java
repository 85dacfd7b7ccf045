package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import lotproof.claim.InventedKits.Unit;
import lotproof.study.Decision;
import lotproof.study.Decision.Target;
import lotproof.study.Design.Pairing;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What is said of exclusions: extremes are told from units that any other could have been. */
class TakenOutTest {
  private static final int EACH = 5;
  private static final long SEED = 20_261_201;
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 2000) / 10;

  private static AssumingStudies study() {
    return study(20261202);
  }

  private static AssumingStudies study(long seed) {
    return new AssumingStudies(seed, 24, 1, 0, 1)
        .passes(2, 20, c -> 0)
        .planned()
        .stating(Pairing.RANDOM);
  }

  private static List<Decision> excluded(List<Unit> cells, List<Unit> boards) {
    List<Decision> decisions = new ArrayList<>();
    Stream.concat(
            cells.stream().map(unit -> decision(Target.CELL, unit)),
            boards.stream().map(unit -> decision(Target.BOARD, unit)))
        .forEach(decisions::add);
    return decisions;
  }

  private static Decision decision(Target target, Unit unit) {
    return new Decision(
        "D" + target + unit.serial(),
        "2026-11-20 10:00",
        "M",
        Decision.Action.EXCLUDED,
        target,
        unit.serial(),
        Optional.empty(),
        Optional.empty(),
        "bench damage",
        "",
        2);
  }

  private static List<Unit> farthest(List<Unit> units) {
    double mean = units.stream().mapToDouble(Unit::gain).average().orElseThrow();
    return units.stream()
        .sorted(Comparator.comparingDouble(unit -> -Math.abs(unit.gain() - mean)))
        .limit(EACH)
        .toList();
  }

  private static List<Unit> any(List<Unit> units) {
    return any(units, new Random(3));
  }

  private static List<Unit> any(List<Unit> units, Random random) {
    List<Unit> all = new ArrayList<>(units);
    Collections.shuffle(all, random);
    return all.subList(0, EACH);
  }

  private static List<FigureChange> changes(AssumingStudies study, List<Decision> decisions) {
    return new StudyAnalysis(study.study()).analyse(study.readings(), decisions).changes();
  }

  @Test
  void tenExtremesAreCalledSoAndTheFigureWithThemStandsBeside() {
    AssumingStudies study = study();
    List<FigureChange> changes =
        changes(study, excluded(farthest(study.cells), farthest(study.boards)));
    FigureChange none = changes.get(0);
    assertThat(none.takenOut()).hasSize(2);
    TakenOut cells = none.takenOut().get(0);
    assertThat(cells.kind()).isEqualTo(Target.CELL);
    assertThat(cells.count()).isEqualTo(EACH);
    assertThat(cells.measured()).isEqualTo(24);
    assertThat(cells.farthest()).isEqualTo(EACH);
    // one of 24 over 5
    assertThat(1 / cells.chance()).isCloseTo(42504, within(1e-3));
    assertThat(cells.extremes()).isTrue();
    assertThat(none.takenOut().get(1).farthest()).isGreaterThanOrEqualTo(EACH - 2);
    assertThat(none.before().figureGrams().orElseThrow())
        .isGreaterThan(1.2 * none.after().figureGrams().orElseThrow());
    // at another level the same units are any units
    assertThat(changes.get(1).takenOut().get(0).extremes()).isFalse();
    assertThat(changes.get(1).before().figureGrams()).isPresent();
  }

  @Test
  void unitsTakenOutByLotAreNotAccused() {
    AssumingStudies study = study();
    List<FigureChange> changes = changes(study, excluded(any(study.cells), any(study.boards)));
    for (FigureChange change : changes) {
      assertThat(change.takenOut()).hasSize(2);
      assertThat(change.takenOut()).allMatch(out -> out.count() == EACH && !out.extremes());
    }
  }

  @Test
  void withoutExclusionsNothingIsSaid() {
    AssumingStudies study = study();
    assertThat(changes(study, List.of())).allMatch(change -> change.takenOut().isEmpty());
  }

  /** The five farthest cells and boards are called the extremes, any five are not. */
  @Test
  @Tag("guarantee")
  void extremesAreToldFromAnyOthers() {
    int found = 0;
    int accused = 0;
    int smaller = 0;
    for (int s = 0; s < STUDIES; s++) {
      AssumingStudies study = study(SEED + s);
      Random random = new Random(SEED + s);
      FigureChange none =
          changes(study, excluded(farthest(study.cells), farthest(study.boards))).get(0);
      found += none.takenOut().stream().anyMatch(TakenOut::extremes) ? 1 : 0;
      boolean shrunk =
          none.before().figureGrams().orElse(Double.MAX_VALUE)
              > none.after().figureGrams().orElse(Double.MAX_VALUE);
      smaller += shrunk ? 1 : 0;
      accused +=
          changes(study, excluded(any(study.cells, random), any(study.boards, random))).stream()
                  .flatMap(change -> change.takenOut().stream())
                  .anyMatch(TakenOut::extremes)
              ? 1
              : 0;
    }
    System.out.printf(
        "farthest left out: figure smaller %d, said %d of %d; any left out: accused %d%n",
        smaller, found, STUDIES, accused);
    assertThat(found).isGreaterThanOrEqualTo(95 * STUDIES / 100);
    assertThat(accused).isLessThanOrEqualTo(5 * STUDIES / 100);
  }
}
