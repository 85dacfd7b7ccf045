package lotproof.gather.plausibility;

import static lotproof.gather.plausibility.Findings.number;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import lotproof.folder.text.ReadingColumn;
import lotproof.statistics.summary.Summary;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Holds each reading against the others of its run: against the line that most of them lie on, and
 * against the reading at the same load on the way up or down. What a defective unit does to a run
 * (bow, hysteresis, a zero that shifts under load) it does to several readings; a wrong number
 * stands alone.
 */
final class StepChecks {
  /** A single reading that is off its run by more of the span is asked. */
  static final double FAR = 0.03;

  /** The same, kept with a warning. */
  static final double OFF = 0.005;

  /** It has to be this many times as far off as the other readings are. */
  static final double TIMES_SCATTER = 5;

  /** The same for a warning. */
  static final double TIMES_SCATTER_WARNED = 10;

  /**
   * A number that is wrong by a usual factor is asked when it moves a reading this often as far as
   * usual.
   */
  static final double TIMES_USUAL = 8;

  /**
   * Parts of the span: what readings of a short run, and partners, are taken to be off at least.
   */
  private static final double SHORT_RUN = 2e-4;

  private static final double LEAST = 1e-6;

  /** Loads that stand for one another, as part of the largest. */
  private static final double SAME_LOAD = 0.01;

  private static final int ENOUGH_RUNS = 5;

  private final Study study;
  private final Findings findings;
  private final Map<Double, Double> usualDifferences;

  StepChecks(Study study, List<RunFacts> all, Findings findings) {
    this.study = study;
    this.findings = findings;
    this.usualDifferences = usualDifferences(all);
  }

  /**
   * By load: the median difference of two readings at it within a run, where many runs have two.
   */
  private static Map<Double, Double> usualDifferences(List<RunFacts> runs) {
    Map<Double, List<Double>> byLoad = new HashMap<>();
    for (RunFacts run : runs) {
      atLoads(run.readings())
          .forEach(
              (load, readings) -> {
                if (readings.size() > 1) {
                  byLoad.computeIfAbsent(load, l -> new ArrayList<>()).add(difference(readings));
                }
              });
    }
    Map<Double, Double> usual = new HashMap<>();
    byLoad.forEach(
        (load, differences) ->
            PlausibilityChecks.median(
                    differences.stream().mapToDouble(d -> d).toArray(), ENOUGH_RUNS)
                .ifPresent(median -> usual.put(load, median)));
    return usual;
  }

  private static Map<Double, List<Reading>> atLoads(List<Reading> readings) {
    Map<Double, List<Reading>> byLoad = new TreeMap<>();
    readings.forEach(
        r -> byLoad.computeIfAbsent(r.loadKilograms(), load -> new ArrayList<>()).add(r));
    return byLoad;
  }

  private static double difference(List<Reading> readings) {
    return Math.abs(
        readings.get(readings.size() - 1).outputCounts() - readings.get(0).outputCounts());
  }

  void check(RunFacts run, List<Reading> readings, RunLine line) {
    double capacity = study.kit().capacityKilograms();
    List<Reading> bearable = new ArrayList<>();
    for (Reading reading : readings) {
      if (reading.loadKilograms() <= RunChecks.MOST_LOAD * capacity) {
        bearable.add(reading);
      } else {
        ask(
            run,
            reading,
            ReadingColumn.LOAD,
            ("a load of %s kg on a cell of %s kg, and the output says %s kg; is a"
                    + " digit, a decimal mark or the unit wrong?")
                .formatted(
                    number(reading.loadKilograms()),
                    number(capacity),
                    number(line.kilograms(reading))));
      }
    }
    double top = bearable.stream().mapToDouble(Reading::loadKilograms).max().orElse(0);
    double span = line.slope() * top;
    Set<Integer> named = new TreeSet<>();
    for (Reading reading : bearable) {
      checkOff(run, reading, line, span, named);
    }
    atLoads(bearable).forEach((load, same) -> checkSlip(run, bearable, same, line, span, named));
  }

  private void checkOff(
      RunFacts run, Reading reading, RunLine line, double span, Set<Integer> named) {
    double off = Math.abs(line.off(reading));
    if (!(off > OFF * span && off > TIMES_SCATTER * line.scatter())) {
      return;
    }
    double kilograms = line.kilograms(reading);
    double load = reading.loadKilograms();
    Optional<Double> valueSlip =
        Slips.ofValue(reading.outputCounts(), line.intercept() + line.slope() * load);
    Optional<Double> loadSlip = load > 0 ? Slips.ofValue(load, kilograms) : Optional.empty();
    boolean far = off > FAR * span;
    boolean slip = valueSlip.isPresent() || loadSlip.isPresent();
    if (far || slip) {
      named.add(reading.step());
      boolean ofLoad = valueSlip.isEmpty() && loadSlip.isPresent();
      String cause =
          valueSlip
              .map(factor -> "the output " + Slips.words(factor))
              .or(() -> loadSlip.map(factor -> "the load " + Slips.words(factor)))
              .or(() -> otherLoad(run, kilograms))
              .orElse("was it misread or mistyped, or another load on the cell?");
      ask(
          run,
          reading,
          ofLoad ? ReadingColumn.LOAD : ReadingColumn.OUTPUT,
          seen(run, reading, kilograms) + "; " + cause);
    } else if (off > TIMES_SCATTER_WARNED * line.scatter()) {
      findings.warn(
          Code.READING_DOUBTFUL,
          reading,
          ReadingColumn.OUTPUT,
          run.cell(),
          seen(run, reading, kilograms));
    }
  }

  private static String seen(RunFacts run, Reading reading, double kilograms) {
    return ("the output %s under %s kg does not fit the other readings of run %s; by"
            + " them it stands for %s kg")
        .formatted(
            number(reading.outputCounts()),
            number(reading.loadKilograms()),
            run.name(),
            number(kilograms));
  }

  private Optional<String> otherLoad(RunFacts run, double kilograms) {
    double near = SAME_LOAD * study.kit().capacityKilograms();
    return study.design().loadsOf(run.name()).stream()
        .filter(load -> Math.abs(load - kilograms) <= near)
        .findFirst()
        .map(load -> "were " + number(load) + " kg on the cell?");
  }

  /**
   * Readings at one load, of which one may be wrong by a usual factor although it moves the reading
   * little, as at zero.
   */
  private void checkSlip(
      RunFacts run,
      List<Reading> readings,
      List<Reading> same,
      RunLine line,
      double span,
      Set<Integer> named) {
    double usual = Math.max(usualDifference(run, readings, same, line, span), LEAST * span);
    Optional<Reading> worst = Optional.empty();
    double factor = 0;
    for (Reading reading : same) {
      double shouldBe = shouldBe(reading, readings, line);
      Optional<Double> slip = Slips.ofValue(reading.outputCounts(), shouldBe);
      boolean moved = Math.abs(reading.outputCounts() - shouldBe) > TIMES_USUAL * usual;
      boolean worse =
          worst.isEmpty() || Math.abs(line.off(reading)) > Math.abs(line.off(worst.get()));
      if (slip.isPresent() && moved && worse) {
        worst = Optional.of(reading);
        factor = slip.get();
      }
    }
    if (worst.isEmpty() || same.stream().anyMatch(r -> named.contains(r.step()))) {
      return;
    }
    Reading reading = worst.get();
    ask(
        run,
        reading,
        ReadingColumn.OUTPUT,
        ("the output %s under %s kg %s, or nearly so, against %s%s of run %s; is"
                + " a digit, a decimal mark or the sign wrong?")
            .formatted(
                number(reading.outputCounts()),
                number(reading.loadKilograms()),
                Slips.words(factor),
                number(shouldBe(reading, readings, line)),
                same.size() > 1 ? " at the same load" : " by the other readings",
                run.name()));
  }

  /** What a reading should be: as the others at its load, or else on the line of all others. */
  private static double shouldBe(Reading reading, List<Reading> readings, RunLine line) {
    List<Reading> others = readings.stream().filter(r -> r.step() != reading.step()).toList();
    double load = reading.loadKilograms();
    double[] same =
        others.stream()
            .filter(r -> r.loadKilograms() == load)
            .mapToDouble(Reading::outputCounts)
            .toArray();
    if (same.length > 0) {
      return Summary.median(same);
    }
    RunLine ofOthers = RunLine.of(others, line.slope()).orElse(line);
    return ofOthers.intercept() + ofOthers.slope() * load;
  }

  /** How far two readings at a load usually lie apart, or a lone one off the line. */
  private double usualDifference(
      RunFacts run, List<Reading> readings, List<Reading> same, RunLine line, double span) {
    double offLine = Math.max(line.scatter(), SHORT_RUN * span);
    if (same.size() == 1) {
      return offLine;
    }
    double load = same.get(0).loadKilograms();
    OptionalDouble ofOtherLoads =
        atLoads(readings).entrySet().stream()
            .filter(entry -> entry.getKey() != load && entry.getValue().size() > 1)
            .mapToDouble(entry -> difference(entry.getValue()))
            .max();
    Double usual = usualDifferences.get(load);
    if (usual == null || study.design().sideTestOf(run.name()).isPresent()) {
      return ofOtherLoads.orElse(offLine);
    }
    // where the other loads differ half as much, something shifted and no number is wrong
    return Math.max(usual, ofOtherLoads.orElse(0) * 2 / TIMES_USUAL);
  }

  private void ask(RunFacts run, Reading reading, ReadingColumn column, String message) {
    findings.ask(Code.READING_DOUBTFUL, reading, column, run.cell(), message);
  }
}
