package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.statistics.linear.SparsePattern;

/**
 * The order in which the levels of the factors leave the equations. The factor with most levels
 * goes first, because no two of its levels meet; then, one by one, the level that meets fewest of
 * those left (minimum degree), so that little is filled in: a rotation joins each board to few
 * others. A factor with one level for each row adds to the diagonal of the rows and has no
 * equations.
 *
 * <p>Source: Davis (2006), Direct Methods for Sparse Linear Systems, chapter 7 (from memory).
 */
final class EliminationOrder {
  /** Factors with equations, the largest first. */
  final int[] factors;

  /** Factor of each column of the equations. */
  final int[] factorOfColumn;

  /** For each of the factors, the column of each level. */
  final int[][] columnOfLevel;

  /** For each of the factors, the column of each row. */
  final int[][] column;

  /** For each two of the factors, f before g or f = g, the place of each row's entry. */
  final int[][][] place;

  final SparsePattern pattern;

  private final int firstLevels;

  EliminationOrder(CellMeans data) {
    factors =
        IntStream.range(0, data.factors())
            .filter(k -> k != data.rowFactor)
            .boxed()
            .sorted((a, b) -> data.levelCount[b] - data.levelCount[a])
            .mapToInt(k -> k)
            .toArray();
    int columns = Arrays.stream(factors).map(k -> data.levelCount[k]).sum();
    firstLevels = factors.length == 0 ? 0 : data.levelCount[factors[0]];
    int[][] node = new int[factors.length][data.rows];
    int[] nodes = new int[factors.length + 1];
    for (int f = 0; f < factors.length; f++) {
      nodes[f + 1] = nodes[f] + data.levelCount[factors[f]];
      for (int p = 0; p < data.rows; p++) {
        node[f][p] = nodes[f] + data.level[factors[f]][p];
      }
    }
    int[] order = new int[columns];
    pattern = new SparsePattern(eliminate(node, order));
    factorOfColumn = new int[columns];
    columnOfLevel = new int[factors.length][];
    column = new int[factors.length][data.rows];
    for (int f = 0; f < factors.length; f++) {
      columnOfLevel[f] = Arrays.copyOfRange(order, nodes[f], nodes[f + 1]);
      for (int j : columnOfLevel[f]) {
        factorOfColumn[j] = factors[f];
      }
      int[] places = columnOfLevel[f];
      int[] levels = data.level[factors[f]];
      Arrays.setAll(column[f], p -> places[levels[p]]);
    }
    place = new int[factors.length][factors.length][];
    for (int f = 0; f < factors.length; f++) {
      for (int g = f; g < factors.length; g++) {
        int[] one = column[f];
        int[] other = column[g];
        place[f][g] =
            IntStream.range(0, data.rows).map(p -> pattern.place(one[p], other[p])).toArray();
      }
    }
  }

  /** Where a factor stands among those with equations. */
  int indexOf(int factor) {
    return Arrays.stream(factors).boxed().toList().indexOf(factor);
  }

  /** Fills in the place of each node; returns what each meets among those after it, in order. */
  private List<int[]> eliminate(int[][] node, int[] order) {
    int n = order.length;
    int left = n - firstLevels;
    List<BitSet> meets = new ArrayList<>();
    BitSet[] ofFirst = new BitSet[firstLevels];
    Arrays.setAll(ofFirst, i -> new BitSet());
    for (int i = 0; i < left; i++) {
      meets.add(new BitSet());
    }
    for (int p = 0; p < (node.length == 0 ? 0 : node[0].length); p++) {
      for (int f = 1; f < node.length; f++) {
        ofFirst[node[0][p]].set(node[f][p] - firstLevels);
      }
    }
    List<BitSet> columns = new ArrayList<>();
    for (int i = 0; i < firstLevels; i++) {
      order[i] = i;
      columns.add(ofFirst[i]);
      join(ofFirst[i], meets);
    }
    int[] degree = meets.stream().mapToInt(BitSet::cardinality).toArray();
    BitSet waiting = new BitSet();
    waiting.set(0, left);
    for (int step = firstLevels; step < n; step++) {
      int fewest = waiting.nextSetBit(0);
      for (int v = fewest; v >= 0; v = waiting.nextSetBit(v + 1)) {
        fewest = degree[v] < degree[fewest] ? v : fewest;
      }
      waiting.clear(fewest);
      order[firstLevels + fewest] = step;
      BitSet own = meets.get(fewest);
      own.and(waiting);
      join(own, meets);
      for (int u = own.nextSetBit(0); u >= 0; u = own.nextSetBit(u + 1)) {
        meets.get(u).clear(fewest);
        degree[u] = meets.get(u).cardinality();
      }
      columns.add(own);
    }
    return columns.stream()
        .map(own -> own.stream().map(v -> order[firstLevels + v]).sorted().toArray())
        .toList();
  }

  /** All of a group meet one another. */
  private static void join(BitSet group, List<BitSet> meets) {
    for (int u = group.nextSetBit(0); u >= 0; u = group.nextSetBit(u + 1)) {
      meets.get(u).or(group);
    }
  }
}
