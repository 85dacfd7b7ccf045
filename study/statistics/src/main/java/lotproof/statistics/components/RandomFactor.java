package lotproof.statistics.components;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * One source of random variation: which of its levels (units, lots, pairs) each observation belongs
 * to. A pair factor is given like any other, one level for each cell on its board.
 *
 * @param component what it stands for, such as a cell; not the residual
 * @param levelOf level of each observation, 0 to {@code levelCount - 1}
 * @param levelCount number of levels; a level without an observation is allowed
 */
@SuppressWarnings("ArrayRecordComponent") // copied in and out; compared by no one
public record RandomFactor(Component component, int[] levelOf, int levelCount) {
  public RandomFactor {
    if (component.equals(Component.RESIDUAL)) {
      throw new IllegalArgumentException("the residual is in every model and has no levels");
    }
    if (levelCount < 1) {
      throw new IllegalArgumentException("levelCount must be 1 or more, was " + levelCount);
    }
    levelOf = levelOf.clone();
    for (int level : levelOf) {
      if (level < 0 || level >= levelCount) {
        throw new IllegalArgumentException(
            "level of factor "
                + component
                + " must lie in 0.."
                + (levelCount - 1)
                + ", was "
                + level);
      }
    }
  }

  /** Numbers the labels in the order of their first appearance. */
  public static RandomFactor of(Component component, List<String> labels) {
    int[] levelOf = numbered(labels);
    int levels = 1 + Arrays.stream(levelOf).max().orElse(0);
    return new RandomFactor(component, levelOf, levels);
  }

  /** For each key its number, in the order of their first appearance. */
  static int[] numbered(List<?> keys) {
    Map<Object, Integer> numbers = new HashMap<>();
    return keys.stream()
        .mapToInt(key -> numbers.computeIfAbsent(key, any -> numbers.size()))
        .toArray();
  }

  @Override
  public int[] levelOf() {
    return levelOf.clone();
  }

  int level(int observation) {
    return levelOf[observation];
  }

  int size() {
    return levelOf.length;
  }
}
