package lotproof.gather;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.study.Reading;

/**
 * What the checks at the door need of a run.
 *
 * @param readings its readings by step
 * @param slope counts per kg between its smallest and its largest load; 0 when it has one load only
 * @param zero mean output without load in counts, when there is one
 */
record RunFacts(List<Reading> readings, double slope, Optional<Double> zero) {

  /** The runs of readings, in the order in which they begin. */
  static List<RunFacts> of(List<Reading> readings) {
    Map<String, List<Reading>> runs = new LinkedHashMap<>();
    readings.forEach(r -> runs.computeIfAbsent(r.run(), run -> new ArrayList<>(9)).add(r));
    List<RunFacts> all = new ArrayList<>(runs.size());
    runs.values().forEach(run -> all.add(of(run, DoorChecks.bySteps())));
    return all;
  }

  private static RunFacts of(List<Reading> run, java.util.Comparator<Reading> order) {
    run.sort(order);
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (Reading reading : run) {
      least = Math.min(least, reading.loadKilograms());
      most = Math.max(most, reading.loadKilograms());
    }
    double low = mean(run, least);
    double slope = most > least ? (mean(run, most) - low) / (most - least) : 0;
    return new RunFacts(run, slope, least == 0 ? Optional.of(low) : Optional.empty());
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

  Reading first() {
    return readings.get(0);
  }

  String name() {
    return first().run();
  }

  String session() {
    return first().session();
  }

  String cell() {
    return first().cell();
  }

  String board() {
    return first().board();
  }

  Optional<LocalDateTime> start() {
    return first().time();
  }
}
