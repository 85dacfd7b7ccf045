package lotproof.study;

import java.util.List;
import java.util.Optional;

/**
 * How the study was laid out.
 *
 * @param loadsKilograms the loads of one run in order, rising and then falling
 * @param pairs the planned pairs, each once; empty when the study does not list them
 * @param reference the reference partners, for kind REFERENCE_PARTNER and no other; without them no
 *     figure can be had from that kind
 * @param sideTests runs that show what load runs do not, each effect once
 */
public record Design(
    Kind kind,
    List<Double> loadsKilograms,
    List<PlannedPair> pairs,
    Optional<ReferencePartners> reference,
    List<SideTest> sideTests,
    Pairing pairing) {

  /** How cells and boards were paired. */
  public enum Pairing implements Keyed {
    /** By chance: made by the plan, or drawn. */
    RANDOM,
    /** A board was chosen for each cell because of what it is. */
    MATCHED,
    /** The study does not say. */
    NOT_STATED
  }

  /** Which units meet which. */
  public enum Kind implements Keyed {
    /** Each cell meets one board and each board one cell. */
    DISJOINT_PAIRS,
    /** Each cell meets the next boards in turn. */
    ROTATION,
    /** Small groups in which every cell meets every board. */
    BLOCKS,
    /** Every cell meets every board. */
    FULL_CROSSING,
    /** Every cell on one reference board, every board on one reference cell or dummy bridge. */
    REFERENCE_PARTNER
  }

  /** A cell and a board that are to meet. */
  public record PlannedPair(String cell, String board, int runs) {
    public PlannedPair {
      if (runs < 1) {
        throw new IllegalArgumentException("planned runs must be at least 1, was " + runs);
      }
    }

    /** Name of the pair. */
    public String name() {
      return pairName(cell, board);
    }
  }

  /**
   * Partners that all units of the other kind are measured on. They belong to no lot.
   *
   * @param cell serial of the reference cell or dummy bridge
   */
  public record ReferencePartners(String cell, String board, boolean dummyBridge) {
    public ReferencePartners {
      Require.text(cell, "reference cell");
      Require.text(board, "reference board");
    }
  }

  /** Name of the pair of a cell and a board, as everything shows it. */
  public static String pairName(String cell, String board) {
    return cell + " × " + board;
  }

  /** Load runs of kits alone; how they were paired is not said. */
  public Design(Kind kind, List<Double> loadsKilograms, List<PlannedPair> pairs) {
    this(kind, loadsKilograms, pairs, Optional.empty(), List.of(), Pairing.NOT_STATED);
  }

  public Design {
    if (reference.isPresent() && kind != Kind.REFERENCE_PARTNER) {
      throw new IllegalArgumentException(
          "reference partners go with design kind reference-partner, was " + kind.key());
    }
    loadsKilograms = List.copyOf(loadsKilograms);
    pairs = Require.distinct(pairs, "planned pairs");
    sideTests = List.copyOf(sideTests);
    Require.distinct(sideTests.stream().map(SideTest::effect).toList(), "side tests");
  }

  /** The same layout with other planned pairs. */
  public Design withPairs(List<PlannedPair> others) {
    return new Design(kind, loadsKilograms, others, reference, sideTests, pairing);
  }

  /** The side test that a run belongs to; empty for a load run. */
  public Optional<SideTest> sideTestOf(String run) {
    return sideTests.stream().filter(test -> test.holds(run)).findFirst();
  }

  /** The loads that a run of this name is planned with. */
  public List<Double> loadsOf(String run) {
    return sideTestOf(run).map(SideTest::loadsKilograms).orElse(loadsKilograms);
  }
}
