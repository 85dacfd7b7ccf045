package lotproof.gather;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import lotproof.statistics.summary.Summary;
import lotproof.study.Characteristic;
import lotproof.study.Limits;
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
  private final List<Reading> readings;

  TypedValueCheck(Study study, List<Reading> readings) {
    this.study = study;
    this.readings = readings;
  }

  Optional<String> doubt(TypedRun run, double counts) {
    List<Double> loads = study.design().loadsKilograms();
    int step = run.outputCounts().size();
    if (step == 0) {
      return zeroOutOfLimits(counts);
    }
    double before = run.outputCounts().get(step - 1);
    if (counts == before && !loads.get(step).equals(loads.get(step - 1))) {
      return Optional.of("the same value as at the load before");
    }
    double net = counts - run.outputCounts().get(0);
    Optional<String> limits = sensitivityOutOfLimits(loads.get(step), net);
    return limits.isPresent() ? limits : farFromOthers(run, step, net);
  }

  private Optional<String> zeroOutOfLimits(double counts) {
    double zero = counts / study.kit().countsPerMillivoltPerVolt();
    return outside(Characteristic.ZERO, zero, "zero");
  }

  private Optional<String> sensitivityOutOfLimits(double load, double net) {
    double largest = study.design().loadsKilograms().stream().mapToDouble(x -> x).max().orElse(0);
    if (load != largest || !(load > 0)) {
      return Optional.empty();
    }
    double sensitivity =
        net / study.kit().countsPerMillivoltPerVolt() * study.kit().capacityKilograms() / load;
    return outside(Characteristic.SENSITIVITY, sensitivity, "sensitivity");
  }

  private Optional<String> outside(Characteristic characteristic, double value, String name) {
    Limits limits = study.limits().get(characteristic);
    if (limits == null) {
      return Optional.empty();
    }
    boolean inside =
        value >= limits.lower().orElse(Double.NEGATIVE_INFINITY)
            && value <= limits.upper().orElse(Double.POSITIVE_INFINITY);
    return inside
        ? Optional.empty()
        : Optional.of(
            String.format(
                Locale.ROOT,
                "a %s of %.4g %s is outside the limits of the study",
                name,
                value,
                characteristic.unit()));
  }

  private Optional<String> farFromOthers(TypedRun run, int step, double net) {
    double[] others = others(run, step);
    double load = study.design().loadsKilograms().get(step);
    double scale = study.kit().defaultFactorCountsPerKilogram();
    if (others.length < FEWEST_TO_COMPARE) {
      double largest =
          study.design().loadsKilograms().stream().mapToDouble(x -> x).max().orElse(load);
      double expected = load * scale;
      double far = FACTOR_PART * scale * Math.max(load, 0.1 * largest);
      return Math.abs(net - expected) <= far
          ? Optional.empty()
          : Optional.of(
              String.format(
                  Locale.ROOT,
                  "%.0f counts above the first zero; the default factor gives %.0f",
                  net,
                  expected));
    }
    double middle = Summary.median(others);
    double[] distances = Arrays.stream(others).map(x -> Math.abs(x - middle)).toArray();
    double far =
        Math.max(
            FAR * 1.4826 * Summary.median(distances),
            LEAST_PART * scale * study.kit().capacityKilograms());
    return Math.abs(net - middle) <= far
        ? Optional.empty()
        : Optional.of(
            String.format(
                Locale.ROOT,
                "%.0f counts above the first zero; %d runs so far lie around %.0f",
                net,
                others.length,
                middle));
  }

  /** Readings above the first zero at this step: of the cell's lot where there are enough of it. */
  private double[] others(TypedRun run, int step) {
    Map<String, String> lotOf = study.units().lotBySerial(UnitKind.CELL);
    String lot = lotOf.get(run.cell());
    Map<String, Double> zero = new HashMap<>();
    for (Reading reading : readings) {
      if (reading.step() == 1) {
        zero.put(reading.run(), reading.outputCounts());
      }
    }
    List<Double> all = new ArrayList<>();
    List<Double> ofLot = new ArrayList<>();
    for (Reading reading : readings) {
      Double first = zero.get(reading.run());
      if (reading.step() == step + 1 && first != null) {
        all.add(reading.outputCounts() - first);
        if (lot != null && Objects.equals(lot, lotOf.get(reading.cell()))) {
          ofLot.add(reading.outputCounts() - first);
        }
      }
    }
    List<Double> chosen = ofLot.size() >= FEWEST_TO_COMPARE ? ofLot : all;
    return chosen.stream().mapToDouble(x -> x).toArray();
  }
}
