package lotproof.gather.plausibility;

import static lotproof.gather.plausibility.Findings.number;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;
import lotproof.study.Kit;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Holds runs against the kit: outputs and loads that no kit of this capacity can have, a slope or a
 * zero that is not the kit's. Thresholds: docs/method.md, "What is asked at the door".
 */
final class RunChecks {
  /**
   * A slope may be this many times the factory factor. Data sheets allow up to 20 % of sensitivity,
   * an overloaded cell loses perhaps 30 %; a lb taken as a kg is 0.454.
   */
  static final double LEAST_SLOPE = 0.55;

  /** See above; sensitivity is never gained, and a kg taken as a lb is 2.2. */
  static final double MOST_SLOPE = 1.6;

  /** A slope that is off by more is kept with a warning. */
  static final double USUAL_SLOPE = 0.25;

  /** Zeros beyond this part of the capacity are kept with a warning. */
  static final double USUAL_ZERO = 0.2;

  /** Zeros beyond this part of the capacity are asked. */
  static final double MOST_ZERO = 1;

  /** Cells bear this many times their capacity without harm; no bench loads them with more. */
  static final double MOST_LOAD = 1.5;

  /** Noise beyond this part of the capacity leaves less than 8 bits. */
  static final double MOST_NOISE = 0.005;

  private static final int ENOUGH_RUNS = 5;

  private final Study study;
  private final Kit kit;
  private final List<RunFacts> known;
  private final List<RunFacts> fresh;
  private final Findings findings;
  private final CodeChecks codes;
  private final StepChecks steps;
  private final double zero;

  RunChecks(Study study, List<RunFacts> known, List<RunFacts> fresh, Findings findings) {
    this.study = study;
    this.kit = study.kit();
    this.known = known;
    this.fresh = fresh;
    this.findings = findings;
    this.codes = new CodeChecks(kit, findings);
    List<RunFacts> all = new ArrayList<>(known);
    all.addAll(fresh);
    this.steps = new StepChecks(study, all, findings);
    this.zero =
        PlausibilityChecks.median(
                known.stream().flatMap(r -> r.zero().stream()).mapToDouble(z -> z).toArray(),
                ENOUGH_RUNS)
            .orElse(0.0);
  }

  void check() {
    TemperatureChecks temperatures = new TemperatureChecks(study, findings);
    for (RunFacts run : fresh) {
      checkRun(run);
      codes.check(run);
      checkNoise(run);
      temperatures.check(run);
    }
  }

  private void checkRun(RunFacts run) {
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
  private double expectedSlope(RunFacts run) {
    double[] own =
        known.stream()
            .filter(r -> r.slope() > 0 && isNoKit(r) && r.cell().equals(run.cell()))
            .mapToDouble(RunFacts::slope)
            .toArray();
    return isNoKit(run)
        ? PlausibilityChecks.median(own, 1).orElse(kit.defaultFactorCountsPerKilogram())
        : kit.defaultFactorCountsPerKilogram();
  }

  private boolean isNoKit(RunFacts run) {
    return study.units().isCheckStandard(run.cell(), run.board())
        || study
            .design()
            .reference()
            .filter(partners -> partners.dummyBridge() && partners.cell().equals(run.cell()))
            .isPresent();
  }

  /**
   * Names outputs that no kit can give and returns the others; where most of a run is like that, or
   * the rest has no kit's slope either, it is the run that is wrong.
   */
  private List<Reading> possible(RunFacts run, double expected) {
    List<Reading> possible = new ArrayList<>();
    List<Reading> impossible = new ArrayList<>();
    for (Reading reading : run.readings()) {
      boolean can = codes.isCode(reading.outputCounts()) && isWithinReach(reading, expected);
      (can ? possible : impossible).add(reading);
    }
    int all = run.readings().size();
    boolean most = all > 1 && 2 * impossible.size() > all;
    boolean restIsWrong =
        RunLine.of(possible, expected)
            .filter(line -> !isBetween(line.slope() / expected))
            .isPresent();
    if (most || restIsWrong) {
      return run.readings();
    }
    impossible.forEach(reading -> askOutput(run, reading, expected));
    return possible;
  }

  private void askOutput(RunFacts run, Reading reading, double expected) {
    String output = "the output " + number(reading.outputCounts());
    findings.ask(
        Code.READING_DOUBTFUL,
        reading,
        ReadingColumn.OUTPUT,
        run.cell(),
        codes.isCode(reading.outputCounts())
            ? ("%s under %s kg reads as if %s kg lay on a cell of %s kg; is a digit, a"
                    + " decimal mark, the sign or the unit wrong?")
                .formatted(
                    output,
                    number(reading.loadKilograms()),
                    number((reading.outputCounts() - zero) / expected),
                    number(kit.capacityKilograms()))
            : ("%s is no code of a converter of %s bits; is a digit, a decimal mark or"
                    + " the unit wrong?")
                .formatted(output, kit.converterBits().getAsInt()));
  }

  private boolean isWithinReach(Reading reading, double expected) {
    double kilograms = (reading.outputCounts() - zero) / expected;
    double capacity = kit.capacityKilograms();
    double load = Math.min(reading.loadKilograms(), MOST_LOAD * capacity);
    return kilograms >= -MOST_ZERO * capacity
        && kilograms <= MOST_SLOPE * load + MOST_ZERO * capacity;
  }

  private boolean isSlopeRight(RunFacts run, RunLine line, double expected) {
    double ratio = line.slope() / expected;
    if (Math.abs(ratio - 1) <= USUAL_SLOPE) {
      return true;
    }
    double top = run.readings().stream().mapToDouble(Reading::loadKilograms).max().orElse(0);
    String seen =
        "run %s gives %s counts per kg, expected %s: %s kg would be shown as %s kg"
            .formatted(
                run.name(),
                number(line.slope()),
                number(expected),
                number(top),
                number(ratio * top));
    if (isBetween(ratio)) {
      findings.warn(
          Code.SLOPE_DOUBTFUL,
          run.first(),
          ReadingColumn.OUTPUT,
          run.cell(),
          seen + "; has the cell lost sensitivity, or is the wrong cell or board noted?");
      return true;
    }
    findings.ask(
        Code.SLOPE_DOUBTFUL,
        run.first(),
        ReadingColumn.OUTPUT,
        run.cell(),
        seen + cause(run, ratio, top));
    return false;
  }

  private String cause(RunFacts run, double ratio, double top) {
    double scale = kit.countsPerMillivoltPerVolt();
    double capacity = kit.capacityKilograms();
    double largest =
        run.readings().stream().mapToDouble(r -> Math.abs(r.outputCounts())).max().orElse(0);
    String inTheFile = "\", in the file or with --column";
    if (top > MOST_LOAD * capacity && largest <= MOST_LOAD * capacity) {
      return ("; a load of %s kg on a cell of %s kg: are load and output exchanged?"
              + " Name the columns the other way round, in the file or with --column")
          .formatted(number(top), number(capacity));
    } else if (ratio < 0) {
      return "; the output falls as the load rises: are two signal wires exchanged, or is the sign"
          + " turned (--sign reversed)?";
    } else if (isBetween(ratio * scale)) {
      return "; are the outputs in mV/V? Name the column \"output [mV/V]" + inTheFile;
    } else if (isBetween(ratio * scale / 1000)) {
      return "; are the outputs in µV/V? Name the column \"output [µV/V]" + inTheFile;
    }
    return Slips.ofRun(ratio)
        .map(cause -> ", " + cause)
        .orElse("; is the unit of load or output, or the factor in study.yaml, another?");
  }

  private static boolean isBetween(double ratio) {
    return ratio >= LEAST_SLOPE && ratio <= MOST_SLOPE;
  }

  private void checkZero(RunFacts run, double counts, double expected) {
    double capacity = kit.capacityKilograms();
    double off = (counts - zero) / expected;
    if (Math.abs(off) <= USUAL_ZERO * capacity) {
      return;
    }
    String message =
        ("without load run %s reads as if %s kg lay on a cell of %s kg; was"
                + " something left on it, or the tare not taken?")
            .formatted(run.name(), number(off), number(capacity));
    if (Math.abs(off) <= MOST_ZERO * capacity) {
      findings.warn(Code.TARE_MISSING, run.first(), ReadingColumn.OUTPUT, run.cell(), message);
    } else {
      findings.ask(Code.TARE_MISSING, run.first(), ReadingColumn.OUTPUT, run.cell(), message);
    }
  }

  private void checkNoise(RunFacts run) {
    double most = MOST_NOISE * kit.capacityKilograms() * kit.defaultFactorCountsPerKilogram();
    run.readings().stream()
        .filter(
            r ->
                r.beside().noiseCounts().isPresent()
                    && !(r.beside().noiseCounts().getAsDouble() <= most))
        .findFirst()
        .ifPresent(
            r ->
                findings.ask(
                    Code.READING_DOUBTFUL,
                    r,
                    ReadingColumn.NOISE,
                    run.board(),
                    ("a noise of %s counts is more than %s %% of the capacity; is its unit, a"
                            + " digit or a decimal mark wrong?")
                        .formatted(
                            number(r.beside().noiseCounts().getAsDouble()),
                            number(100 * MOST_NOISE))));
  }
}
