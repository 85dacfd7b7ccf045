package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;

/** What a chart draws of more things than an eye can tell apart. Tables keep all of them. */
final class Downsampled {
  private Downsampled() {}

  /**
   * At most so many items in their order: a quarter of them those that reach furthest, the others
   * evenly from what is left.
   *
   * @param items what there is
   * @param most how many are drawn at most, 4 or more
   * @param reach how far an item reaches; nothing with the greatest reach is left out
   */
  static <T> List<T> keepingExtremes(List<T> items, int most, ToDoubleFunction<T> reach) {
    if (items.size() <= most) {
      return items;
    }
    Set<Integer> kept = new HashSet<>();
    double[] reaches = items.stream().mapToDouble(reach).toArray();
    IntStream.range(0, reaches.length)
        .boxed()
        .sorted(Comparator.comparingDouble((Integer i) -> -reaches[i]))
        .limit(most / 4)
        .forEach(kept::add);
    int[] others = IntStream.range(0, items.size()).filter(i -> !kept.contains(i)).toArray();
    int room = most - kept.size();
    for (int k = 0; k < room; k++) {
      kept.add(others[(int) ((long) k * others.length / room)]);
    }
    List<T> result = new ArrayList<>();
    for (int i = 0; i < items.size(); i++) {
      if (kept.contains(i)) {
        result.add(items.get(i));
      }
    }
    return List.copyOf(result);
  }

  /** Says what is drawn; nothing where that is all. */
  static String words(List<?> items, List<?> drawn, String extremes) {
    return drawn.size() == items.size()
        ? ""
        : " (drawn are " + drawn.size() + " of them, those " + extremes + " among them)";
  }
}
