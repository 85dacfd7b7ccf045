package lotproof.claim.premise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.PartnersGoTogether;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.PartnerAssociation;
import lotproof.study.Characteristic;
import lotproof.study.Design;
import lotproof.study.Study;
import lotproof.work.Parallel;

/**
 * Whether cells and the boards that they met first go together more than chance allows
 * (docs/method.md, "Matched pairs"). Each characteristic that buyers' errors come from is looked
 * at, and the level is shared among them.
 */
public final class PartnerTest {
  /** A study whose pairs were made by chance is called matched no more often than this. */
  public static final double LEVEL = 0.005;

  private static final List<Characteristic> LOOKED_AT =
      List.of(
          Characteristic.SENSITIVITY,
          Characteristic.ZERO,
          Characteristic.NON_LINEARITY,
          Characteristic.HYSTERESIS);

  /** The work grows with the cube of the runs, and this many show any matching that matters. */
  private static final int MOST_RUNS = 300;

  private static final int FEWEST_PARTNERS = 5;
  private static final Set<Role> BOTH = Set.of(Role.CELL, Role.BOARD);

  private PartnerTest() {}

  /**
   * The kits whose cell and board had both met nobody before: in the order of the plan where the
   * study lists pairs, else of the runs.
   */
  public static Set<String> firstPartners(Design design, List<LoadRun> runs) {
    Map<String, LoadRun> byPair = new LinkedHashMap<>();
    List<String> order = new ArrayList<>();
    runs.forEach(run -> byPair.putIfAbsent(run.pair(), run));
    design.pairs().forEach(pair -> order.add(pair.name()));
    order.addAll(byPair.keySet());
    Set<String> met = new HashSet<>();
    Set<String> first = new HashSet<>();
    for (String pair : order) {
      LoadRun run = byPair.get(pair);
      if (run != null && !met.contains("c" + run.cell()) && !met.contains("b" + run.board())) {
        first.add(pair);
        met.add("c" + run.cell());
        met.add("b" + run.board());
      }
    }
    return first;
  }

  /** The runs of first partners: of matched kits those that a buyer gets. */
  public static List<ReducedRun> ofFirstPartners(Design design, List<ReducedRun> runs) {
    Set<String> first = firstPartners(design, runs.stream().map(ReducedRun::run).toList());
    return runs.stream().filter(run -> first.contains(run.run().pair())).toList();
  }

  /** Whether units of both kinds met more than one partner, so that kinds can be told apart. */
  public static boolean isTestable(Study study, List<ReducedRun> runs) {
    return !runs.isEmpty()
        && FactorPlan.of(new StudySpread(study).values(Characteristic.SENSITIVITY, runs))
            .roles()
            .containsAll(BOTH);
  }

  /** The strongest sign that partners go together; empty where there is none at the level. */
  public static Optional<PartnersGoTogether> of(Study study, List<ReducedRun> runs) {
    Set<String> first = firstPartners(study.design(), runs.stream().map(ReducedRun::run).toList());
    List<ReducedRun> some = some(runs);
    return Parallel.map(LOOKED_AT, characteristic -> of(study, characteristic, some, first))
        .stream()
        .flatMap(Optional::stream)
        .filter(sign -> sign.chance() <= LEVEL / LOOKED_AT.size())
        .min(java.util.Comparator.comparingDouble(PartnersGoTogether::chance));
  }

  /** All runs, or of many those of the cells that come first. */
  private static List<ReducedRun> some(List<ReducedRun> runs) {
    if (runs.size() <= MOST_RUNS) {
      return runs;
    }
    Map<String, List<ReducedRun>> ofCell = new LinkedHashMap<>();
    runs.forEach(run -> ofCell.computeIfAbsent(run.run().cell(), c -> new ArrayList<>()).add(run));
    Set<String> cells = new HashSet<>();
    int left = MOST_RUNS;
    for (Map.Entry<String, List<ReducedRun>> cell : ofCell.entrySet()) {
      left -= cell.getValue().size();
      if (left >= 0) {
        cells.add(cell.getKey());
      }
    }
    return runs.stream().filter(run -> cells.contains(run.run().cell())).toList();
  }

  private static Optional<PartnersGoTogether> of(
      Study study, Characteristic characteristic, List<ReducedRun> runs, Set<String> first) {
    // without what a study takes out of its spread: the figure does not take it out either
    MeasuredValues values = new StudySpread(study).values(characteristic, runs).withoutInfluences();
    if (values.values().stream().distinct().count() < 3) {
      return Optional.empty();
    }
    FactorPlan plan = FactorPlan.of(values).withoutPairing();
    if (!plan.roles().containsAll(BOTH) || !(plan.fit(values) instanceof ComponentsFit fit)) {
      return Optional.empty();
    }
    int[] partners = partners(values, first);
    if (IntStream.of(partners).filter(board -> board >= 0).count() < FEWEST_PARTNERS) {
      return Optional.empty();
    }
    return PartnerAssociation.of(
            fit, Role.CELL.component(), Role.BOARD.component(), partners, study.seed())
        .map(
            sign ->
                new PartnersGoTogether(
                    Effect.NO_FIGURE,
                    characteristic,
                    sign.correlation(),
                    sign.chance(),
                    sign.partners()));
  }

  /** For each cell the number of its first board, both numbered as they appear; -1 without one. */
  private static int[] partners(MeasuredValues values, Set<String> first) {
    List<String> cellOf = values.labelsOf(Role.CELL).orElseThrow();
    List<String> boardOf = values.labelsOf(Role.BOARD).orElseThrow();
    List<String> cells = cellOf.stream().distinct().toList();
    List<String> boards = boardOf.stream().distinct().toList();
    int[] partners = new int[cells.size()];
    Arrays.fill(partners, -1);
    for (int i = 0; i < cellOf.size(); i++) {
      if (first.contains(Design.pairName(cellOf.get(i), boardOf.get(i)))) {
        partners[cells.indexOf(cellOf.get(i))] = boards.indexOf(boardOf.get(i));
      }
    }
    return partners;
  }
}
