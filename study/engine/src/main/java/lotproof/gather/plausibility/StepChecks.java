package lotproof.gather.plausibility;

import static lotproof.gather.plausibility.PlausibilityChecks.say;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;

/**
 * Holds each reading against the others of its run: against the line that most of them lie on, and
 * against the reading at the same load on the way up or down. What a defective unit does to a run
 * (bow, hysteresis, a zero that shifts under load) it does to several readings; a wrong number
 * stands alone.
 */
final class StepChecks {
  /** A single reading that is off its run by more of the span is asked. */
  private static final double FAR = 0.03;

  /** The same, kept with a warning. */
  private static final double OFF = 0.005;

  /** It has to be this many times as far off as the other readings are. */
  private static final double TIMES_SCATTER = 5;

  /** The same for a warning. */
  private static final double TIMES_SCATTER_WARNED = 10;

  /** A number wrong by a usual factor is asked when it moves a reading this often as usual. */
  private static final double TIMES_USUAL = 8;

  /**
   * Parts of the span: what readings of a short run, and partners, are taken to be off at least.
   */
  private static final double SHORT_RUN = 2e-4;

  private static final double LEAST = 1e-6;

  /** Loads that stand for one another, as part of the largest. */
  private static final double SAME_LOAD = 0.01;

  private final PlausibilityChecks found;
  private final double capacity;

  /** By load: the median difference of two readings at it within a run, of many runs. */
  private final Map<Double, Double> usual = new HashMap<>();

  StepChecks(PlausibilityChecks found, List<Run> all) {
    this.found = found;
    this.capacity = found.kit().capacityKilograms();
    Map<Double, List<Double>> differences = new HashMap<>();
    for (Run run : all) {
      pairs(run.readings())
          .forEach(
              (load, same) ->
                  differences.computeIfAbsent(load, l -> new ArrayList<>()).add(difference(same)));
    }
    differences.forEach(
        (load, those) ->
            PlausibilityChecks.median(those, RunChecks.ENOUGH_RUNS)
                .ifPresent(median -> usual.put(load, median)));
  }

  /** Readings at loads that a run has more than once. */
  private static Map<Double, List<Reading>> pairs(List<Reading> readings) {
    Map<Double, List<Reading>> byLoad = atLoads(readings);
    byLoad.values().removeIf(same -> same.size() < 2);
    return byLoad;
  }

  private static Map<Double, List<Reading>> atLoads(List<Reading> readings) {
    return readings.stream()
        .collect(Collectors.groupingBy(Reading::loadKilograms, TreeMap::new, Collectors.toList()));
  }

  private static double difference(List<Reading> readings) {
    return Math.abs(
        readings.get(readings.size() - 1).outputCounts() - readings.get(0).outputCounts());
  }

  void check(Run run, List<Reading> readings, RunLine line) {
    Map<Boolean, List<Reading>> parts =
        readings.stream()
            .collect(
                Collectors.partitioningBy(
                    r -> r.loadKilograms() <= RunChecks.MOST_LOAD * capacity));
    for (Reading reading : parts.getOrDefault(false, List.of())) {
      found.ask(
          Code.READING_DOUBTFUL,
          reading,
          ReadingColumn.LOAD,
          say(
              "a load of %s kg on a cell of %s kg, and the output says %s kg; is a digit, a decimal"
                  + " mark or the unit wrong?",
              reading.loadKilograms(), capacity, line.kilograms(reading)));
    }
    new OfRun(run, parts.getOrDefault(true, List.of()), line).check();
  }

  /** The readings of one run that a cell can bear. */
  private final class OfRun {
    private final Run run;
    private final List<Reading> readings;
    private final RunLine line;
    private final double span;
    private final Set<Integer> named = new HashSet<>();

    private OfRun(Run run, List<Reading> readings, RunLine line) {
      this.run = run;
      this.readings = readings;
      this.line = line;
      this.span =
          line.slope() * readings.stream().mapToDouble(Reading::loadKilograms).max().orElse(0);
    }

    private void check() {
      readings.forEach(this::checkOff);
      atLoads(readings).values().forEach(this::checkSlip);
    }

    private void checkOff(Reading reading) {
      double off = Math.abs(line.off(reading));
      if (!(off > OFF * span && off > TIMES_SCATTER * line.scatter())) {
        return;
      }
      double kilograms = line.kilograms(reading);
      double load = reading.loadKilograms();
      String seen =
          say(
              "the output %s under %s kg does not fit the other readings of run %s; by them it"
                  + " stands for %s kg",
              reading.outputCounts(), load, run.name(), kilograms);
      Optional<Double> valueSlip = Slips.ofValue(reading.outputCounts(), line.output(load));
      Optional<Double> loadSlip = load > 0 ? Slips.ofValue(load, kilograms) : Optional.empty();
      if (off > FAR * span || valueSlip.isPresent() || loadSlip.isPresent()) {
        named.add(reading.step());
        boolean ofLoad = valueSlip.isEmpty() && loadSlip.isPresent();
        String cause =
            valueSlip
                .map(factor -> "the output " + Slips.words(factor))
                .or(() -> loadSlip.map(factor -> "the load " + Slips.words(factor)))
                .or(() -> otherLoad(kilograms))
                .orElse("was it misread or mistyped, or another load on the cell?");
        found.ask(
            Code.READING_DOUBTFUL,
            reading,
            ofLoad ? ReadingColumn.LOAD : ReadingColumn.OUTPUT,
            seen + "; " + cause);
      } else if (off > TIMES_SCATTER_WARNED * line.scatter()) {
        found.warn(Code.READING_DOUBTFUL, reading, ReadingColumn.OUTPUT, seen);
      }
    }

    private Optional<String> otherLoad(double kilograms) {
      return found.study().design().loadsOf(run.name()).stream()
          .filter(load -> Math.abs(load - kilograms) <= SAME_LOAD * capacity)
          .findFirst()
          .map(load -> say("were %s kg on the cell?", load));
    }

    /**
     * Readings at one load, of which one may be wrong by a usual factor although it moves the
     * reading little, as at zero.
     */
    private void checkSlip(List<Reading> same) {
      double least = TIMES_USUAL * Math.max(usualDifference(same), LEAST * span);
      Optional<Reading> worst =
          same.stream()
              .filter(r -> Slips.ofValue(r.outputCounts(), shouldBe(r)).isPresent())
              .filter(r -> Math.abs(r.outputCounts() - shouldBe(r)) > least)
              .reduce((a, b) -> Math.abs(line.off(b)) > Math.abs(line.off(a)) ? b : a);
      if (worst.isEmpty() || same.stream().anyMatch(r -> named.contains(r.step()))) {
        return;
      }
      Reading reading = worst.get();
      double output = reading.outputCounts();
      double shouldBe = shouldBe(reading);
      found.ask(
          Code.READING_DOUBTFUL,
          reading,
          ReadingColumn.OUTPUT,
          "the output %s under %s kg %s, or nearly so, against %s%s of run %s; is a digit, a"
              + " decimal mark or the sign wrong?",
          output,
          reading.loadKilograms(),
          Slips.words(Slips.ofValue(output, shouldBe).orElseThrow()),
          shouldBe,
          same.size() > 1 ? " at the same load" : " by the other readings",
          run.name());
    }

    /** What a reading should be: as the others at its load, or else on the line of all others. */
    private double shouldBe(Reading reading) {
      List<Reading> others = readings.stream().filter(r -> r.step() != reading.step()).toList();
      double load = reading.loadKilograms();
      List<Double> same =
          others.stream()
              .filter(r -> r.loadKilograms() == load)
              .map(Reading::outputCounts)
              .toList();
      return PlausibilityChecks.median(same, 1)
          .orElseGet(() -> RunLine.of(others, line.slope()).orElse(line).output(load));
    }

    /** How far two readings at a load usually lie apart, or a lone one off the line. */
    private double usualDifference(List<Reading> same) {
      double offLine = Math.max(line.scatter(), SHORT_RUN * span);
      if (same.size() == 1) {
        return offLine;
      }
      double load = same.get(0).loadKilograms();
      OptionalDouble ofOtherLoads =
          pairs(readings).entrySet().stream()
              .filter(entry -> entry.getKey() != load)
              .mapToDouble(entry -> difference(entry.getValue()))
              .max();
      Double ofLoad = usual.get(load);
      if (ofLoad == null || found.study().design().sideTestOf(run.name()).isPresent()) {
        return ofOtherLoads.orElse(offLine);
      }
      // where the other loads differ half as much, something shifted and no number is wrong
      return Math.max(ofLoad, ofOtherLoads.orElse(0) * 2 / TIMES_USUAL);
    }
  }
}
