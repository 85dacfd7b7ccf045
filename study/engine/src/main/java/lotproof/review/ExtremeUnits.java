package lotproof.review;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.outliers.GeneralizedEsd;
import lotproof.statistics.outliers.ModifiedZ;
import lotproof.study.Characteristic;
import lotproof.study.Decision;
import lotproof.study.Decision.Target;
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
  private final List<Decision> decisions;

  /** Takes decisions in force, to be attached to what they are about. */
  public ExtremeUnits(Study study, List<Decision> decisions) {
    this.study = study;
    this.decisions = decisions;
  }

  /** Everything in runs as recorded that stands out, the most extreme first. */
  public List<Finding> of(List<ReducedRun> recorded) {
    return Stream.of(Characteristic.values())
        .filter(c -> c != Characteristic.FACTOR) // the same slope as sensitivity, other unit
        .flatMap(characteristic -> of(characteristic, recorded).stream())
        .sorted(Comparator.comparingDouble(f -> -f.test().excess()))
        .toList();
  }

  private List<Finding> of(Characteristic characteristic, List<ReducedRun> recorded) {
    List<ReducedRun> runs =
        recorded.stream().filter(run -> run.value(characteristic).isPresent()).toList();
    MeasuredValues values = new StudySpread(study).values(characteristic, runs);
    if (runs.size() < FEWEST_TO_COMPARE
        || !(FactorPlan.of(values).withoutPairing().fit(values) instanceof ComponentsFit fit)) {
      return List.of();
    }
    CrossedEvidence crossed = new CrossedEvidence(runs, values, fit);
    Set<String> names = new LinkedHashSet<>();
    runs.forEach(run -> names.add(run.run().name()));
    List<Finding> findings = new ArrayList<>();
    for (Target target : Target.values()) {
      double[] effects =
          target == Target.RUN
              ? crossed.residuals()
              : crossed.effects(target).values().stream().mapToDouble(e -> e).toArray();
      List<String> serials =
          List.copyOf(target == Target.RUN ? names : crossed.effects(target).keySet());
      boolean flat = Arrays.stream(effects).distinct().count() < 3;
      if (effects.length < FEWEST_TO_COMPARE || flat) {
        continue;
      }
      Optional<ModifiedZ> modified = ModifiedZ.of(effects);
      int most = Math.min(MOST_OUTLIERS, effects.length / 4);
      for (GeneralizedEsd.Step step : GeneralizedEsd.test(effects, most, LEVEL).extremes()) {
        int i = step.index();
        findings.add(
            finding(
                target,
                serials.get(i),
                characteristic,
                new Outlier(
                    effects[i],
                    modified.stream().mapToDouble(z -> z.scores().get(i)).findFirst(),
                    new Finding.OutlierTest(
                        step.statistic(), step.criticalValue(), effects.length)),
                crossed,
                fit.mean()));
      }
    }
    return findings;
  }

  /** One outlying value among many. */
  private record Outlier(double effect, OptionalDouble modifiedZ, Finding.OutlierTest test) {}

  private Finding finding(
      Target target,
      String serial,
      Characteristic characteristic,
      Outlier outlier,
      CrossedEvidence crossed,
      double mean) {
    List<Integer> rows = crossed.rowsOf(target, serial);
    double nominal = nominal(characteristic);
    return new Finding(
        target,
        serial,
        characteristic,
        outlier.effect(),
        outlier.modifiedZ(),
        outlier.test(),
        Math.abs(mean + outlier.effect() - nominal) < Math.abs(mean - nominal),
        crossed.values(rows),
        crossed.values(crossed.partnersOf(target, rows)),
        target == Target.RUN
            ? crossed.ofRun(rows.get(0))
            : crossed.ofUnit(target, rows, outlier.effect()),
        crossed.signs(rows),
        decisions.stream().filter(d -> isAbout(d, target, serial, crossed, rows)).findFirst());
  }

  /** Nominal value, which a buyer would like best. */
  private double nominal(Characteristic characteristic) {
    return characteristic == Characteristic.SENSITIVITY
        ? study.kit().defaultFactorCountsPerKilogram()
            * study.kit().capacityKilograms()
            / study.kit().countsPerMillivoltPerVolt()
        : 0;
  }

  /** Whether a decision is about a unit, or about a run or one of its units. */
  private static boolean isAbout(
      Decision decision,
      Target target,
      String serial,
      CrossedEvidence crossed,
      List<Integer> rows) {
    return target == Target.RUN
        ? DecidedRuns.concerns(decision, crossed.run(rows.get(0)))
        : decision.target() == target && decision.serial().equals(serial);
  }
}
