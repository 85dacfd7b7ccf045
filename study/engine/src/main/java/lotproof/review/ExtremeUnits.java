package lotproof.review;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.BestLinearPredictors;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.outliers.GeneralizedEsd;
import lotproof.statistics.outliers.ModifiedZ;
import lotproof.study.Characteristic;
import lotproof.study.Decision;
import lotproof.study.Study;

/**
 * Lists cells, boards and runs that stand out, characteristic by characteristic.
 *
 * <p>Cells and boards are judged by their predicted effects from the crossed model, which parts the
 * cell from its boards and the board from its cells; runs by what the cell and board effects leave
 * over. Each set goes through the generalized extreme Studentized deviate test (Rosner 1983), which
 * finds several outliers without one hiding another. A unit that stands out is not an error:
 * without a cause it stays in.
 */
public final class ExtremeUnits {
  private static final double LEVEL = 0.05;
  private static final int FEWEST_TO_COMPARE = 8;
  private static final int MOST_OUTLIERS = 10;

  private final Study study;

  public ExtremeUnits(Study study) {
    this.study = study;
  }

  /**
   * Everything that stands out, the most extreme first.
   *
   * @param recorded runs as recorded, no decision applied
   * @param decisions decisions in force, attached to what they are about
   */
  public List<Finding> of(List<ReducedRun> recorded, List<Decision> decisions) {
    List<Finding> findings = new ArrayList<>();
    StudySpread spread = new StudySpread(study);
    for (Characteristic characteristic : Characteristic.values()) {
      if (characteristic != Characteristic.FACTOR) { // the same slope as sensitivity, other unit
        findings.addAll(of(characteristic, spread, recorded, decisions));
      }
    }
    findings.sort(Comparator.comparingDouble((Finding f) -> -f.test().excess()));
    return List.copyOf(findings);
  }

  private List<Finding> of(
      Characteristic characteristic,
      StudySpread spread,
      List<ReducedRun> recorded,
      List<Decision> decisions) {
    List<ReducedRun> runs =
        recorded.stream().filter(run -> run.value(characteristic).isPresent()).toList();
    MeasuredValues values = spread.values(characteristic, runs);
    if (values.values().size() < FEWEST_TO_COMPARE) {
      return List.of();
    }
    FactorPlan plan = FactorPlan.of(values).withoutPairing();
    if (!(plan.fit(values) instanceof ComponentsFit fit)) {
      return List.of();
    }
    List<FactorEffects> predicted = BestLinearPredictors.predict(fit);
    double[] residuals = BestLinearPredictors.residuals(fit).values();
    CrossedEvidence crossed = new CrossedEvidence(runs, values, fit.mean(), predicted, residuals);
    Search search =
        new Search(
            characteristic, runs, values, decisions, crossed, fit.mean(), ideal(characteristic));
    List<Finding> findings = new ArrayList<>();
    for (FactorEffects effects : predicted) {
      if (effects.factor().equals(Role.CELL.key())) {
        findings.addAll(search.units(Decision.Target.CELL, Role.CELL, effects.effects()));
      } else if (effects.factor().equals(Role.BOARD.key())) {
        findings.addAll(search.units(Decision.Target.BOARD, Role.BOARD, effects.effects()));
      }
    }
    findings.addAll(search.runs(residuals));
    return findings;
  }

  /** The value that a buyer would like best. */
  private double ideal(Characteristic characteristic) {
    return characteristic == Characteristic.SENSITIVITY
        ? study.kit().defaultFactorCountsPerKilogram()
            * study.kit().capacityKilograms()
            / study.kit().countsPerMillivoltPerVolt()
        : 0;
  }

  /** Looks through the effects of one characteristic. */
  private record Search(
      Characteristic characteristic,
      List<ReducedRun> runs,
      MeasuredValues values,
      List<Decision> decisions,
      CrossedEvidence crossed,
      double mean,
      double ideal) {

    List<Finding> units(Decision.Target target, Role role, double[] effects) {
      List<String> labels = values.labelsOf(role).orElseThrow();
      List<String> serials = labels.stream().distinct().toList();
      return outliers(effects).stream()
          .map(
              outlier -> {
                String serial = serials.get(outlier.index());
                List<Integer> rows =
                    IntStream.range(0, labels.size())
                        .filter(i -> labels.get(i).equals(serial))
                        .boxed()
                        .toList();
                Optional<Decision> decision =
                    decisions.stream()
                        .filter(d -> d.target() == target && d.serial().equals(serial))
                        .findFirst();
                return finding(target, serial, outlier, rows, decision);
              })
          .toList();
    }

    List<Finding> runs(double[] residuals) {
      return outliers(residuals).stream()
          .map(
              outlier -> {
                LoadRun run = runs.get(outlier.index()).run();
                Optional<Decision> decision =
                    decisions.stream().filter(d -> DecidedRuns.concerns(d, run)).findFirst();
                return finding(
                    Decision.Target.RUN, run.name(), outlier, List.of(outlier.index()), decision);
              })
          .toList();
    }

    private Finding finding(
        Decision.Target target,
        String serial,
        Outlier outlier,
        List<Integer> rows,
        Optional<Decision> decision) {
      boolean favourable = Math.abs(mean + outlier.effect() - ideal) < Math.abs(mean - ideal);
      return new Finding(
          target,
          serial,
          characteristic,
          outlier.effect(),
          outlier.modifiedZ(),
          outlier.test(),
          favourable,
          crossed.values(rows),
          crossed.values(crossed.partnersOf(target, rows)),
          target == Decision.Target.RUN
              ? crossed.ofRun(rows.get(0))
              : crossed.ofUnit(target, rows, outlier.effect()),
          crossed.signs(rows),
          decision);
    }

    /** One outlying value among many. */
    private record Outlier(
        int index, double effect, OptionalDouble modifiedZ, Finding.OutlierTest test) {}

    private static OptionalDouble score(ModifiedZ modified, int index) {
      return modified instanceof ModifiedZ.Scores known
          ? OptionalDouble.of(known.scores().get(index))
          : OptionalDouble.empty();
    }

    private static List<Outlier> outliers(double[] effects) {
      boolean flat = java.util.Arrays.stream(effects).distinct().count() < 3;
      if (effects.length < FEWEST_TO_COMPARE || flat) {
        return List.of();
      }
      int most = Math.min(MOST_OUTLIERS, effects.length / 4);
      ModifiedZ modified = ModifiedZ.of(effects);
      return GeneralizedEsd.test(effects, most, LEVEL).extremes().stream()
          .map(
              step ->
                  new Outlier(
                      step.index(),
                      effects[step.index()],
                      score(modified, step.index()),
                      new Finding.OutlierTest(
                          step.statistic(), step.criticalValue(), effects.length)))
          .toList();
    }
  }
}
