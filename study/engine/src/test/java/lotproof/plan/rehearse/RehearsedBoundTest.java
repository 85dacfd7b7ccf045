package lotproof.plan.rehearse;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.plan.Draws;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Invented;
import lotproof.plan.design.Layout;
import lotproof.plan.rehearse.AssumedCurves.Source;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.Observations;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The bound of a rehearsal beside the one that the analysis forms from the same simulated runs: a
 * fit from several starts at every load.
 */
class RehearsedBoundTest {
  private static final double[] LOADS = {5, 20, 35, 50, 35, 20, 5};
  private static final PlannedClaim QUESTION =
      new PlannedClaim(0.95, 0.95, 0, 1e-6, OptionalDouble.empty());

  /** Errors in proportion to the load, with a little bow, hysteresis and noise of their own. */
  private static AssumedCurves uncalibrated() {
    return curves(200, 90, 0.25, 3, 6);
  }

  /** After a calibration: bow and hysteresis are all there is, and noise. */
  private static AssumedCurves calibrated() {
    return curves(0, 0, 0.2, 6, 0.8);
  }

  private static AssumedCurves curves(
      double cellGain, double boardGain, double lotShare, double bow, double noise) {
    int points = LOADS.length;
    double[] means = new double[points];
    Map<Source, double[][]> covariances = new EnumMap<>(Source.class);
    for (Source source : Source.values()) {
      covariances.put(source, new double[points][points]);
    }
    for (int x = 0; x < points; x++) {
      double load = LOADS[x] / 50;
      means[x] = cellGain / 10 * load - 2 * bow * load * (load - 0.4);
      for (int y = 0; y < points; y++) {
        double other = LOADS[y] / 50;
        double gain = load * other;
        double curved = bow * bow * load * (load - 0.4) * other * (other - 0.4) * 16;
        boolean bothFall = x > 3 && y > 3;
        double hysteresis = bothFall ? bow * bow * (1 - load) * (1 - other) * 6 : 0;
        double ofCells = cellGain * cellGain * gain + curved + hysteresis;
        double ofBoards = boardGain * boardGain * gain;
        covariances.get(Source.CELL)[x][y] = (1 - lotShare) * ofCells;
        covariances.get(Source.CELL_LOT)[x][y] = lotShare * ofCells;
        covariances.get(Source.BOARD)[x][y] = (1 - lotShare) * ofBoards;
        covariances.get(Source.BOARD_LOT)[x][y] = lotShare * ofBoards;
        covariances.get(Source.REPEAT)[x][y] = x == y ? noise * noise : 0;
      }
    }
    return new AssumedCurves("invented", means, covariances);
  }

  /** Rehearsed bounds as multiples of those of the analysis, ascending. */
  private static double[] ratios(Layout layout, AssumedCurves curves, int studies, long seed) {
    SimulatedErrors errors = new SimulatedErrors(layout, Optional.empty(), curves);
    RehearsedDesign design =
        ((RehearsedDesign.Outcome.Ready)
                RehearsedDesign.of(layout, Optional.empty(), curves, QUESTION.content()))
            .design();
    LayoutModel model = new LayoutModel(layout, curves.at(curves.widest(QUESTION.content())), true);
    double[] ratios = new double[studies];
    for (int i = 0; i < studies; i++) {
      double[][] byPoint = errors.draw(Draws.of(seed, i)).byPoint();
      ratios[i] = design.bound(byPoint, QUESTION) / analysed(model, byPoint);
    }
    Arrays.sort(ratios);
    return ratios;
  }

  private static double analysed(LayoutModel model, double[][] byPoint) {
    List<ComponentsFit> fits = new ArrayList<>();
    double bound = 0;
    for (double[] values : byPoint) {
      ComponentsFit last = fits.isEmpty() ? null : fits.get(fits.size() - 1);
      fits.add(
          (ComponentsFit)
              (last == null
                  ? ComponentsFitter.fit(new Observations(values, model.factors()), FitOptions.REML)
                  : ComponentsFitter.fit(
                      last.observations().withValues(values), FitOptions.REML.near(last))));
      FutureUnitLimits limits =
          FutureUnitLimits.ofSum(
              List.of(new FutureUnitLimits.Part(fits.get(fits.size() - 1), ComponentWeights.ALL)),
              0,
              QUESTION.content(),
              QUESTION.confidence());
      bound = Math.max(bound, limits.symmetricHalfWidth());
      bound = Math.max(bound, Arrays.stream(values).map(Math::abs).max().orElseThrow());
    }
    double[][] curves = new double[byPoint[0].length][byPoint.length];
    for (int x = 0; x < byPoint.length; x++) {
      for (int run = 0; run < curves.length; run++) {
        curves[run][x] = byPoint[x][run];
      }
    }
    CurveComponents together =
        (CurveComponents)
            CurveComponents.ofFits(curves, fits, ComponentWeights.ALL, QUESTION.confidence());
    return Math.max(bound, together.future(true).bound(QUESTION.content()));
  }

  private static double quantile(double[] ascending, double fraction) {
    return ascending[(int) Math.round(fraction * (ascending.length - 1))];
  }

  private static void near(String name, Layout layout, AssumedCurves curves, int studies) {
    double[] ratios = ratios(layout, curves, studies, 4711);
    String seen =
        String.format(
            Locale.ROOT,
            "%s, seed 4711: rehearsed / analysed, 5 %% %.4f, median %.4f, 95 %% %.4f, mean %.4f",
            name,
            quantile(ratios, 0.05),
            quantile(ratios, 0.5),
            quantile(ratios, 0.95),
            Arrays.stream(ratios).average().orElseThrow());
    assertThat(quantile(ratios, 0.5)).as(seen).isBetween(0.99, 1.01);
    assertThat(quantile(ratios, 0.05)).as(seen).isGreaterThan(0.97);
    assertThat(quantile(ratios, 0.95)).as(seen).isLessThan(1.03);
  }

  @Test
  void aBoundIsNearlyThatOfTheAnalysis() {
    Layout layout = Layout.of(DesignKind.ROTATION_2, Invented.units(3, 6), 1);
    near("18 + 18 units of 3 lots", layout, calibrated(), 12);
  }

  @Test
  @Tag("slow")
  void boundsOfManyStudiesAreNearlyThoseOfTheAnalysis() {
    Layout rotation = Layout.of(DesignKind.ROTATION_2_REPEATS, Invented.units(5, 10), 1);
    near("rotation, 50 + 50 units, not calibrated", rotation, uncalibrated(), 150);
    near("rotation, 50 + 50 units, calibrated", rotation, calibrated(), 150);
    Layout pairs = Layout.of(DesignKind.DISJOINT_PAIRS, Invented.units(5, 10), 1);
    near("50 pairs, not calibrated", pairs, uncalibrated(), 150);
    near("50 pairs, calibrated", pairs, calibrated(), 150);
  }
}
