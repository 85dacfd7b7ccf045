package lotproof.study;

import java.util.List;

/**
 * How the study was laid out.
 *
 * @param kind which units meet which
 * @param loadsKilograms the loads of one run in order, rising and then falling
 * @param pairs the planned pairs, each once; empty when the study does not list them
 */
public record Design(Kind kind, List<Double> loadsKilograms, List<PlannedPair> pairs) {

  /** Which units meet which. */
  public enum Kind {
    /** Each cell meets one board and each board one cell. */
    DISJOINT_PAIRS("disjoint-pairs"),
    /** Each cell meets the next boards in turn. */
    ROTATION("rotation"),
    /** Small groups in which every cell meets every board. */
    BLOCKS("blocks"),
    /** Every cell meets every board. */
    FULL_CROSSING("full-crossing");

    private final String key;

    Kind(String key) {
      this.key = key;
    }

    /** The name used in study.yaml. */
    public String key() {
      return key;
    }
  }

  /**
   * A cell and a board that are to meet.
   *
   * @param cell serial of the cell
   * @param board serial of the board
   * @param runs how many runs are planned, at least 1
   */
  public record PlannedPair(String cell, String board, int runs) {
    public PlannedPair {
      if (runs < 1) {
        throw new IllegalArgumentException("planned runs must be at least 1, was " + runs);
      }
    }
  }

  public Design {
    loadsKilograms = List.copyOf(loadsKilograms);
    pairs = Require.distinct(pairs, "planned pairs");
  }
}
