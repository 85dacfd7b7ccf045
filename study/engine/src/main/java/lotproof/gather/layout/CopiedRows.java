package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.statistics.summary.Summary;

/**
 * Rows of a table of results that stand in it more than once, as if they had been measured again.
 *
 * <ul>
 *   <li>A block: rows in the same order with the same values and units. With p the chance that one
 *       row repeats another, n rows hold a repeated block of w rows n^2 p^w / 2 times by chance; it
 *       is named where that is below one in ten thousand, and where values change within it, so
 *       that a sorted table does not count.
 *   <li>Rows of a unit that are equal in every column.
 *   <li>Where no unit is named, values that nearly all have an equal one although their step is
 *       fine against their spread.
 * </ul>
 *
 * <p>Two measured values of a unit agree with a chance of at most q / (2 sqrt(pi) s), q their step,
 * s the scatter of repeats; where fewer than three differ, a twentieth of the standard deviation of
 * all values. Without units p is the chance that two rows have the same value. Construction.
 *
 * @param line a line that repeats another
 * @param first the line that it repeats
 * @param rows how many rows are repeated
 * @param many whether so many that the table is not to be taken without a word
 */
record CopiedRows(int line, int first, int rows, boolean many) {
  private static final double NEGLIGIBLE = 1e-4;
  private static final double SELDOM = 0.05;
  private static final double AGREE = 2 * Math.sqrt(Math.PI);
  private static final int SHORTEST_BLOCK = 5;
  private static final int FEWEST_CHANGES = 3;
  private static final int FEW = 2;
  private static final int FEWEST_REPEATS = 3;
  private static final double SCATTER_AT_LEAST = 20;

  /**
   * Finds them.
   *
   * @param units what names the unit of each row; all empty where nothing does
   * @param lines each row as it stands in the file, all columns
   */
  static Optional<CopiedRows> of(
      List<Integer> rows, List<Double> values, List<String> units, List<String> lines) {
    if (values.size() < 2) {
      return Optional.empty();
    }
    List<String> wanted =
        IntStream.range(0, values.size())
            .mapToObj(i -> values.get(i) + "\n" + units.get(i))
            .toList();
    boolean named = units.stream().anyMatch(unit -> !unit.isBlank());
    double sd = Summary.sd(values.stream().mapToDouble(v -> v).toArray());
    if (!(sd > 0)) {
      return Optional.empty();
    }
    if (!named) {
      return block(rows, same(values), wanted).or(() -> twins(rows, agree(values, sd), lines));
    }
    double agree = agree(values, scatter(values, units).orElse(sd / SCATTER_AT_LEAST));
    return block(rows, agree, wanted).or(() -> repeats(rows, agree, units, lines));
  }

  /** The chance that two of the values are equal, from how often they are. */
  private static double same(List<Double> values) {
    return values.stream()
        .collect(Collectors.groupingBy(v -> v, Collectors.counting()))
        .values()
        .stream()
        .mapToDouble(count -> Math.pow(count / (double) values.size(), 2))
        .sum();
  }

  /** The scatter of repeats of a unit, where enough of them differ. */
  private static OptionalDouble scatter(List<Double> values, List<String> units) {
    Map<String, Double> lastOfUnit = new HashMap<>();
    List<Double> squares = new ArrayList<>();
    for (int i = 0; i < values.size(); i++) {
      Double before = lastOfUnit.put(units.get(i), values.get(i));
      if (before != null) {
        squares.add(Math.pow(values.get(i) - before, 2));
      }
    }
    return squares.stream().filter(square -> square > 0).count() < FEWEST_REPEATS
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            Math.sqrt(squares.stream().mapToDouble(d -> d).average().orElseThrow() / 2));
  }

  private static double agree(List<Double> values, double scatter) {
    return Math.min(
        1, Summary.step(values.stream().mapToDouble(v -> v).toArray()) / (AGREE * scatter));
  }

  private static Optional<CopiedRows> block(List<Integer> rows, double same, List<String> wanted) {
    int n = wanted.size();
    double needed = Math.log(2 * NEGLIGIBLE / n / n) / Math.log(Math.min(same, 0.999));
    int width = (int) Math.max(SHORTEST_BLOCK, Math.min(n, Math.ceil(needed)));
    if (same >= 1 || width > n / 2) {
      return Optional.empty();
    }
    Map<List<String>, Integer> seen = new HashMap<>();
    for (int i = 0; i + width <= n; i++) {
      List<String> window = wanted.subList(i, i + width);
      Integer before = seen.putIfAbsent(window, i);
      boolean changes =
          IntStream.range(1, width).filter(k -> !window.get(k).equals(window.get(k - 1))).count()
              >= FEWEST_CHANGES;
      if (before != null && before + width <= i && changes) {
        int length = width;
        while (i + length < n
            && before + length < i
            && wanted.get(i + length).equals(wanted.get(before + length))) {
          length++;
        }
        return Optional.of(new CopiedRows(rows.get(i), rows.get(before), length, true));
      }
    }
    return Optional.empty();
  }

  /** Rows of one unit that are equal in every column. */
  private static Optional<CopiedRows> repeats(
      List<Integer> rows, double agree, List<String> units, List<String> lines) {
    Map<String, Integer> firstOfLine = new HashMap<>();
    List<CopiedRows> copies = new ArrayList<>();
    for (int i = 0; i < lines.size(); i++) {
      Integer first = firstOfLine.putIfAbsent(lines.get(i), i);
      if (first != null) {
        copies.add(new CopiedRows(rows.get(i), rows.get(first), 1, false));
      }
    }
    long compared =
        units.stream()
            .collect(Collectors.groupingBy(u -> u, Collectors.counting()))
            .values()
            .stream()
            .mapToLong(count -> count * (count - 1) / 2)
            .sum();
    double chance = atLeast(copies.size(), compared, agree);
    boolean many = copies.size() > FEW && chance < NEGLIGIBLE;
    return copies.stream()
        .filter(copy -> chance < SELDOM)
        .findFirst()
        .map(copy -> new CopiedRows(copy.line, copy.first, copies.size(), many));
  }

  /** An upper bound of the chance of so many of n: n over k times p to the k. */
  private static double atLeast(int some, long n, double p) {
    double chance = 1;
    for (int k = 1; k <= some; k++) {
      chance *= p * (n - some + k) / k;
    }
    return Math.min(1, chance);
  }

  /** Values that nearly all have an equal one. */
  private static Optional<CopiedRows> twins(List<Integer> rows, double agree, List<String> lines) {
    Map<String, List<Integer>> alike = new LinkedHashMap<>();
    for (int i = 0; i < lines.size(); i++) {
      alike.computeIfAbsent(lines.get(i), line -> new ArrayList<>()).add(rows.get(i));
    }
    int n = lines.size();
    int single = (int) alike.values().stream().filter(of -> of.size() == 1).count();
    double pairs =
        alike.values().stream().mapToDouble(of -> of.size() * (of.size() - 1) / 2.0).sum();
    double expected = n * (n - 1) / 2.0 * agree;
    boolean copied = single <= n / 10 && pairs > 10 * (1 + expected);
    return alike.values().stream()
        .filter(of -> copied && of.size() > 1)
        .findFirst()
        .map(of -> new CopiedRows(of.get(1), of.get(0), n - alike.size(), true));
  }
}
