package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.claim.Explanation.Quantity;
import lotproof.claim.Explanation.Rule;
import lotproof.claim.Explanation.What;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.SideAllowance;
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

  Explanation tree(double printable, double limit, double model, Optional<Explanation> tested) {
    List<Explanation> bounds = new ArrayList<>(List.of(model(model)));
    tested.ifPresent(bounds::add);
    List<Explanation> addends = new ArrayList<>();
    addends.add(
        of(
            Quantity.BOUND_FOR_ANY,
            Math.max(model, tested.map(Explanation::value).orElse(0.0)),
            Rule.LARGEST,
            bounds));
    guards
        .grams()
        .forEach((kind, grams) -> addends.add(Explanation.given(new What.GuardBand(kind), grams)));
    guards.sides().forEach(side -> addends.add(side(side)));
    return of(
        Quantity.PRINTABLE_FIGURE,
        printable,
        Rule.ROUNDED_OUTWARD,
        List.of(
            of(Quantity.LIMIT, limit, Rule.SUM, addends),
            Explanation.given(Quantity.ROUNDING_STEP, study.claim().roundingGrams())));
  }

  private static Explanation of(
      Quantity quantity, double value, Rule rule, List<Explanation> parts) {
    return Explanation.of(new What.Of(quantity), value, rule, parts);
  }

  private static Explanation side(SideAllowance side) {
    return Explanation.of(
        new What.SideTestAllowance(side.test().effect(), side.runs()),
        side.grams(),
        Rule.LARGEST,
        List.of(
            Explanation.given(Quantity.SIDE_TEST_MODEL, side.modelGrams()),
            Explanation.given(Quantity.SIDE_TEST_LARGEST, side.largestGrams())));
  }

  private Explanation model(double model) {
    List<Explanation> ingredients = new ArrayList<>();
    ingredients.add(Explanation.given(Quantity.MEAN_ERROR, worst.meanGrams()));
    for (LevelOutcome.Contribution source : worst.contributions()) {
      ingredients.add(
          Explanation.given(new What.Spread(source.title()), source.standardDeviationGrams()));
    }
    Explanation atWorst =
        Explanation.of(
            new What.LimitAtLoad(worst.loadKilograms(), worst.direction()),
            worst.figureGrams(),
            Rule.MODEL,
            ingredients);
    return of(
        Quantity.BOUND_BY_MODEL,
        model,
        Rule.LARGEST,
        List.of(atWorst, of(Quantity.BOUND_OVER_ALL_LOADS, curveGrams, Rule.MODEL, List.of())));
  }

  /** The largest error over the tested kits, from the reading that shows it. */
  Explanation testedKits(ErrorCurve curve, LoadRun run, int index) {
    Explanation error = errorOfReading(curve, run, index);
    double weight = study.claim().form().weight(curve.points().get(index).loadKilograms());
    What largest = new What.LargestTested(curve.pair());
    double size = Math.abs(error.value());
    return weight == 1
        ? Explanation.of(largest, size, Rule.SIZE, List.of(error))
        : Explanation.of(
            largest,
            size / weight,
            Rule.SHARE,
            List.of(error, Explanation.given(Quantity.FORM_WEIGHT, weight)));
  }

  private Explanation errorOfReading(ErrorCurve curve, LoadRun run, int index) {
    List<Reading> readings = run.readings();
    Reading at = readings.get(index);
    List<Explanation> parts = new ArrayList<>();
    parts.add(output(Quantity.OUTPUT_WITHOUT_LOAD, readings.get(0)));
    parts.add(output(Quantity.OUTPUT_AT_LOAD, at));
    parts.add(Explanation.read(Quantity.APPLIED_LOAD, at.loadKilograms(), at.source()));
    if (level.pointsKilograms().isEmpty()) {
      parts.add(
          Explanation.given(Quantity.FACTORY_FACTOR, study.kit().defaultFactorCountsPerKilogram()));
    }
    boolean ownCalibration = guards.changeKelvin().isEmpty();
    for (double mass : ownCalibration ? level.pointsKilograms() : List.<Double>of()) {
      Reading rising = readings.get(run.rising(mass).orElseThrow());
      parts.add(
          Explanation.read(Quantity.CALIBRATION_MASS, rising.loadKilograms(), rising.source()));
      parts.add(output(Quantity.OUTPUT_AT_CALIBRATION_MASS, rising));
    }
    ErrorCurve.Point point = curve.points().get(index);
    // with a correction, and with the calibration of another run, these readings are not all
    boolean whole = guards.of(GuardBands.Kind.TEMPERATURE_CORRECTION) == 0;
    return Explanation.of(
        new What.ErrorOfReading(
            curve.pair(), curve.run(), point.loadKilograms(), point.direction()),
        point.errorGrams(),
        whole ? Rule.ERROR_OF_READING : Rule.MODEL,
        parts);
  }

  private static Explanation output(Quantity quantity, Reading reading) {
    return Explanation.read(quantity, reading.outputCounts(), reading.source());
  }
}
