package lotproof.statistics.components;

import java.util.Arrays;

/**
 * Which factor is eliminated and where the levels of the others stand. The factor with most levels
 * is eliminated, because its block of the equations is diagonal; the others make up the dense rest.
 * A factor with one level for each row adds to the diagonal of the rows and has no block.
 */
final class EffectLayout {
  /** Factor that is eliminated, or -1 when no factor has a block. */
  final int eliminated;

  final int eliminatedLevels;

  /** Factors of the rest, in order. */
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

  EffectLayout(ReducedRows data) {
    int best = -1;
    for (int k = 0; k < data.factors(); k++) {
      if (k != data.rowFactor && (best < 0 || data.levelCount[k] > data.levelCount[best])) {
        best = k;
      }
    }
    eliminated = best;
    eliminatedLevels = best < 0 ? 0 : data.levelCount[best];
    int[] others = new int[data.factors()];
    int count = 0;
    for (int k = 0; k < data.factors(); k++) {
      if (k != data.rowFactor && k != best) {
        others[count++] = k;
      }
    }
    rest = Arrays.copyOf(others, count);
    offset = new int[count];
    int next = 0;
    for (int f = 0; f < count; f++) {
      offset[f] = next;
      next += data.levelCount[rest[f]];
    }
    restLevels = next;
    factorOfColumn = new int[next];
    column = new int[count][data.rows];
    for (int f = 0; f < count; f++) {
      Arrays.fill(factorOfColumn, offset[f], offset[f] + data.levelCount[rest[f]], rest[f]);
      for (int p = 0; p < data.rows; p++) {
        column[f][p] = offset[f] + data.level[rest[f]][p];
      }
    }
    crossStart = new int[eliminatedLevels + 1];
    cross = new int[count][data.rows];
    crossColumn = buildCross(data);
  }

  private int[] buildCross(ReducedRows data) {
    int entries = best() ? rest.length * data.rows : 0;
    long[] keys = new long[entries];
    for (int f = 0; f < rest.length && best(); f++) {
      for (int p = 0; p < data.rows; p++) {
        keys[f * data.rows + p] = key(data, f, p);
      }
    }
    long[] distinct = Arrays.stream(keys).sorted().distinct().toArray();
    int[] columns = new int[distinct.length];
    for (int c = 0; c < distinct.length; c++) {
      columns[c] = (int) (distinct[c] % restLevels);
      crossStart[(int) (distinct[c] / restLevels) + 1]++;
    }
    for (int i = 0; i < eliminatedLevels; i++) {
      crossStart[i + 1] += crossStart[i];
    }
    for (int e = 0; e < entries; e++) {
      cross[e / data.rows][e % data.rows] = Arrays.binarySearch(distinct, keys[e]);
    }
    return columns;
  }

  private boolean best() {
    return eliminated >= 0;
  }

  private long key(ReducedRows data, int f, int p) {
    return (long) data.level[eliminated][p] * restLevels + column[f][p];
  }
}
