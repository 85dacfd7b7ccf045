package lotproof.gather.plausibility;

import static lotproof.gather.plausibility.PlausibilityChecks.say;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;
import lotproof.study.Kit;
import lotproof.study.Reading;

/**
 * Holds runs against the kit: outputs and loads that no kit of this capacity can have, a slope or a
 * zero that is not the kit's. Thresholds: docs/method.md, "What is asked at the door".
 */
final class RunChecks {
  /**
   * A slope may be this many times the factory factor. Data sheets allow up to 20 % of sensitivity,
   * an overloaded cell loses perhaps 30 %; a lb taken as a kg is 0.454.
   */
  private static final double LEAST_SLOPE = 0.55;

  /** See above; sensitivity is never gained, and a kg taken as a lb is 2.2. */
  private static final double MOST_SLOPE = 1.6;

  /** A slope that is off by more is kept with a warning. */
  private static final double USUAL_SLOPE = 0.25;

  /** Zeros beyond this part of the capacity are kept with a warning. */
  private static final double USUAL_ZERO = 0.2;

  /** Zeros beyond this part of the capacity are asked. */
  private static final double MOST_ZERO = 1;

  /** Cells bear this many times their capacity without harm; no bench loads them with more. */
  static final double MOST_LOAD = 1.5;

  /** So many runs say what is usual. */
  static final int ENOUGH_RUNS = 5;

  private final PlausibilityChecks found;
  private final Kit kit;
  private final double capacity;
  private final List<Run> known;
  private final StepChecks steps;
  private final double zero;

  RunChecks(PlausibilityChecks found, List<Run> known, List<Run> fresh) {
    this.found = found;
    this.kit = found.kit();
    this.capacity = kit.capacityKilograms();
    this.known = known;
    this.steps = new StepChecks(found, Stream.concat(known.stream(), fresh.stream()).toList());
    this.zero =
        PlausibilityChecks.median(
                known.stream().flatMap(r -> r.zero().stream()).toList(), ENOUGH_RUNS)
            .orElse(0.0);
  }

  void check(Run run) {
    double expected = expectedSlope(run);
    List<Reading> possible = possible(run, expected);
    Optional<RunLine> line = RunLine.of(possible, expected);
    if (line.isEmpty()) {
      possible.stream()
          .filter(r -> r.loadKilograms() == 0)
          .findFirst()
          .ifPresent(r -> checkZero(run, r.outputCounts(), expected));
    } else if (isSlopeRight(run, line.get(), expected)) {
      checkZero(run, line.get().intercept(), expected);
      steps.check(run, possible, line.get());
    }
  }

  /**
   * In counts per kg: the factory factor. The check standard and a dummy bridge are no kits; once a
   * person accepted a run of theirs, it says what they give.
   */
  private double expectedSlope(Run run) {
    List<Double> own =
        known.stream()
            .filter(r -> isNoKit(run) && r.slope() > 0)
            .filter(r -> isNoKit(r) && r.cell().equals(run.cell()))
            .map(Run::slope)
            .toList();
    return PlausibilityChecks.median(own, 1).orElse(kit.defaultFactorCountsPerKilogram());
  }

  private boolean isNoKit(Run run) {
    return found.study().units().isCheckStandard(run.cell(), run.board())
        || found
            .study()
            .design()
            .reference()
            .filter(partners -> partners.dummyBridge() && partners.cell().equals(run.cell()))
            .isPresent();
  }

  /**
   * Names outputs that no kit can give and returns the others; where most of a run is like that, or
   * the rest has no kit's slope either, it is the run that is wrong.
   */
  private List<Reading> possible(Run run, double expected) {
    Map<Boolean, List<Reading>> parts =
        run.readings().stream()
            .collect(
                Collectors.partitioningBy(
                    r -> CodeChecks.isCode(kit, r.outputCounts()) && isWithinReach(r, expected)));
    List<Reading> possible = parts.getOrDefault(true, List.of());
    List<Reading> impossible = parts.getOrDefault(false, List.of());
    int all = run.readings().size();
    boolean most = all > 1 && 2 * impossible.size() > all;
    boolean restIsWrong =
        RunLine.of(possible, expected)
            .filter(line -> !isBetween(line.slope() / expected))
            .isPresent();
    if (most || restIsWrong) {
      return run.readings();
    }
    for (Reading reading : impossible) {
      double output = reading.outputCounts();
      String message =
          CodeChecks.isCode(kit, output)
              ? say(
                  "the output %s under %s kg reads as if %s kg lay on a cell of %s kg; is a digit,"
                      + " a decimal mark, the sign or the unit wrong?",
                  output, reading.loadKilograms(), (output - zero) / expected, capacity)
              : say(
                  "the output %s is no code of a converter of %s bits; is a digit, a decimal mark"
                      + " or the unit wrong?",
                  output, kit.converterBits().getAsInt());
      found.ask(Code.READING_DOUBTFUL, reading, ReadingColumn.OUTPUT, message);
    }
    return possible;
  }

  private boolean isWithinReach(Reading reading, double expected) {
    double kilograms = (reading.outputCounts() - zero) / expected;
    double load = Math.min(reading.loadKilograms(), MOST_LOAD * capacity);
    return kilograms >= -MOST_ZERO * capacity
        && kilograms <= MOST_SLOPE * load + MOST_ZERO * capacity;
  }

  private boolean isSlopeRight(Run run, RunLine line, double expected) {
    double ratio = line.slope() / expected;
    if (Math.abs(ratio - 1) <= USUAL_SLOPE) {
      return true;
    }
    double top = run.readings().stream().mapToDouble(Reading::loadKilograms).max().orElse(0);
    String seen =
        say(
            "run %s gives %s counts per kg, expected %s: %s kg would be shown as %s kg",
            run.name(), line.slope(), expected, top, ratio * top);
    if (isBetween(ratio)) {
      found.warn(
          Code.SLOPE_DOUBTFUL,
          run.first(),
          ReadingColumn.OUTPUT,
          seen + "; has the cell lost sensitivity, or is the wrong cell or board noted?");
      return true;
    }
    String message = seen + cause(run, ratio, top);
    found.ask(Code.SLOPE_DOUBTFUL, run.first(), ReadingColumn.OUTPUT, message);
    return false;
  }

  private String cause(Run run, double ratio, double top) {
    double scale = kit.countsPerMillivoltPerVolt();
    double largest =
        run.readings().stream().mapToDouble(r -> Math.abs(r.outputCounts())).max().orElse(0);
    String name = "; are the outputs in %s? Name the column \"output [%1$s]\"";
    if (top > MOST_LOAD * capacity && largest <= MOST_LOAD * capacity) {
      return say(
          "; a load of %s kg on a cell of %s kg: are load and output exchanged?"
              + " Name the columns the other way round, in the file or with --column",
          top, capacity);
    } else if (ratio < 0) {
      return "; the output falls as the load rises: are two signal wires exchanged, or is the sign"
          + " turned (--sign reversed)?";
    } else if (isBetween(ratio * scale)) {
      return name.formatted("mV/V") + ", in the file or with --column";
    } else if (isBetween(ratio * scale / 1000)) {
      return name.formatted("µV/V") + ", in the file or with --column";
    }
    return Slips.ofRun(ratio)
        .map(cause -> ", " + cause)
        .orElse("; is the unit of load or output, or the factor in study.yaml, another?");
  }

  private static boolean isBetween(double ratio) {
    return ratio >= LEAST_SLOPE && ratio <= MOST_SLOPE;
  }

  private void checkZero(Run run, double counts, double expected) {
    double off = (counts - zero) / expected;
    String message =
        say(
            "without load run %s reads as if %s kg lay on a cell of %s kg; was something left on"
                + " it, or the tare not taken?",
            run.name(), off, capacity);
    if (!(Math.abs(off) <= MOST_ZERO * capacity)) {
      found.ask(Code.TARE_MISSING, run.first(), ReadingColumn.OUTPUT, message);
    } else if (Math.abs(off) > USUAL_ZERO * capacity) {
      found.warn(Code.TARE_MISSING, run.first(), ReadingColumn.OUTPUT, message);
    }
  }
}
