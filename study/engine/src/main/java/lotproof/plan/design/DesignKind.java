package lotproof.plan.design;

import java.util.Arrays;
import java.util.Optional;
import lotproof.study.Design;

/** The designs that are compared. */
public enum DesignKind {
  REFERENCE_PARTNER(
      "reference-partner", "every cell on one reference board, every board on one reference cell"),
  DISJOINT_PAIRS("disjoint-pairs", "each cell with one board, once"),
  DISJOINT_PAIRS_REPEATS("disjoint-pairs-repeats", "each cell with one board, some pairs twice"),
  ROTATION_2("rotation-2", "each cell with two boards in turn"),
  ROTATION_2_REPEATS("rotation-2-repeats", "each cell with two boards in turn, some pairs twice"),
  ROTATION_3("rotation-3", "each cell with three boards in turn"),
  BLOCKS("blocks-2x2", "groups of two cells and two boards, all four pairs of each"),
  FULL_CROSSING("full-crossing", "few cells and few boards, every cell with every board");

  private final String key;
  private final String words;

  DesignKind(String key, String words) {
    this.key = key;
    this.words = words;
  }

  /** The name used on the command line and in files. */
  public String key() {
    return key;
  }

  /** The design in words. */
  public String words() {
    return words;
  }

  /** The design with this key, if there is one. */
  public static Optional<DesignKind> ofKey(String key) {
    return Arrays.stream(values()).filter(kind -> kind.key.equals(key)).findFirst();
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
