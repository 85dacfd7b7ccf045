package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import lotproof.statistics.components.ComponentsFit.FixedEffect;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.components.Observations.FixedColumn;
import org.junit.jupiter.api.Test;

/** Known influences beside the mean. */
class FixedColumnsTest {
  /**
   * Probe 2362 with a level for each wafer. lme4 1.1.31: lmer(avg ~ 0 + wafer + (1 | run:wafer)),
   * run:wafer variance 0.000167911699999831 (exact), residual sd 0.0361682406724, REMLcrit
   * -193.7900222483. A mean and four wafer columns span the same space with determinant 1, so the
   * criterion is the same.
   */
  @Test
  void levelOfEachWafer() {
    List<NamedCsvRecord> rows =
        Studies.table("nist_mpc61.csv").stream()
            .filter(row -> row.getField("probe").equals("2362"))
            .toList();
    List<String> wafers = rows.stream().map(row -> row.getField("wafer")).distinct().toList();
    List<FixedColumn> columns = new ArrayList<>();
    for (String wafer : wafers.subList(1, wafers.size())) {
      double[] column =
          rows.stream().mapToDouble(row -> row.getField("wafer").equals(wafer) ? 1 : 0).toArray();
      columns.add(new FixedColumn("wafer " + wafer, column));
    }
    double[] values =
        rows.stream().mapToDouble(row -> Double.parseDouble(row.getField("avg"))).toArray();
    Observations observations =
        new Observations(values, List.of(Studies.factor(rows, "run:wafer")), columns);
    ComponentsFit fit = Studies.fit(observations);
    assertThat(fit.variances()[0]).isCloseTo(0.000167911699999831, within(1e-12));
    assertThat(Math.sqrt(fit.variances()[1])).isCloseTo(0.0361682406724, within(1e-10));
    assertThat(fit.minusTwoLogLikelihood()).isCloseTo(-193.7900222483, within(1e-7));
    assertThat(fit.fixedEffects()).hasSize(wafers.size() - 1);
    double first = mean(rows, wafers.get(0));
    for (FixedEffect effect : fit.fixedEffects()) {
      double other = mean(rows, effect.name().substring("wafer ".length()));
      assertThat(effect.estimate()).isCloseTo(other - first, within(1e-9));
    }
  }

  private static double mean(List<NamedCsvRecord> rows, String wafer) {
    return rows.stream()
        .filter(row -> row.getField("wafer").equals(wafer))
        .mapToDouble(row -> Double.parseDouble(row.getField("avg")))
        .average()
        .orElseThrow();
  }

  @Test
  void columnWithoutInfluenceOnUnitsShiftsNothing() {
    Observations plain = Studies.read("lme4_dyestuff.csv", "Yield", "Batch");
    double[] values = plain.values();
    double[] within = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      within[i] = i % 5;
      values[i] += 7 * within[i];
    }
    List<FixedColumn> column = List.of(new FixedColumn("order", within));
    ComponentsFit moved = Studies.fit(new Observations(values, plain.factors(), column));
    ComponentsFit still = Studies.fit(new Observations(plain.values(), plain.factors(), column));
    assertThat(moved.fixedEffects().get(0).estimate() - 7)
        .isCloseTo(still.fixedEffects().get(0).estimate(), within(1e-9));
    assertThat(moved.variances()[0]).isCloseTo(still.variances()[0], within(1e-6));
    assertThat(moved.mean() - still.mean()).isCloseTo(14, within(1e-8));
  }

  /** An unbalanced crossed study with a covariate and three days, from the file. */
  private static ComponentsFit crossedWithDays() {
    Observations plain = Studies.read("crossed_small.csv", "y", "cell;board");
    int n = plain.size();
    double[] x = new double[n];
    double[][] day = new double[2][n];
    for (int i = 0; i < n; i++) {
      x[i] = (i + 1) * 7 % 11;
      if (i >= 12) {
        day[i / 12 - 1][i] = 1;
      }
    }
    List<FixedColumn> columns =
        List.of(
            new FixedColumn("x", x),
            new FixedColumn("day 1", day[0]),
            new FixedColumn("day 2", day[1]));
    return Studies.fit(new Observations(plain.values(), plain.factors(), columns));
  }

  @Test
  void covariateAndBlocksOfAnUnbalancedStudy() {
    Oracle oracle = Oracle.load("fixed-effects");
    ComponentsFit fit = crossedWithDays();
    for (int k = 0; k < 3; k++) {
      oracle.check("crossed", "sd " + fit.components().get(k), Math.sqrt(fit.variances()[k]));
    }
    oracle.check("crossed", "criterion", fit.minusTwoLogLikelihood());
    oracle.check("crossed", "mean", fit.mean());
    for (int c = 0; c < 3; c++) {
      FixedEffect effect = fit.fixedEffects().get(c);
      oracle.check("crossed", effect.name(), effect.estimate());
      oracle.check("crossed", effect.name() + " se", effect.standardError());
      oracle.check(
          "crossed", effect.name() + " df", FixedEffectIntervals.degreesOfFreedom(fit).get(c));
    }
    oracle.assertAllUsed();
  }

  /** Balanced: the column varies within batches, so 30 - 6 - 1 degrees of freedom are exact. */
  @Test
  void degreesOfFreedomOfABalancedColumnAreExact() {
    Observations plain = Studies.read("lme4_dyestuff.csv", "Yield", "Batch");
    double[] order = new double[plain.size()];
    for (int i = 0; i < order.length; i++) {
      order[i] = i % 5;
    }
    ComponentsFit fit =
        Studies.fit(
            new Observations(
                plain.values(), plain.factors(), List.of(new FixedColumn("order", order))));
    FixedEffectIntervals.Estimate e = FixedEffectIntervals.of(fit, 0.9).get(0);
    assertThat(e.degreesOfFreedom()).isCloseTo(23, within(1e-5));
    double half = DistributionQuantiles.student(23, 0.95) * e.effect().standardError();
    Interval interval = e.interval();
    assertThat(interval.upper() - e.effect().estimate()).isCloseTo(half, within(1e-6 * half));
    assertThat(interval.lower() + interval.upper())
        .isCloseTo(2 * e.effect().estimate(), within(1e-9));
  }

  @Test
  void columnsThatRepeatEachOtherAreRefused() {
    Observations plain = Studies.read("lme4_dyestuff.csv", "Yield", "Batch");
    double[] order = new double[plain.size()];
    for (int i = 0; i < order.length; i++) {
      order[i] = i % 5;
    }
    double[] twice = java.util.Arrays.stream(order).map(v -> 3 - 2 * v).toArray();
    FitOutcome outcome =
        ComponentsFitter.fit(
            new Observations(
                plain.values(),
                plain.factors(),
                List.of(new FixedColumn("order", order), new FixedColumn("twice", twice))),
            FitOptions.REML);
    assertThat(outcome).isInstanceOf(NotEstimable.class);
  }
}
