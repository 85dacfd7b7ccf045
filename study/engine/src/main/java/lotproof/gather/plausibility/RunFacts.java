package lotproof.gather.plausibility;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.study.Reading;

/**
 * What the checks at the door need of a run.
 *
 * @param readings its readings by step
 * @param first the first of them that is to come in; of a recorded run its first step
 * @param slope counts per kg between its smallest and its largest load; 0 when it has one load only
 * @param zero mean output without load in counts, when there is one
 */
record RunFacts(List<Reading> readings, Reading first, double slope, Optional<Double> zero) {

  /** The runs of readings, in the order in which they begin. */
  static List<RunFacts> of(List<Reading> readings) {
    return of(readings, List.of());
  }

  /**
   * The runs of readings that are to come in, in the order in which they begin, each with the steps
   * that the record holds of it already.
   */
  static List<RunFacts> of(List<Reading> readings, List<Reading> known) {
    Map<String, List<Reading>> runs = new LinkedHashMap<>();
    readings.forEach(r -> runs.computeIfAbsent(r.run(), run -> new ArrayList<>(9)).add(r));
    Map<String, List<Reading>> more = new HashMap<>();
    known.stream()
        .filter(r -> runs.containsKey(r.run()))
        .forEach(r -> more.computeIfAbsent(r.run(), run -> new ArrayList<>()).add(r));
    List<RunFacts> all = new ArrayList<>(runs.size());
    runs.forEach((name, run) -> all.add(ofRun(run, more.getOrDefault(name, List.of()))));
    return all;
  }

  private static RunFacts ofRun(List<Reading> fresh, List<Reading> known) {
    Comparator<Reading> bySteps = Comparator.comparingInt(Reading::step);
    List<Reading> run = new ArrayList<>(fresh);
    Set<Integer> steps = new HashSet<>();
    fresh.forEach(reading -> steps.add(reading.step()));
    known.stream().filter(reading -> !steps.contains(reading.step())).forEach(run::add);
    run.sort(bySteps);
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (Reading reading : run) {
      least = Math.min(least, reading.loadKilograms());
      most = Math.max(most, reading.loadKilograms());
    }
    double low = mean(run, least);
    double slope = most > least ? (mean(run, most) - low) / (most - least) : 0;
    Reading first = fresh.stream().min(bySteps).orElseThrow();
    return new RunFacts(run, first, slope, least == 0 ? Optional.of(low) : Optional.empty());
  }

  private static double mean(List<Reading> run, double loadKilograms) {
    double sum = 0;
    int count = 0;
    for (Reading reading : run) {
      if (reading.loadKilograms() == loadKilograms) {
        sum += reading.outputCounts();
        count++;
      }
    }
    return count == 0 ? 0 : sum / count;
  }

  String name() {
    return first.run();
  }

  String session() {
    return first.session();
  }

  String cell() {
    return first.cell();
  }

  String board() {
    return first.board();
  }

  Optional<LocalDateTime> start() {
    return readings.get(0).time();
  }
}
