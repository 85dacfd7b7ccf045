package lotproof.reduce;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * The readings of one load run of one pair, in the order in which the loads were applied. Each
 * reading keeps the mass that lay on the cell; beside it stands the planned load that this mass
 * stands for, by which steps of different runs are compared.
 *
 * @param name the run's name in the record
 * @param cell serial of the cell, after any correction that was decided
 * @param board serial of the board, after any correction that was decided
 * @param readings at least one reading, by step
 * @param loadsKilograms for each of them the planned load, or the mass itself where none is near
 */
public record LoadRun(
    String name, String cell, String board, List<Reading> readings, List<Double> loadsKilograms)
    implements UnitPair {
  public LoadRun {
    if (readings.isEmpty()) {
      throw new IllegalArgumentException("run " + name + " has no reading");
    }
    if (loadsKilograms.size() != readings.size()) {
      String message = "run %s has %s readings and %s loads";
      throw new IllegalArgumentException(
          message.formatted(name, readings.size(), loadsKilograms.size()));
    }
    readings = List.copyOf(readings);
    loadsKilograms = List.copyOf(loadsKilograms);
  }

  /** A run whose masses are its loads, because no plan says otherwise. */
  public LoadRun(String name, String cell, String board, List<Reading> readings) {
    this(name, cell, board, bySteps(readings), masses(bySteps(readings)));
  }

  private static List<Reading> bySteps(List<Reading> readings) {
    return readings.stream().sorted(Comparator.comparingInt(Reading::step)).toList();
  }

  private static List<Double> masses(List<Reading> readings) {
    return readings.stream().map(Reading::loadKilograms).toList();
  }

  private static LoadRun of(List<Reading> readings, Study study) {
    List<Reading> steps = bySteps(readings);
    List<Double> loads =
        steps.stream().map(r -> PlannedLoads.of(r, study).orElse(r.loadKilograms())).toList();
    Reading first = readings.get(0);
    return new LoadRun(first.run(), first.cell(), first.board(), steps, loads);
  }

  /**
   * Groups readings into runs, in the order in which the runs first appear.
   *
   * @param study says which loads were planned
   */
  public static List<LoadRun> groupedFrom(List<Reading> readings, Study study) {
    Map<String, List<Reading>> byRun = new LinkedHashMap<>();
    for (Reading reading : readings) {
      byRun.computeIfAbsent(reading.run(), r -> new ArrayList<>()).add(reading);
    }
    return byRun.values().stream().map(rows -> of(rows, study)).toList();
  }

  /** The same run with another cell or board, after a correction. */
  public LoadRun with(UnitKind kind, String serial) {
    return kind == UnitKind.CELL
        ? new LoadRun(name, serial, board, readings, loadsKilograms)
        : new LoadRun(name, cell, serial, readings, loadsKilograms);
  }

  /** The bench session. */
  public String session() {
    return readings.get(0).session();
  }

  /** The mass that lay on the cell at this index, in kilograms. */
  public double massKilograms(int index) {
    return readings.get(index).loadKilograms();
  }

  /** Index of the first rising reading at a planned load, if the run has one. */
  public OptionalInt rising(double loadKilograms) {
    return IntStream.rangeClosed(0, peak())
        .filter(i -> loadsKilograms.get(i) == loadKilograms)
        .findFirst();
  }

  /** Index of the first reading at the largest load. */
  public int peak() {
    return IntStream.range(0, readings.size())
        .reduce(0, (best, i) -> loadsKilograms.get(i) > loadsKilograms.get(best) ? i : best);
  }

  /** Whether the reading at this index was taken on the way up or down. */
  public Direction direction(int index) {
    return index <= peak() ? Direction.RISING : Direction.FALLING;
  }
}
