package lotproof.gather;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.statistics.summary.Summary;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.Kit;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Holds a typed value against the loads, the limits of the study and the readings so far. What it
 * doubts may still be right: a person says so.
 */
final class TypedValueCheck {
  private static final int FEWEST_TO_COMPARE = 5;

  /** Robust standard deviations; a misread digit lies much further, a real unit rarely so far. */
  private static final double FAR = 6;

  /** Half of the readings may be nearly equal; less than this part of the load is never far. */
  private static final double LEAST_PART = 0.002;

  /** Before there is anything to compare with: the distance from the factory default factor. */
  private static final double FACTOR_PART = 0.1;

  private final Study study;
  private final Kit kit;
  private final List<Double> loads;
  private final double largest;
  private final List<Reading> readings;

  TypedValueCheck(Study study, List<Reading> readings) {
    this.study = study;
    this.kit = study.kit();
    this.loads = study.design().loadsKilograms();
    this.largest = loads.stream().mapToDouble(load -> load).max().orElse(0);
    this.readings = readings;
  }

  Optional<String> doubt(TypedRun run, double counts) {
    int step = run.outputCounts().size();
    if (step == 0) {
      return outside(Characteristic.ZERO, counts / kit.countsPerMillivoltPerVolt());
    }
    double load = loads.get(step);
    if (counts == run.outputCounts().get(step - 1) && load != loads.get(step - 1)) {
      return Optional.of("the same value as at the load before");
    }
    double net = counts - run.outputCounts().get(0);
    double signal = net / kit.countsPerMillivoltPerVolt();
    Optional<String> limits =
        load == largest && load > 0
            ? outside(Characteristic.SENSITIVITY, signal * kit.capacityKilograms() / load)
            : Optional.empty();
    return limits.or(() -> farFromOthers(run, step, net));
  }

  private Optional<String> outside(Characteristic characteristic, double value) {
    return Optional.ofNullable(study.limits().get(characteristic))
        .filter(limits -> !isWithin(limits, value))
        .map(
            limits ->
                String.format(
                    Locale.ROOT,
                    "a %s of %.4g %s is outside the limits of the study",
                    characteristic.key(),
                    value,
                    characteristic.unit()));
  }

  private static boolean isWithin(Limits limits, double value) {
    return value >= limits.lower().orElse(Double.NEGATIVE_INFINITY)
        && value <= limits.upper().orElse(Double.POSITIVE_INFINITY);
  }

  private Optional<String> farFromOthers(TypedRun run, int step, double net) {
    double[] others = others(run, step);
    boolean few = others.length < FEWEST_TO_COMPARE;
    double scale = kit.defaultFactorCountsPerKilogram();
    double expected = few ? loads.get(step) * scale : Summary.median(others);
    double[] distances = Arrays.stream(others).map(x -> Math.abs(x - expected)).toArray();
    double far =
        few
            ? FACTOR_PART * scale * Math.max(loads.get(step), 0.1 * largest)
            : Math.max(
                FAR * 1.4826 * Summary.median(distances),
                LEAST_PART * scale * kit.capacityKilograms());
    if (Math.abs(net - expected) <= far) {
      return Optional.empty();
    }
    String from = few ? "the default factor gives" : others.length + " runs so far lie around";
    return Optional.of(
        String.format(
            Locale.ROOT, "%.0f counts above the first zero; %s %.0f", net, from, expected));
  }

  /** Readings above the first zero at this step: of the cell's lot where there are enough of it. */
  private double[] others(TypedRun run, int step) {
    Map<String, Double> zeros =
        readings.stream()
            .filter(reading -> reading.step() == 1)
            .collect(Collectors.toMap(Reading::run, Reading::outputCounts, (a, b) -> b));
    List<Reading> all =
        readings.stream()
            .filter(reading -> reading.step() == step + 1 && zeros.containsKey(reading.run()))
            .toList();
    Map<String, String> lots = study.units().lotBySerial(UnitKind.CELL);
    String lot = lots.getOrDefault(run.cell(), "");
    List<Reading> ofLot =
        all.stream().filter(reading -> lot.equals(lots.get(reading.cell()))).toList();
    return (ofLot.size() >= FEWEST_TO_COMPARE ? ofLot : all)
        .stream()
            .mapToDouble(reading -> reading.outputCounts() - zeros.getOrDefault(reading.run(), 0.0))
            .toArray();
  }
}
