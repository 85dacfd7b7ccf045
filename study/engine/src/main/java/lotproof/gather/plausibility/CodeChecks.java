package lotproof.gather.plausibility;

import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;
import lotproof.study.Kit;
import lotproof.study.Reading;

/**
 * Holds outputs against the converter: codes beyond its range, at its ends, and codes that stick.
 */
final class CodeChecks {
  private static final int[] USUAL_BITS = {12, 16, 18, 20, 24, 32};
  private static final double STUCK_SHARE = 0.02;

  private final Kit kit;
  private final Findings findings;
  private final Set<Double> ends;

  CodeChecks(Kit kit, Findings findings) {
    this.kit = kit;
    this.findings = findings;
    this.ends =
        ends(
            kit.converterBits().isPresent()
                ? new int[] {kit.converterBits().getAsInt()}
                : USUAL_BITS);
  }

  /** Ends of converters, two's complement and offset binary. */
  private static Set<Double> ends(int[] widths) {
    Set<Double> ends = new TreeSet<>();
    for (int bits : widths) {
      double half = Math.pow(2, bits - 1.0);
      ends.addAll(List.of(half - 1, -half, 2 * half - 1));
    }
    return ends;
  }

  /** Whether an output is a code that the stated converter can give, by its width alone. */
  boolean isCode(double output) {
    if (kit.converterBits().isEmpty()) {
      return true;
    }
    double codes = Math.pow(2, kit.converterBits().getAsInt());
    return output >= -codes / 2 && output <= codes - 1;
  }

  void check(RunFacts run) {
    List<Reading> steps = run.readings();
    double largest = steps.stream().mapToDouble(r -> Math.abs(r.outputCounts())).max().orElse(0);
    for (Reading reading : steps) {
      double output = reading.outputCounts();
      // nothing lies beyond the ends of a converter, of which the lower one is a code farther out
      if (ends.contains(output) && largest <= Math.abs(output) + 1) {
        findings.ask(
            Code.CODES_SATURATED,
            reading,
            ReadingColumn.OUTPUT,
            run.board(),
            "the output "
                + String.format(Locale.ROOT, "%.0f", output)
                + " is the end of a converter; the input was out of its range");
        return;
      }
    }
    IntStream.range(1, steps.size())
        .filter(i -> isStuck(steps.get(i - 1), steps.get(i)))
        .findFirst()
        .ifPresent(
            i ->
                findings.ask(
                    Code.CODES_STUCK,
                    steps.get(i),
                    ReadingColumn.OUTPUT,
                    run.board(),
                    "the output did not change although the load did; is the converter stuck, or"
                        + " was the value copied?"));
  }

  private boolean isStuck(Reading before, Reading reading) {
    double moved = Math.abs(reading.loadKilograms() - before.loadKilograms());
    return moved > STUCK_SHARE * kit.capacityKilograms()
        && reading.outputCounts() == before.outputCounts();
  }
}
