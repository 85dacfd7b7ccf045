package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Builds the explanation of a figure: what it is the largest or the sum of, down to readings with
 * file and row.
 */
final class FigureExplanation {
  private static final String GRAMS = "g";

  private final Study study;
  private final CalibrationLevel level;
  private final GuardBands guards;
  private final double curveGrams;
  private final LevelOutcome.PointLimit worst;

  FigureExplanation(
      Study study,
      CalibrationLevel level,
      GuardBands guards,
      double curveGrams,
      LevelOutcome.PointLimit worst) {
    this.study = study;
    this.level = level;
    this.guards = guards;
    this.curveGrams = curveGrams;
    this.worst = worst;
  }

  Explanation tree(double safest, double bound, double model, ErrorCurve worstKit, LoadRun run) {
    Explanation tested = testedKits(worstKit, run);
    Explanation kits =
        Explanation.of(
            "Bound for any kit",
            Math.max(model, tested.value()),
            GRAMS,
            Explanation.Rule.LARGEST,
            "the larger of the model's bound and the tested kits",
            List.of(model(model), tested));
    Explanation sum =
        Explanation.of(
            "Smallest supported figure",
            bound,
            GRAMS,
            Explanation.Rule.SUM,
            "the bound for any kit plus the guard bands for masses",
            List.of(
                kits,
                Explanation.given(
                    "Guard band for the bench masses",
                    guards.benchGrams(),
                    GRAMS,
                    "OIML R 111-1 limit of class "
                        + study.conditions().benchMassClass().word()
                        + " at the largest load"),
                Explanation.given(
                    "Guard band for the buyer's masses",
                    guards.buyerGrams(),
                    GRAMS,
                    "OIML R 111-1 limit of the calibration masses, carried to the worst load")));
    return Explanation.of(
        "Safest figure",
        safest,
        GRAMS,
        Explanation.Rule.ROUNDED_OUTWARD,
        "rounded outward to the study's step",
        List.of(
            sum,
            Explanation.given(
                "Rounding step", study.claim().roundingGrams(), GRAMS, "study.yaml, claim")));
  }

  private Explanation model(double model) {
    List<Explanation> ingredients = new ArrayList<>();
    ingredients.add(
        Explanation.given("Mean error", worst.meanGrams(), GRAMS, "estimated mean of all kits"));
    for (LevelOutcome.Contribution source : worst.contributions()) {
      ingredients.add(
          Explanation.given(
              source.title(),
              source.standardDeviationGrams(),
              GRAMS,
              "standard deviation by restricted maximum likelihood"));
    }
    Explanation atWorst =
        Explanation.of(
            "Limit at the worst load, "
                + Numbers.plain(worst.loadKilograms())
                + " kg "
                + worst.direction().word(),
            worst.withinGrams(),
            GRAMS,
            Explanation.Rule.MODEL,
            "limit about zero for a future kit from mean and components",
            ingredients);
    Explanation curves =
        Explanation.of(
            "Bound over all loads together",
            curveGrams,
            GRAMS,
            Explanation.Rule.MODEL,
            "quantile of the largest size of error over simulated future kits, seed "
                + study.seed(),
            List.of());
    return Explanation.of(
        "Bound by the model",
        model,
        GRAMS,
        Explanation.Rule.LARGEST,
        "the larger of the two",
        List.of(atWorst, curves));
  }

  private Explanation testedKits(ErrorCurve curve, LoadRun run) {
    int index = 0;
    for (int i = 0; i < curve.points().size(); i++) {
      double size = Math.abs(curve.points().get(i).errorGrams());
      index = size > Math.abs(curve.points().get(index).errorGrams()) ? i : index;
    }
    Explanation error = errorOfReading(curve, run, index);
    return Explanation.of(
        "Largest error over the tested kits",
        Math.abs(error.value()),
        GRAMS,
        Explanation.Rule.SIZE,
        "found on " + curve.pair(),
        List.of(error));
  }

  private Explanation errorOfReading(ErrorCurve curve, LoadRun run, int index) {
    List<Reading> readings = run.readings();
    Reading at = readings.get(index);
    List<Explanation> parts = new ArrayList<>();
    parts.add(output("Output without load", readings.get(0)));
    parts.add(output("Output at the load", at));
    parts.add(Explanation.read("Applied load", at.loadKilograms(), "kg", at.source()));
    if (level.pointsKilograms().isEmpty()) {
      parts.add(
          Explanation.given(
              "Factory default factor",
              study.kit().defaultFactorCountsPerKilogram(),
              "counts/kg",
              "study.yaml, kit"));
    }
    for (double mass : level.pointsKilograms()) {
      Reading rising =
          readings.stream().filter(r -> r.loadKilograms() == mass).findFirst().orElseThrow();
      parts.add(Explanation.read("Calibration mass", mass, "kg", rising.source()));
      parts.add(output("Output at the calibration mass", rising));
    }
    ErrorCurve.Point point = curve.points().get(index);
    return Explanation.of(
        "Error of reading of "
            + curve.pair()
            + " at "
            + Numbers.plain(point.loadKilograms())
            + " kg "
            + point.direction().word()
            + ", run "
            + curve.run(),
        point.errorGrams(),
        GRAMS,
        Explanation.Rule.ERROR_OF_READING,
        "indication " + level.description() + ", minus the applied load",
        parts);
  }

  private static Explanation output(String label, Reading reading) {
    return Explanation.read(label, reading.outputCounts(), "counts", reading.source());
  }
}
