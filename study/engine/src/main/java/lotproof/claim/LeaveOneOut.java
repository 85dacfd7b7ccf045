package lotproof.claim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.claim.FigureDetail.LeftOut;
import lotproof.model.ErrorModel;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.model.Role;
import lotproof.statistics.components.CaseDeletion;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.work.Parallel;

/**
 * How much a figure hangs on single units. Every unit is left out once at the worst load to first
 * order ({@link CaseDeletion}; in studies of more than 200 units those that stand out most) and
 * among the tested kits; those that move either most are left out of the fit at the worst load, and
 * the first of these of the whole model.
 */
final class LeaveOneOut {
  /** How many units are left out of the fit at the worst load. */
  private static final int FITTED_ONCE = 10;

  /** How many units are left out of the whole model. */
  private static final int LOOKED_AT = 5;

  /** Up to so many units all take a step; a study of the usual size has a hundred. */
  private static final int MOST_STEPS = 200;

  /** Curves with the largest errors, whose units take a step in any case. */
  private static final int LARGEST_KEPT = 20;

  private final Study study;
  private final FigureCalculator.Computed.Found found;

  /** Curves by the largest error that counts in each, the greatest first. */
  private final int[] largestFirst;

  LeaveOneOut(Study study, FigureCalculator.Computed.Found found) {
    this.study = study;
    this.found = found;
    List<Double> largest = found.evidence().largest().values();
    this.largestFirst =
        IntStream.range(0, largest.size())
            .boxed()
            .sorted(Comparator.comparingDouble((Integer i) -> -largest.get(i)))
            .mapToInt(i -> i)
            .toArray();
  }

  /** A unit and its curves. */
  private record Unit(UnitKind kind, String serial, List<Integer> curves) {}

  /** A unit and by how much a first look says that the figure moves without it. */
  private record Candidate(Unit unit, double changeGrams) {}

  /** The most influential units; none where kits were put together from halves. */
  List<LeftOut> mostInfluential() {
    if (found.model().isSum()) {
      return List.of();
    }
    double tested = largestWithout(List.of());
    int point = found.outcome().worstPoint();
    CaseDeletion deletion = found.model().deletion(point);
    List<Unit> shortList =
        most(
            Parallel.map(
                worthAStep(deletion), unit -> candidate(unit, boundAfter(deletion, unit, point))),
            FITTED_ONCE);
    List<Unit> looked =
        most(
            Parallel.map(shortList, unit -> candidate(unit, boundWithout(deletion, unit, point))),
            LOOKED_AT);
    List<CaseDeletion> deletions =
        IntStream.range(0, found.outcome().points().size())
            .mapToObj(found.model()::deletion)
            .toList();
    double base = boundOfModel(found.model());
    double bound = Math.max(base, tested);
    return Parallel.map(looked, unit -> leftOut(unit, deletions, bound)).stream()
        .flatMap(Optional::stream)
        .sorted(Comparator.comparingDouble((LeftOut l) -> Math.abs(l.changeGrams())).reversed())
        .toList();
  }

  /** Every unit; of many those that stand out most and those that hold the largest errors. */
  private List<Unit> worthAStep(CaseDeletion deletion) {
    List<Unit> units = units();
    if (units.size() <= MOST_STEPS) {
      return units;
    }
    record Standing(Unit unit, double far) {}
    Set<Integer> largest = new HashSet<>();
    Arrays.stream(largestFirst).limit(LARGEST_KEPT).forEach(largest::add);
    return Stream.concat(
            units.stream()
                .map(unit -> new Standing(unit, deletion.outlyingness(unit.curves())))
                .sorted(Comparator.comparingDouble(Standing::far).reversed())
                .limit(MOST_STEPS)
                .map(Standing::unit),
            units.stream().filter(unit -> !Collections.disjoint(largest, unit.curves())))
        .distinct()
        .toList();
  }

  private static List<Unit> most(List<Candidate> candidates, int count) {
    return candidates.stream()
        .sorted(Comparator.comparingDouble(Candidate::changeGrams).reversed())
        .limit(count)
        .map(Candidate::unit)
        .toList();
  }

  /** By how much the larger of model and tested kits moves with this bound of the model. */
  private Candidate candidate(Unit unit, Optional<Double> boundOfModel) {
    double worst = found.outcome().points().get(found.outcome().worstPoint()).figureGrams();
    double tested = largestWithout(List.of());
    double ofTested = largestWithout(unit.curves()) - tested;
    double ofModel = boundOfModel.orElse(worst) - worst;
    double before = Math.max(worst, tested);
    double change = Math.max(worst + ofModel, tested + ofTested) - before;
    // a change below the other bound moves nothing; it only breaks ties
    double tie = 1e-6 * (Math.abs(ofTested) + Math.abs(ofModel));
    return new Candidate(unit, Math.abs(change) + tie);
  }

  private List<Unit> units() {
    List<Unit> units = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      Role role = kind == UnitKind.CELL ? Role.CELL : Role.BOARD;
      List<String> serials = found.evidence().largest().labelsOf(role).orElse(List.of());
      Map<String, List<Integer>> curves = new LinkedHashMap<>();
      for (int i = 0; i < serials.size(); i++) {
        curves.computeIfAbsent(serials.get(i), serial -> new ArrayList<>()).add(i);
      }
      if (curves.size() >= 3) {
        curves.forEach((serial, own) -> units.add(new Unit(kind, serial, own)));
      }
    }
    return units;
  }

  /** The curves that stay without a unit. */
  private List<Integer> kept(Unit unit) {
    Set<Integer> gone = new HashSet<>(unit.curves());
    return IntStream.range(0, largestFirst.length).filter(i -> !gone.contains(i)).boxed().toList();
  }

  private ComponentWeights weights() {
    return found.evidence().parts().get(0).weights();
  }

  private boolean hasTested() {
    return found.evidence().hasTested(study.claim().subject());
  }

  /** Largest error of the tested kits without some curves; 0 where none is tested. */
  private double largestWithout(List<Integer> curves) {
    if (!hasTested()) {
      return 0;
    }
    for (int i : largestFirst) {
      if (!curves.contains(i)) {
        return found.evidence().largest().values().get(i);
      }
    }
    return 0;
  }

  private Optional<Double> boundAfter(CaseDeletion deletion, Unit unit, int point) {
    return Optional.of(
        found
            .model()
            .boundAfter(
                deletion.without(unit.curves()),
                point,
                study.claim().content(),
                study.claim().confidence()));
  }

  private Optional<Double> boundWithout(CaseDeletion deletion, Unit unit, int worst) {
    List<Integer> left = kept(unit);
    MeasuredValues values =
        found.evidence().largest().withValues(found.evidence().judged().at(worst)).select(left);
    if (found.evidence().plan().fit(values, start(deletion, unit, worst))
        instanceof ComponentsFit fit) {
      FutureUnitLimits limits =
          FutureUnitLimits.ofSum(
              List.of(new FutureUnitLimits.Part(fit, weights())),
              0,
              study.claim().content(),
              study.claim().confidence());
      return Optional.of(found.model().counted(limits));
    }
    return Optional.empty();
  }

  /** The fit with all units, and the step that leaving one out takes from there. */
  private FitOptions start(CaseDeletion deletion, Unit unit, int point) {
    ComponentsFit withAll = found.model().fit(point, 0);
    double[] variances = withAll.variances();
    double[] change = deletion.without(unit.curves()).variances();
    for (int k = 0; k < variances.length; k++) {
      variances[k] += change[k];
    }
    return FitOptions.REML.from(withAll, variances);
  }

  private double boundOfModel(ErrorModel model) {
    double confidence = study.claim().confidence();
    return model.boundGrams(study.claim().content(), confidence);
  }

  private Optional<LeftOut> leftOut(Unit unit, List<CaseDeletion> deletions, double boundWithAll) {
    List<Integer> left = kept(unit);
    ErrorModel.Outcome outcome =
        ErrorModel.fit(
            List.of(
                new ModelPart(
                    left,
                    found.evidence().largest().select(left),
                    found.evidence().plan(),
                    weights())),
            found.evidence().values(),
            Optional.of((point, half, before) -> start(deletions.get(point), unit, point)));
    if (!(outcome instanceof ErrorModel.Outcome.Fitted fitted)) {
      return Optional.empty();
    }
    double guards = found.evidence().guards().totalGrams();
    double model = boundOfModel(fitted.model());
    double tested = largestWithout(unit.curves());
    double bound = Math.max(model, tested);
    return Optional.of(
        new LeftOut(
            unit.kind(),
            unit.serial(),
            bound + guards,
            bound - boundWithAll,
            model + guards,
            tested + guards));
  }
}
