package lotproof.plan.design;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.plan.Draws;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.PlannedRun;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * The bench sheets of a study's side tests: which kits, in which order, with a column for each
 * step.
 *
 * <p>The kits share no unit and come from as many lots as there are; which of them, and their
 * order, is drawn. A run of the check standard has the loads of a load run, so it stands on a sheet
 * of its own: first, in the middle and last.
 */
public final class SideSheets {
  /** Kits of each side test where nothing else is said; docs/guarantees.md looks at 6 and 10. */
  public static final int KITS = 10;

  private static final int CHECKS = 3;

  private final Study study;
  private final Draws draws;

  private SideSheets(Study study, long seed) {
    this.study = study;
    this.draws = Draws.of(seed, -2);
  }

  /**
   * The sheets of all side tests.
   *
   * @param kits how many kits each of them takes, at least 2; fewer where the study has fewer
   * @param seed decides which kits, and their order
   */
  public static List<BenchSheet> of(Study study, int kits, long seed) {
    if (kits < 2) {
      throw new IllegalArgumentException(
          "a side test needs at least 2 kits to say how they differ, was " + kits);
    }
    SideSheets sheets = new SideSheets(study, seed);
    return study.design().sideTests().stream().flatMap(test -> sheets.of(test, kits)).toList();
  }

  private Stream<BenchSheet> of(SideTest test, int kits) {
    String key = test.effect().key();
    String session = session(test);
    List<Preparation.Part> preparation = Preparation.ofSideTest(study, test);
    List<Design.PlannedPair> chosen = chosen(kits);
    String number = "%s%0" + Math.max(2, String.valueOf(chosen.size()).length()) + "d";
    List<PlannedRun> runs = new ArrayList<>();
    for (Design.PlannedPair pair : chosen) {
      String run = String.format(Locale.ROOT, number, test.runPrefix(), runs.size() + 1);
      runs.add(new PlannedRun(1, session, run, pair.cell(), pair.board(), 1));
    }
    List<PlannedRun> checks =
        study.units().checkStandard().stream()
            .flatMap(
                pair ->
                    IntStream.rangeClosed(1, CHECKS)
                        .mapToObj(i -> checkRun(test, i))
                        .map(run -> new PlannedRun(1, session, run, pair.cell(), pair.board(), 0)))
            .toList();
    return Stream.of(
            BenchSheet.of(
                "side-" + key,
                "side test " + key + ": " + test.covers(),
                headers(test.loadsKilograms()),
                runs,
                preparation),
            BenchSheet.of(
                "side-" + key + "-check",
                "check standard of side test " + key,
                BenchSheet.headers(study.design().loadsKilograms()),
                checks,
                preparation))
        .filter(sheet -> !sheet.rows().isEmpty());
  }

  /** A run name that no side test takes for its own. */
  private String checkRun(SideTest test, int number) {
    String name = "check-" + test.effect().key() + "-" + number;
    while (study.design().sideTestOf(name).isPresent()) {
      name = "_" + name;
    }
    return name;
  }

  private static String session(SideTest test) {
    String bare = test.runPrefix().replaceAll("[^\\p{Alnum}]+$", "");
    return bare.isEmpty() ? test.effect().key() : bare;
  }

  /** Kits that share no unit, from the lots in turn, in random order. */
  private List<Design.PlannedPair> chosen(int kits) {
    List<Design.PlannedPair> left = new ArrayList<>(candidates());
    draws.shuffle(left);
    boolean jig = study.design().reference().isPresent();
    Map<String, Integer> taken = new HashMap<>();
    List<Design.PlannedPair> chosen = new ArrayList<>();
    while (chosen.size() < kits && !left.isEmpty()) {
      Design.PlannedPair next = left.get(0);
      for (Design.PlannedPair pair : left) {
        next = uses(pair, taken) < uses(next, taken) ? pair : next;
      }
      Design.PlannedPair picked = next;
      chosen.add(picked);
      lots(picked).forEach(lot -> taken.merge(lot, 1, Integer::sum));
      left.removeIf(
          pair ->
              jig
                  ? pair.equals(picked)
                  : pair.cell().equals(picked.cell()) || pair.board().equals(picked.board()));
    }
    draws.shuffle(chosen);
    return chosen;
  }

  private int uses(Design.PlannedPair pair, Map<String, Integer> taken) {
    return lots(pair).mapToInt(lot -> taken.getOrDefault(lot, 0)).sum();
  }

  private Stream<String> lots(Design.PlannedPair pair) {
    return Stream.of(
            Optional.ofNullable(study.units().lotBySerial(UnitKind.CELL).get(pair.cell()))
                .map(lot -> "cell lot " + lot),
            Optional.ofNullable(study.units().lotBySerial(UnitKind.BOARD).get(pair.board()))
                .map(lot -> "board lot " + lot))
        .flatMap(Optional::stream);
  }

  /** The planned pairs; where a study lists none, units of the lots in their order. */
  private List<Design.PlannedPair> candidates() {
    List<String> cells = study.units().serials(UnitKind.CELL);
    List<String> boards = study.units().serials(UnitKind.BOARD);
    if (study.design().reference().isPresent()) {
      Design.ReferencePartners partners = study.design().reference().get();
      return study.claim().subject() == ClaimRequest.Subject.BOARD
          ? boards.stream().map(b -> new Design.PlannedPair(partners.cell(), b, 1)).toList()
          : cells.stream().map(c -> new Design.PlannedPair(c, partners.board(), 1)).toList();
    }
    if (!study.design().pairs().isEmpty()) {
      return study.design().pairs();
    }
    return IntStream.range(0, Math.min(cells.size(), boards.size()))
        .mapToObj(i -> new Design.PlannedPair(cells.get(i), boards.get(i), 1))
        .toList();
  }

  /** Column names with the number of the step, because loads come again. */
  private static List<String> headers(List<Double> loadsKilograms) {
    return BenchSheet.withOthers(
        IntStream.range(0, loadsKilograms.size())
            .mapToObj(
                j ->
                    "step %s reading at %s kg (counts)"
                        .formatted(j + 1, plain(loadsKilograms.get(j))))
            .toList());
  }
}
