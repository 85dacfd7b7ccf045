package lotproof.statistics.components;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Which factor is eliminated and where the levels of the others stand. The factor with most levels
 * is eliminated, because its block of the equations is diagonal; the others make up the rest,
 * largest factor first. A factor with one level for each row adds to the diagonal of the rows and
 * has no block. Within a factor the levels are put in an order in which levels that share an
 * eliminated level stand close (reverse Cuthill-McKee), so that the rest has a thin envelope where
 * the study allows it.
 */
final class EffectLayout {
  /** Above this share of filled entries an order cannot help. */
  private static final double DENSE_SHARE = 0.25;

  /** Factor that is eliminated, or -1 when no factor has a block. */
  final int eliminated;

  final int eliminatedLevels;

  /** Factors of the rest, largest first. */
  final int[] rest;

  /** First column of each factor of the rest. */
  final int[] offset;

  final int restLevels;

  /** Factor of each column of the rest. */
  final int[] factorOfColumn;

  /** For each factor of the rest, the column of each row. */
  final int[][] column;

  /** Cells of the block between eliminated and rest levels that hold rows, by eliminated level. */
  final int[] crossStart;

  final int[] crossColumn;

  /** For each factor of the rest, the cell of each row. */
  final int[][] cross;

  final Envelope envelope;

  /** For each factor of the rest, the column of each level. */
  private final int[][] columnOfLevel;

  EffectLayout(ReducedRows data) {
    eliminated = largest(data);
    eliminatedLevels = eliminated < 0 ? 0 : data.levelCount[eliminated];
    rest =
        IntStream.range(0, data.factors())
            .filter(k -> k != data.rowFactor && k != eliminated)
            .boxed()
            .sorted(Comparator.comparingInt(k -> -data.levelCount[k]))
            .mapToInt(k -> k)
            .toArray();
    offset = new int[rest.length];
    int next = 0;
    for (int f = 0; f < rest.length; f++) {
      offset[f] = next;
      next += data.levelCount[rest[f]];
    }
    restLevels = next;
    factorOfColumn = new int[next];
    column = new int[rest.length][data.rows];
    cross = new int[rest.length][data.rows];
    columnOfLevel = new int[rest.length][];
    for (int f = 0; f < rest.length; f++) {
      int levels = data.levelCount[rest[f]];
      Arrays.fill(factorOfColumn, offset[f], offset[f] + levels, rest[f]);
      int start = offset[f];
      columnOfLevel[f] = Arrays.stream(order(data, rest[f])).map(at -> start + at).toArray();
      for (int p = 0; p < data.rows; p++) {
        column[f][p] = columnOfLevel[f][data.level[rest[f]][p]];
      }
    }
    crossStart = new int[eliminatedLevels + 1];
    crossColumn = buildCross(data);
    envelope = new Envelope(firstColumns());
  }

  private static int largest(ReducedRows data) {
    int best = -1;
    for (int k = 0; k < data.factors(); k++) {
      if (k != data.rowFactor && (best < 0 || data.levelCount[k] > data.levelCount[best])) {
        best = k;
      }
    }
    return best;
  }

  /** Factors that have a block of their own. */
  int[] blocks() {
    if (eliminated < 0) {
      return new int[0];
    }
    int[] result = Arrays.copyOf(rest, rest.length + 1);
    result[rest.length] = eliminated;
    return result;
  }

  /** Column of a level of a factor of the rest. */
  int columnOf(int factor, int level) {
    for (int f = 0; f < rest.length; f++) {
      if (rest[f] == factor) {
        return columnOfLevel[f][level];
      }
    }
    throw new IllegalStateException("factor " + factor + " has no block");
  }

  /**
   * Puts B' R into the first rows of the target: B the cells with the given values, R rows by
   * eliminated level.
   */
  void putCrossTransposed(double[] target, double[] values, double[][] rows) {
    int[] start = new int[restLevels + 1];
    for (int column : crossColumn) {
      start[column + 1]++;
    }
    for (int j = 0; j < restLevels; j++) {
      start[j + 1] += start[j];
    }
    int[] next = start.clone();
    int[] level = new int[crossColumn.length];
    double[] factor = new double[crossColumn.length];
    for (int i = 0; i < eliminatedLevels; i++) {
      for (int c = crossStart[i]; c < crossStart[i + 1]; c++) {
        int at = next[crossColumn[c]]++;
        level[at] = i;
        factor[at] = values[c];
      }
    }
    int width = eliminatedLevels == 0 ? 0 : rows[0].length;
    double[] line = new double[width];
    for (int j = 0; j < restLevels; j++) {
      Arrays.fill(line, 0);
      Dense.addRows(line, factor, rows, level, start[j], start[j + 1]);
      System.arraycopy(line, 0, target, j * width, width);
    }
  }

  /** Position of each level of factor k: reverse Cuthill-McKee, neighbours by eliminated level. */
  private int[] order(ReducedRows data, int k) {
    int levels = data.levelCount[k];
    int[][] byEliminated = lists(data, eliminated, k);
    double pairs = 0;
    for (int[] members : byEliminated) {
      pairs += (double) members.length * members.length;
    }
    if (pairs > DENSE_SHARE * levels * levels) {
      return IntStream.range(0, levels).toArray();
    }
    int[][] byLevel = lists(data, k, eliminated);
    int[] position = new int[levels];
    Arrays.fill(position, -1);
    int placed = 0;
    int[] byDegree =
        IntStream.range(0, levels)
            .boxed()
            .sorted(Comparator.comparingInt(level -> byLevel[level].length))
            .mapToInt(level -> level)
            .toArray();
    ArrayDeque<Integer> queue = new ArrayDeque<>();
    boolean[] seen = new boolean[levels];
    for (int start : byDegree) {
      if (!seen[start]) {
        seen[start] = true;
        queue.add(start);
      }
      while (!queue.isEmpty()) {
        int level = queue.remove();
        position[level] = levels - 1 - placed++;
        for (int e : byLevel[level]) {
          for (int neighbour : byEliminated[e]) {
            if (!seen[neighbour]) {
              seen[neighbour] = true;
              queue.add(neighbour);
            }
          }
        }
      }
    }
    return position;
  }

  /** Distinct levels of factor b met by each level of factor a. */
  private static int[][] lists(ReducedRows data, int a, int b) {
    long width = data.levelCount[b];
    long[] keys = new long[data.rows];
    for (int p = 0; p < data.rows; p++) {
      keys[p] = data.level[a][p] * width + data.level[b][p];
    }
    Arrays.sort(keys);
    int[] count = new int[data.levelCount[a]];
    for (int p = 0; p < keys.length; p++) {
      if (p == 0 || keys[p] != keys[p - 1]) {
        count[(int) (keys[p] / width)]++;
      }
    }
    int[][] result = new int[count.length][];
    for (int i = 0; i < count.length; i++) {
      result[i] = new int[count[i]];
    }
    Arrays.fill(count, 0);
    for (int p = 0; p < keys.length; p++) {
      if (p == 0 || keys[p] != keys[p - 1]) {
        int i = (int) (keys[p] / width);
        result[i][count[i]++] = (int) (keys[p] % width);
      }
    }
    return result;
  }

  private int[] buildCross(ReducedRows data) {
    int entries = rest.length * data.rows;
    long[] keys = new long[entries];
    for (int f = 0; f < rest.length; f++) {
      for (int p = 0; p < data.rows; p++) {
        keys[f * data.rows + p] = key(data, f, p);
      }
    }
    long[] sorted = keys.clone();
    Arrays.sort(sorted);
    int distinct = 0;
    for (int e = 0; e < entries; e++) {
      if (e == 0 || sorted[e] != sorted[e - 1]) {
        sorted[distinct++] = sorted[e];
      }
    }
    int[] columns = new int[distinct];
    for (int c = 0; c < distinct; c++) {
      columns[c] = (int) (sorted[c] % restLevels);
      crossStart[(int) (sorted[c] / restLevels) + 1]++;
    }
    for (int i = 0; i < eliminatedLevels; i++) {
      crossStart[i + 1] += crossStart[i];
    }
    for (int e = 0; e < entries; e++) {
      cross[e / data.rows][e % data.rows] = Arrays.binarySearch(sorted, 0, distinct, keys[e]);
    }
    return columns;
  }

  private long key(ReducedRows data, int f, int p) {
    return (long) data.level[eliminated][p] * restLevels + column[f][p];
  }

  /** First filled column of each row of the rest. */
  private int[] firstColumns() {
    int[] first = IntStream.range(0, restLevels).toArray();
    for (int i = 0; i < eliminatedLevels; i++) {
      for (int c = crossStart[i]; c < crossStart[i + 1]; c++) {
        int j = crossColumn[c];
        first[j] = Math.min(first[j], crossColumn[crossStart[i]]);
      }
    }
    return first;
  }
}
