package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
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

  Explanation tree(double safest, double bound, double model, Optional<Explanation> tested) {
    List<Explanation> bounds = new ArrayList<>(List.of(model(model)));
    tested.ifPresent(bounds::add);
    Explanation kits =
        Explanation.of(
            "Bound for any " + study.claim().subject().key(),
            Math.max(model, tested.map(Explanation::value).orElse(0.0)),
            GRAMS,
            Explanation.Rule.LARGEST,
            "the larger of the model's bound and the tested " + plural(),
            bounds);
    Explanation sum =
        Explanation.of(
            "Smallest supported figure",
            bound,
            GRAMS,
            Explanation.Rule.SUM,
            "the bound plus the guard bands",
            addends(kits));
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

  private List<Explanation> addends(Explanation kits) {
    List<Explanation> addends = new ArrayList<>();
    addends.add(kits);
    addends.add(
        Explanation.given(
            "Guard band for the bench masses",
            guards.benchGrams(),
            GRAMS,
            "OIML R 111-1 limit of class "
                + study.conditions().benchMassClass().word()
                + " at the worst load"));
    addends.add(
        Explanation.given(
            "Guard band for the buyer's masses",
            guards.buyerGrams(),
            GRAMS,
            "OIML R 111-1 limit of the calibration masses, carried to the worst load"));
    guards
        .betweenGrams()
        .ifPresent(
            grams ->
                addends.add(
                    Explanation.given(
                        "Guard band for loads between the tested ones",
                        grams,
                        GRAMS,
                        "step^2/8 times the largest bend of a tested curve")));
    if (guards.temperatureGrams() > 0) {
      addends.add(
          Explanation.given(
              "Guard band for the temperature correction",
              guards.temperatureGrams(),
              GRAMS,
              "thermometer and uncertainty of the mean coefficient, at the largest load"));
    }
    if (guards.referenceGrams() > 0) {
      addends.add(
          Explanation.given(
              "Guard band for the error of the reference pair",
              guards.referenceGrams(),
              GRAMS,
              "twice the standard error of its mean at the worst load"));
    }
    if (guards.driftGrams() > 0) {
      addends.add(
          Explanation.given(
              "Allowance for a drift of the bench between lots",
              guards.driftGrams(),
              GRAMS,
              "what the runs of the check standard cannot exclude, at the worst load"));
    }
    for (SideAllowance side : guards.sides()) {
      addends.add(
          Explanation.of(
              "Allowance for " + side.test().effect().title().toLowerCase(Locale.ROOT),
              side.grams(),
              GRAMS,
              Explanation.Rule.LARGEST,
              "the larger of the model's bound and the tested "
                  + plural()
                  + ", from "
                  + side.runs()
                  + " runs of the side test",
              List.of(
                  Explanation.given(
                      "Bound by the model",
                      side.modelGrams(),
                      GRAMS,
                      "limit about zero for a future "
                          + study.claim().subject().key()
                          + " over all steps of the side test"),
                  Explanation.given(
                      "Largest effect over the tested " + plural(),
                      side.largestGrams(),
                      GRAMS,
                      "readings of the side test"))));
    }
    return addends;
  }

  private String plural() {
    return study.claim().subject().plural();
  }

  private Explanation model(double model) {
    List<Explanation> ingredients = new ArrayList<>();
    ingredients.add(
        Explanation.given(
            "Mean error", worst.meanGrams(), GRAMS, "estimated mean of all " + plural()));
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
            worst.figureGrams(),
            GRAMS,
            Explanation.Rule.MODEL,
            "limit about zero for a future "
                + study.claim().subject().key()
                + " from mean and components",
            ingredients);
    Explanation curves =
        Explanation.of(
            "Bound over all loads together",
            curveGrams,
            GRAMS,
            Explanation.Rule.MODEL,
            "what the largest error over all loads of a future "
                + study.claim().subject().key()
                + " does not exceed, from the means and covariances of the loads",
            List.of());
    return Explanation.of(
        "Bound by the model",
        model,
        GRAMS,
        Explanation.Rule.LARGEST,
        "the larger of the two",
        List.of(atWorst, curves));
  }

  /** The largest error over the tested kits, from the reading that shows it. */
  Explanation testedKits(ErrorCurve curve, LoadRun run, int index) {
    Explanation error = errorOfReading(curve, run, index);
    ErrorCurve.Point point = curve.points().get(index);
    double weight = study.claim().form().weight(point.loadKilograms());
    String found = "found on " + curve.pair();
    if (weight == 1) {
      return Explanation.of(
          "Largest error over the tested " + plural(),
          Math.abs(error.value()),
          GRAMS,
          Explanation.Rule.SIZE,
          found,
          List.of(error));
    }
    return Explanation.of(
        "Largest error over the tested " + plural() + ", as the constant part of the figure",
        Math.abs(error.value()) / weight,
        GRAMS,
        Explanation.Rule.SHARE,
        found + "; size of the error over the form's weight at the load",
        List.of(error, Explanation.given("Weight at the load", weight, "1", "form of the claim")));
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
    boolean ownCalibration = guards.changeKelvin().isEmpty();
    for (double mass : ownCalibration ? level.pointsKilograms() : List.<Double>of()) {
      Reading rising = readings.get(run.rising(mass).orElseThrow());
      parts.add(
          Explanation.read("Calibration mass", rising.loadKilograms(), "kg", rising.source()));
      parts.add(output("Output at the calibration mass", rising));
    }
    ErrorCurve.Point point = curve.points().get(index);
    // with a correction, and with the calibration of another run, these readings are not all
    boolean whole = guards.temperatureGrams() == 0;
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
        whole ? Explanation.Rule.ERROR_OF_READING : Explanation.Rule.MODEL,
        "indication "
            + level.description()
            + (whole ? "" : ", corrected for temperature")
            + ", minus the applied load",
        parts);
  }

  private static Explanation output(String label, Reading reading) {
    return Explanation.read(label, reading.outputCounts(), "counts", reading.source());
  }
}
