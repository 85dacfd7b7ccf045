package lotproof.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import lotproof.claim.Explanation.Quantity;
import lotproof.claim.Explanation.Rule;
import lotproof.claim.Explanation.What;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.GuardBands;
import lotproof.model.ReferencePartners.VirtualKits;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.study.Reading;

/**
 * Builds the explanation of a figure: what it is the largest or the sum of, down to readings with
 * file and row.
 *
 * @param worst limits at the load where the model's is widest
 * @param curveGrams bound by the model over all loads together
 */
record FigureExplanation(
    FigureEvidence evidence, PointLimit worst, double curveGrams, List<LoadRun> runs) {
  Explanation tree(double printable, double limit, double model) {
    List<Explanation> bounds = new ArrayList<>(List.of(model(model)));
    tested().ifPresent(bounds::add);
    double largest = bounds.stream().mapToDouble(Explanation::value).max().orElseThrow();
    List<Explanation> addends = new ArrayList<>();
    addends.add(of(Quantity.BOUND_FOR_ANY, largest, Rule.LARGEST, bounds));
    evidence
        .guards()
        .grams()
        .forEach((kind, grams) -> addends.add(Explanation.given(new What.GuardBand(kind), grams)));
    evidence.guards().sides().forEach(side -> addends.add(side(side)));
    return of(
        Quantity.PRINTABLE_FIGURE,
        printable,
        Rule.ROUNDED_OUTWARD,
        List.of(
            of(Quantity.LIMIT, limit, Rule.SUM, addends),
            Explanation.given(Quantity.ROUNDING_STEP, evidence.study().claim().roundingGrams())));
  }

  private static Explanation of(
      Quantity quantity, double value, Rule rule, List<Explanation> parts) {
    return Explanation.of(new What.Of(quantity), value, rule, parts);
  }

  private static Explanation side(GuardBands.SideAllowance side) {
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

  /**
   * The largest error over the tested kits, from the reading that shows it, or over virtual kits.
   */
  private Optional<Explanation> tested() {
    if (evidence.virtual().isPresent()) {
      VirtualKits kits = evidence.virtual().get();
      What what = new What.VirtualKits(kits.rank(), kits.largest().length);
      return Optional.of(Explanation.given(what, kits.boundGrams()));
    }
    if (!evidence.hasTested()) {
      return Optional.empty();
    }
    List<Double> largest = evidence.largest().values();
    ErrorCurve curve = evidence.judged().curves().get(largest.indexOf(Collections.max(largest)));
    int index = evidence.judged().worstReading(curve);
    Explanation error = errorOfReading(curve, index);
    double weight = evidence.judged().form().weight(curve.points().get(index).loadKilograms());
    What what = new What.LargestTested(curve.pair());
    double size = Math.abs(error.value());
    return Optional.of(
        weight == 1
            ? Explanation.of(what, size, Rule.SIZE, List.of(error))
            : Explanation.of(
                what,
                size / weight,
                Rule.SHARE,
                List.of(error, Explanation.given(Quantity.FORM_WEIGHT, weight))));
  }

  private Explanation errorOfReading(ErrorCurve curve, int index) {
    LoadRun run = runs.stream().filter(r -> r.name().equals(curve.run())).findFirst().orElseThrow();
    List<Reading> readings = run.readings();
    Reading at = readings.get(index);
    List<Double> masses = evidence.level().pointsKilograms();
    List<Explanation> parts = new ArrayList<>();
    parts.add(output(Quantity.OUTPUT_WITHOUT_LOAD, readings.get(0)));
    parts.add(output(Quantity.OUTPUT_AT_LOAD, at));
    parts.add(Explanation.read(Quantity.APPLIED_LOAD, at.loadKilograms(), at.source()));
    if (masses.isEmpty()) {
      double factor = evidence.study().kit().defaultFactorCountsPerKilogram();
      parts.add(Explanation.given(Quantity.FACTORY_FACTOR, factor));
    }
    boolean ownCalibration = evidence.guards().changeKelvin().isEmpty();
    for (double mass : ownCalibration ? masses : List.<Double>of()) {
      Reading rising = readings.get(run.rising(mass).orElseThrow());
      parts.add(
          Explanation.read(Quantity.CALIBRATION_MASS, rising.loadKilograms(), rising.source()));
      parts.add(output(Quantity.OUTPUT_AT_CALIBRATION_MASS, rising));
    }
    ErrorCurve.Point point = curve.points().get(index);
    // with a correction, and with the calibration of another run, these readings are not all
    boolean whole = evidence.guards().of(GuardBands.Kind.TEMPERATURE_CORRECTION) == 0;
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
