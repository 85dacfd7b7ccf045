package lotproof.plan.design;

import lotproof.study.Design;
import lotproof.study.Keyed;

/** The designs that are compared. */
public enum DesignKind implements Keyed {
  REFERENCE_PARTNER("every cell on one reference board, every board on one reference cell"),
  DISJOINT_PAIRS("each cell with one board, once"),
  DISJOINT_PAIRS_REPEATS("each cell with one board, some pairs twice"),
  ROTATION_2("each cell with two boards in turn"),
  ROTATION_2_REPEATS("each cell with two boards in turn, some pairs twice"),
  ROTATION_3("each cell with three boards in turn"),
  BLOCKS("groups of two cells and two boards, all four pairs of each"),
  FULL_CROSSING("few cells and few boards, every cell with every board");

  private final String words;

  DesignKind(String words) {
    this.words = words;
  }

  /** The design in words. */
  public String words() {
    return words;
  }

  @Override
  public String key() {
    return this == BLOCKS ? "blocks-2x2" : Keyed.super.key();
  }

  /** How study.yaml names it. */
  public Design.Kind inStudy() {
    return switch (this) {
      case REFERENCE_PARTNER -> Design.Kind.REFERENCE_PARTNER;
      case DISJOINT_PAIRS, DISJOINT_PAIRS_REPEATS -> Design.Kind.DISJOINT_PAIRS;
      case ROTATION_2, ROTATION_2_REPEATS, ROTATION_3 -> Design.Kind.ROTATION;
      case BLOCKS -> Design.Kind.BLOCKS;
      case FULL_CROSSING -> Design.Kind.FULL_CROSSING;
    };
  }

  /** How many boards each cell meets in turn; 0 where that is no property of the design. */
  int partners() {
    return switch (this) {
      case DISJOINT_PAIRS, DISJOINT_PAIRS_REPEATS -> 1;
      case ROTATION_2, ROTATION_2_REPEATS -> 2;
      case ROTATION_3 -> 3;
      default -> 0;
    };
  }

  /** Whether some pairs are measured twice. */
  public boolean hasRepeats() {
    return this == DISJOINT_PAIRS_REPEATS || this == ROTATION_2_REPEATS;
  }
}
