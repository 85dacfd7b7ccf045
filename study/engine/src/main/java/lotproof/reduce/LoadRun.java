package lotproof.reduce;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import lotproof.study.Reading;

/**
 * The readings of one load run of one pair, in the order in which the loads were applied.
 *
 * @param name the run's name in the record
 * @param cell serial of the cell, after any correction that was decided
 * @param board serial of the board, after any correction that was decided
 * @param readings at least one reading, by step
 */
public record LoadRun(String name, String cell, String board, List<Reading> readings) {
  public LoadRun {
    if (readings.isEmpty()) {
      throw new IllegalArgumentException("run " + name + " has no reading");
    }
    readings = readings.stream().sorted(Comparator.comparingInt(Reading::step)).toList();
  }

  /** Groups readings into runs, in the order in which the runs first appear. */
  public static List<LoadRun> groupedFrom(List<Reading> readings) {
    Map<String, List<Reading>> byRun = new LinkedHashMap<>();
    for (Reading reading : readings) {
      byRun.computeIfAbsent(reading.run(), r -> new ArrayList<>()).add(reading);
    }
    return byRun.values().stream()
        .map(rows -> new LoadRun(rows.get(0).run(), rows.get(0).cell(), rows.get(0).board(), rows))
        .toList();
  }

  /** The same run with another cell, after a correction. */
  public LoadRun withCell(String serial) {
    return new LoadRun(name, serial, board, readings);
  }

  /** The same run with another board, after a correction. */
  public LoadRun withBoard(String serial) {
    return new LoadRun(name, cell, serial, readings);
  }

  /** Name of the pair, the same for all its runs. */
  public String pair() {
    return pairName(cell, board);
  }

  /** Name of the pair of a cell and a board, as everything shows it. */
  public static String pairName(String cell, String board) {
    return cell + " × " + board;
  }

  /** The bench session. */
  public String session() {
    return readings.get(0).session();
  }

  /** Loads in order, in kilograms. */
  public List<Double> loadsKilograms() {
    return readings.stream().map(Reading::loadKilograms).toList();
  }

  /** Index of the first reading at the largest load. */
  public int peak() {
    return IntStream.range(0, readings.size())
        .reduce(
            0,
            (best, i) ->
                readings.get(i).loadKilograms() > readings.get(best).loadKilograms() ? i : best);
  }

  /** Whether the reading at this index was taken on the way up or down. */
  public Direction direction(int index) {
    return index <= peak() ? Direction.RISING : Direction.FALLING;
  }
}
