package lotproof.gather.plausibility;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;
import lotproof.study.Kit;
import lotproof.study.Reading;

/**
 * Holds outputs against the converter: codes beyond its range, at its ends, and codes that stick,
 * and more noise than a converter has.
 */
final class CodeChecks {
  private static final List<Integer> USUAL_BITS = List.of(12, 16, 18, 20, 24, 32);
  private static final double STUCK_SHARE = 0.02;

  /** Noise beyond this part of the capacity leaves less than 8 bits. */
  private static final double MOST_NOISE = 0.005;

  private final PlausibilityChecks found;
  private final Kit kit;
  private final Set<Double> ends = new TreeSet<>();

  CodeChecks(PlausibilityChecks found) {
    this.found = found;
    this.kit = found.kit();
    OptionalInt stated = kit.converterBits();
    for (int bits : stated.isPresent() ? List.of(stated.getAsInt()) : USUAL_BITS) {
      // two's complement and offset binary
      double half = Math.pow(2, bits - 1.0);
      ends.addAll(List.of(half - 1, -half, 2 * half - 1));
    }
  }

  /** Whether an output is a code that the stated converter can give, by its width alone. */
  static boolean isCode(Kit kit, double output) {
    double codes = Math.pow(2, kit.converterBits().orElse(Integer.MAX_VALUE));
    return output >= -codes / 2 && output <= codes - 1;
  }

  void check(Run run) {
    checkCodes(run.readings());
    double most = MOST_NOISE * kit.capacityKilograms() * kit.defaultFactorCountsPerKilogram();
    run.readings().stream()
        .filter(r -> !(r.beside().noiseCounts().orElse(0) <= most))
        .findFirst()
        .ifPresent(
            r ->
                found.ask(
                    Code.READING_DOUBTFUL,
                    r,
                    ReadingColumn.NOISE,
                    PlausibilityChecks.say(
                        "a noise of %s counts is more than %s %% of the capacity; is its unit, a"
                            + " digit or a decimal mark wrong?",
                        r.beside().noiseCounts().getAsDouble(), 100 * MOST_NOISE)));
  }

  private void checkCodes(List<Reading> steps) {
    double largest = steps.stream().mapToDouble(r -> Math.abs(r.outputCounts())).max().orElse(0);
    // nothing lies beyond the ends of a converter, of which the lower one is a code farther out
    Optional<Reading> end =
        steps.stream()
            .filter(r -> ends.contains(r.outputCounts()))
            .filter(r -> largest <= Math.abs(r.outputCounts()) + 1)
            .findFirst();
    if (end.isPresent()) {
      found.ask(
          Code.CODES_SATURATED,
          end.get(),
          ReadingColumn.OUTPUT,
          String.format(
              Locale.ROOT,
              "the output %.0f is the end of a converter; the input was out of its range",
              end.get().outputCounts()));
      return;
    }
    IntStream.range(1, steps.size())
        .filter(i -> isStuck(steps.get(i - 1), steps.get(i)))
        .findFirst()
        .ifPresent(
            i ->
                found.ask(
                    Code.CODES_STUCK,
                    steps.get(i),
                    ReadingColumn.OUTPUT,
                    "the output did not change although the load did; is the converter stuck, or"
                        + " was the value copied?"));
  }

  private boolean isStuck(Reading before, Reading reading) {
    double moved = Math.abs(reading.loadKilograms() - before.loadKilograms());
    return moved > STUCK_SHARE * kit.capacityKilograms()
        && reading.outputCounts() == before.outputCounts();
  }
}
