package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;

/** Which factor is finer than which, and whether a layout is balanced. The residual is last. */
final class AnovaLayout {
  private final List<String> names = new ArrayList<>();
  private final List<int[]> level = new ArrayList<>();
  private final List<Integer> levels = new ArrayList<>();
  private final int observations;

  AnovaLayout(List<RandomFactor> factors, int observations) {
    this.observations = observations;
    for (RandomFactor factor : factors) {
      add(factor.name(), factor.levelOf());
    }
    add(RandomFactor.RESIDUAL, IntStream.range(0, observations).toArray());
  }

  /** Renumbers, so that levels without observations do not count. */
  private void add(String name, int[] raw) {
    Map<Integer, Integer> numbers = new HashMap<>();
    int[] result = new int[raw.length];
    for (int i = 0; i < raw.length; i++) {
      Integer number = numbers.get(raw[i]);
      if (number == null) {
        number = numbers.size();
        numbers.put(raw[i], number);
      }
      result[i] = number;
    }
    names.add(name);
    level.add(result);
    levels.add(numbers.size());
  }

  int count() {
    return names.size();
  }

  String name(int k) {
    return names.get(k);
  }

  int levels(int k) {
    return levels.get(k);
  }

  int level(int k, int observation) {
    return level.get(k)[observation];
  }

  double readingsPerLevel(int k) {
    return (double) observations / levels.get(k);
  }

  int[] coarsestFirst() {
    return IntStream.range(0, count())
        .boxed()
        .sorted(Comparator.comparingInt(levels::get))
        .mapToInt(k -> k)
        .toArray();
  }

  /** True when each group of k lies within one group of g. */
  boolean finer(int k, int g) {
    int[] within = new int[levels.get(k)];
    Arrays.fill(within, -1);
    for (int i = 0; i < observations; i++) {
      int group = level(k, i);
      if (within[group] >= 0 && within[group] != level(g, i)) {
        return false;
      }
      within[group] = level(g, i);
    }
    return true;
  }

  /** True when E(MS_k) is E(MS_g) plus a multiple of component k alone. */
  boolean expectationsDifferBy(int k, int g) {
    for (int h = 0; h < count(); h++) {
      boolean inK = h != k && finer(h, k);
      if (inK != finer(h, g)) {
        return false;
      }
    }
    return true;
  }

  /** Why the layout is not balanced, if it is not. */
  Optional<String> imbalance() {
    for (int k = 0; k < count(); k++) {
      int[] sizes = new int[levels.get(k)];
      for (int group : level.get(k)) {
        sizes[group]++;
      }
      for (int size : sizes) {
        if (size != sizes[0]) {
          return Optional.of(
              "The levels of "
                  + name(k)
                  + " have unequal numbers of readings, so there is no"
                  + " balanced analysis; the fit handles it.");
        }
      }
      for (int g = 0; g < k; g++) {
        if (!proportional(k, g)) {
          return Optional.of(
              name(g)
                  + " and "
                  + name(k)
                  + " are combined unevenly, so there is no balanced"
                  + " analysis; the fit handles it.");
        }
      }
    }
    return Optional.empty();
  }

  private boolean proportional(int k, int g) {
    int[] join = join(k, g);
    int blocks = (int) Arrays.stream(join).distinct().count();
    if (blocks > 1 && !known(join)) {
      return false;
    }
    Map<Long, Integer> cells = new HashMap<>();
    for (int i = 0; i < observations; i++) {
      cells.merge(((long) level(k, i) << 32) | level(g, i), 1, Integer::sum);
    }
    double expected = readingsPerLevel(k) * readingsPerLevel(g) / ((double) observations / blocks);
    return cells.values().stream().allMatch(size -> Math.abs(size - expected) < 1e-9);
  }

  /** Finest partition that is coarser than both: connected groups. */
  private int[] join(int k, int g) {
    int offset = levels.get(k);
    int[] parent = IntStream.range(0, offset + levels.get(g)).toArray();
    for (int i = 0; i < observations; i++) {
      int a = root(parent, level(k, i));
      int b = root(parent, offset + level(g, i));
      parent[a] = b;
    }
    int[] result = new int[observations];
    for (int i = 0; i < observations; i++) {
      result[i] = root(parent, level(k, i));
    }
    return result;
  }

  private static int root(int[] parent, int start) {
    int node = start;
    while (parent[node] != node) {
      parent[node] = parent[parent[node]];
      node = parent[node];
    }
    return node;
  }

  private boolean known(int[] partition) {
    int groups = (int) Arrays.stream(partition).distinct().count();
    for (int k = 0; k < count(); k++) {
      Set<Long> pairs = new HashSet<>();
      for (int i = 0; i < observations; i++) {
        pairs.add(((long) level(k, i) << 32) | partition[i]);
      }
      if (levels.get(k) == groups && pairs.size() == groups) {
        return true;
      }
    }
    return false;
  }
}
