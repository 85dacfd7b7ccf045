package lotproof.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.claim.FigureDetail.LeftOut;
import lotproof.model.ErrorModel;
import lotproof.model.ModelPart;
import lotproof.model.Role;
import lotproof.statistics.components.CaseDeletion;
import lotproof.study.UnitKind;
import lotproof.work.Parallel;

/**
 * How much a figure hangs on single units. Every unit is left out once at the worst load to first
 * order ({@link CaseDeletion}; in large studies those that stand out most) and among the tested
 * kits; those that move either most are left out of the whole model.
 */
record LeaveOneOut(FigureCalculator.Computed.Found found) {
  /** How many units are left out of the whole model. */
  private static final int FITTED = 10;

  /** How many of them are told. */
  private static final int TOLD = 5;

  /** Most units that take a step by how far they stand out; a usual study has a hundred. */
  private static final int MOST_STEPS = 200;

  /** Curves with the largest errors, whose units take a step in any case. */
  private static final int LARGEST_KEPT = 20;

  /** A unit and its curves. */
  private record Unit(UnitKind kind, String serial, Set<Integer> curves) {}

  /** A unit and by how much a first look says that the figure moves without it. */
  private record Candidate(Unit unit, double changeGrams) {}

  /** The most influential units; none where kits were put together from halves. */
  List<LeftOut> mostInfluential() {
    if (found.model().isSum()) {
      return List.of();
    }
    CaseDeletion deletion = found.model().deletion(found.outcome().worstPoint());
    List<Candidate> candidates =
        new ArrayList<>(Parallel.map(worthAStep(deletion), unit -> candidate(unit, deletion)));
    candidates.sort(Comparator.comparingDouble(Candidate::changeGrams).reversed());
    return Parallel.map(
            candidates.stream().limit(FITTED).toList(), candidate -> leftOut(candidate.unit()))
        .stream()
        .flatMap(Optional::stream)
        .sorted(Comparator.comparingDouble((LeftOut l) -> Math.abs(l.changeGrams())).reversed())
        .limit(TOLD)
        .toList();
  }

  private List<Double> largest() {
    return found.evidence().largest().values();
  }

  /** Units that stand out most, which mostly are all, and those that hold the largest errors. */
  private List<Unit> worthAStep(CaseDeletion deletion) {
    List<Unit> units = units();
    List<Integer> largestFirst =
        IntStream.range(0, largest().size())
            .boxed()
            .sorted(Comparator.comparingDouble((Integer i) -> -largest().get(i)))
            .limit(LARGEST_KEPT)
            .toList();
    Map<Unit, Double> far = new HashMap<>();
    units.forEach(unit -> far.put(unit, deletion.outlyingness(List.copyOf(unit.curves()))));
    return Stream.concat(
            units.stream()
                .sorted(Comparator.comparingDouble((Unit u) -> -far.getOrDefault(u, 0.0)))
                .limit(MOST_STEPS),
            units.stream().filter(unit -> !Collections.disjoint(largestFirst, unit.curves())))
        .distinct()
        .toList();
  }

  private List<Unit> units() {
    List<Unit> units = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      Role role = kind == UnitKind.CELL ? Role.CELL : Role.BOARD;
      List<String> serials = found.evidence().largest().labelsOf(role).orElse(List.of());
      Map<String, Set<Integer>> curves = new LinkedHashMap<>();
      for (int i = 0; i < serials.size(); i++) {
        curves.computeIfAbsent(serials.get(i), serial -> new TreeSet<>()).add(i);
      }
      if (curves.size() >= 3) {
        curves.forEach((serial, own) -> units.add(new Unit(kind, serial, own)));
      }
    }
    return units;
  }

  /** By how much the larger of model and tested kits moves without a unit, to first order. */
  private Candidate candidate(Unit unit, CaseDeletion deletion) {
    double model =
        found
            .model()
            .boundAfter(
                deletion.without(List.copyOf(unit.curves())),
                found.outcome().worstPoint(),
                found.evidence().content(),
                found.evidence().confidence());
    double worst = found.outcome().worst().figureGrams();
    double all = testedWithout(Set.of());
    double tested = testedWithout(unit.curves());
    double change = Math.max(model, tested) - Math.max(worst, all);
    // a change below the other bound moves nothing; it only breaks ties
    double tie = 1e-6 * (Math.abs(tested - all) + Math.abs(model - worst));
    return new Candidate(unit, Math.abs(change) + tie);
  }

  /** Largest error of the tested kits without some curves; 0 where none is tested. */
  private double testedWithout(Set<Integer> curves) {
    return found.evidence().hasTested()
        ? IntStream.range(0, largest().size())
            .filter(i -> !curves.contains(i))
            .mapToDouble(largest()::get)
            .max()
            .orElse(0)
        : 0;
  }

  private double boundOf(ErrorModel model) {
    return model.boundGrams(found.evidence().content(), found.evidence().confidence());
  }

  private Optional<LeftOut> leftOut(Unit unit) {
    List<Integer> left =
        IntStream.range(0, largest().size())
            .filter(i -> !unit.curves().contains(i))
            .boxed()
            .toList();
    ModelPart part = found.evidence().parts().get(0);
    ErrorModel.Outcome outcome =
        ErrorModel.fit(
            List.of(new ModelPart(left, part.labelled().select(left), part.plan(), part.weights())),
            found.evidence().values(),
            Optional.empty());
    if (!(outcome instanceof ErrorModel.Outcome.Fitted fitted)) {
      return Optional.empty();
    }
    double guards = found.guardGrams();
    double model = boundOf(fitted.model());
    double tested = testedWithout(unit.curves());
    double bound = Math.max(model, tested);
    double withAll = Math.max(boundOf(found.model()), testedWithout(Set.of()));
    return Optional.of(
        new LeftOut(
            unit.kind(),
            unit.serial(),
            bound + guards,
            bound - withAll,
            model + guards,
            tested + guards));
  }
}
