package lotproof.gather.plausibility;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.study.Reading;

/**
 * A run as the checks see it.
 *
 * @param readings its readings by step
 * @param first the first of them that is to come in; of a recorded run its first step
 * @param slope counts per kg between its smallest and its largest load; 0 when it has one load only
 * @param zero mean output without load in counts, when there is one
 */
record Run(List<Reading> readings, Reading first, double slope, Optional<Double> zero) {

  /**
   * The runs of readings that are to come in, in the order in which they begin, each with the steps
   * that the record holds of it already.
   */
  static List<Run> of(List<Reading> readings, List<Reading> known) {
    Map<String, List<Reading>> runs = byRun(readings);
    Map<String, List<Reading>> more = byRun(known);
    List<Run> all = new ArrayList<>(runs.size());
    runs.forEach((name, run) -> all.add(merged(run, more.getOrDefault(name, List.of()))));
    return all;
  }

  private static Map<String, List<Reading>> byRun(List<Reading> readings) {
    return readings.stream()
        .collect(Collectors.groupingBy(Reading::run, LinkedHashMap::new, Collectors.toList()));
  }

  private static Run merged(List<Reading> fresh, List<Reading> known) {
    Map<Integer, Reading> bySteps = new TreeMap<>();
    known.forEach(reading -> bySteps.put(reading.step(), reading));
    List<Reading> run = new ArrayList<>(fresh);
    fresh.forEach(reading -> bySteps.remove(reading.step()));
    run.addAll(bySteps.values());
    run.sort(Comparator.comparingInt(Reading::step));
    DoubleSummaryStatistics loads =
        run.stream().mapToDouble(Reading::loadKilograms).summaryStatistics();
    double low = mean(run, loads.getMin());
    double rise = mean(run, loads.getMax()) - low;
    double span = loads.getMax() - loads.getMin();
    return new Run(
        run,
        fresh.stream().min(Comparator.comparingInt(Reading::step)).orElseThrow(),
        span > 0 ? rise / span : 0,
        loads.getMin() == 0 ? Optional.of(low) : Optional.empty());
  }

  private static double mean(List<Reading> run, double loadKilograms) {
    return run.stream()
        .filter(reading -> reading.loadKilograms() == loadKilograms)
        .mapToDouble(Reading::outputCounts)
        .average()
        .orElse(0);
  }

  String name() {
    return first.run();
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
