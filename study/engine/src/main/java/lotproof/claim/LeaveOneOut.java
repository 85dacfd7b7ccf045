package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail.LeftOut;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.Deletion;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.work.SideBySide;

/**
 * How much a figure hangs on single units. Every unit is left out once at the worst load to first
 * order ({@link Deletion}) and among the tested kits; those that move either most are left out of
 * the fit at the worst load, and the first of these of the whole model.
 */
final class LeaveOneOut {
  /** How many units are left out of the fit at the worst load. */
  private static final int FITTED_ONCE = 10;

  /** How many units are left out of the whole model. */
  private static final int LOOKED_AT = 5;

  /** Fewest draws that the model allows: only differences are wanted. */
  private static final int DRAWS = 20_000;

  private final Study study;
  private final FigureCalculator.Computed.Found found;

  LeaveOneOut(Study study, FigureCalculator.Computed.Found found) {
    this.study = study;
    this.found = found;
  }

  /** A unit and the curves that stay without it. */
  private record Unit(UnitKind kind, String serial, List<Integer> kept) {}

  /** A unit and by how much a first look says that the figure moves without it. */
  private record Candidate(Unit unit, double changeGrams) {}

  /** The most influential units; none where kits were put together from halves. */
  List<LeftOut> mostInfluential() {
    if (found.model().isSum()) {
      return List.of();
    }
    double tested = largestOf(all());
    int point = found.outcome().worstPoint();
    Deletion deletion = found.model().deletion(point);
    List<Unit> shortList =
        most(
            units().stream()
                .map(unit -> candidate(unit, boundAfter(deletion, unit, point)))
                .toList(),
            FITTED_ONCE);
    List<Unit> looked =
        most(
            SideBySide.map(shortList, unit -> candidate(unit, boundWithout(deletion, unit, point))),
            LOOKED_AT);
    List<Deletion> deletions =
        IntStream.range(0, found.outcome().points().size())
            .mapToObj(found.model()::deletion)
            .toList();
    double base = boundOfModel(found.model());
    double bound = Math.max(base, tested);
    return SideBySide.map(looked, unit -> leftOut(unit, deletions, bound)).stream()
        .flatMap(Optional::stream)
        .sorted(Comparator.comparingDouble((LeftOut l) -> Math.abs(l.changeGrams())).reversed())
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
    double tested = largestOf(all());
    double ofTested = largestOf(unit.kept()) - tested;
    double ofModel = boundOfModel.orElse(worst) - worst;
    double before = Math.max(worst, tested);
    double change = Math.max(worst + ofModel, tested + ofTested) - before;
    // a change below the other bound moves nothing; it only breaks ties
    double tie = 1e-6 * (Math.abs(ofTested) + Math.abs(ofModel));
    return new Candidate(unit, Math.abs(change) + tie);
  }

  private List<Integer> all() {
    return IntStream.range(0, found.evidence().largest().values().size()).boxed().toList();
  }

  private List<Unit> units() {
    List<Unit> units = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      Role role = kind == UnitKind.CELL ? Role.CELL : Role.BOARD;
      List<String> serials = found.evidence().largest().labelsOf(role).orElse(List.of());
      List<String> distinct = serials.stream().distinct().toList();
      if (distinct.size() < 3) {
        continue;
      }
      for (String serial : distinct) {
        List<Integer> kept = all().stream().filter(i -> !serials.get(i).equals(serial)).toList();
        units.add(new Unit(kind, serial, kept));
      }
    }
    return units;
  }

  private ComponentWeights weights() {
    return found.evidence().parts().get(0).weights();
  }

  private boolean hasTested() {
    return found.evidence().hasTested(study.claim().subject());
  }

  private double largestOf(List<Integer> kept) {
    List<Double> largest = found.evidence().largest().values();
    return hasTested() ? kept.stream().mapToDouble(largest::get).max().orElse(0) : 0;
  }

  private Optional<Double> boundAfter(Deletion deletion, Unit unit, int point) {
    return Optional.of(
        found
            .model()
            .boundAfter(
                deletion.keeping(unit.kept()),
                point,
                study.claim().content(),
                study.claim().confidence()));
  }

  private Optional<Double> boundWithout(Deletion deletion, Unit unit, int worst) {
    MeasuredValues kept = only(found.evidence().largest(), unit.kept());
    JudgedCurves judged = found.model().judged().only(unit.kept());
    if (ErrorModel.fit(
            kept.withValues(judged.at(worst)),
            found.evidence().plan(),
            Optional.of(start(deletion, unit, worst)))
        instanceof ComponentsFit fit) {
      FutureUnitLimits limits =
          FutureUnitLimits.ofSum(
              List.of(
                  new FutureUnitLimits.Part(fit, found.evidence().plan().finestFirst(), weights())),
              0,
              study.claim().content(),
              study.claim().confidence());
      return Optional.of(
          judged.twoSided() ? limits.symmetricHalfWidth() : Math.max(0, limits.upper()));
    }
    return Optional.empty();
  }

  /** Variances with all units and the step that leaving one out takes from there. */
  private double[] start(Deletion deletion, Unit unit, int point) {
    double[] variances = found.model().variances(point, 0);
    double[] change = deletion.keeping(unit.kept()).variances();
    for (int k = 0; k < variances.length; k++) {
      variances[k] += change[k];
    }
    return variances;
  }

  private double boundOfModel(ErrorModel model) {
    double confidence = study.claim().confidence();
    return model.boundGrams(study.claim().content(), confidence);
  }

  private Optional<LeftOut> leftOut(Unit unit, List<Deletion> deletions, double boundWithAll) {
    ErrorModel.Outcome outcome =
        ErrorModel.fit(
            List.of(
                new ModelPart(
                    found.model().judged().only(unit.kept()),
                    only(found.evidence().largest(), unit.kept()),
                    found.evidence().plan(),
                    weights())),
            found.evidence().shifts(),
            new ErrorModel.Settings(study.claim().confidence(), DRAWS, study.seed()),
            Optional.of((point, half) -> start(deletions.get(point), unit, point)));
    if (!(outcome instanceof ErrorModel.Outcome.Fitted fitted)) {
      return Optional.empty();
    }
    double guards = found.evidence().guards().totalGrams();
    double model = boundOfModel(fitted.model());
    double tested = largestOf(unit.kept());
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

  /** Some of the values with their labels. */
  private static MeasuredValues only(MeasuredValues values, List<Integer> kept) {
    Map<Role, List<String>> labels = new EnumMap<>(Role.class);
    values.labels().forEach((role, all) -> labels.put(role, kept.stream().map(all::get).toList()));
    return new MeasuredValues(
        values.key(),
        values.title(),
        values.unit(),
        kept.stream().map(values.values()::get).toList(),
        labels);
  }
}
