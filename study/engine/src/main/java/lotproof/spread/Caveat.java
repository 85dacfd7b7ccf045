package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;

/**
 * A case in which limits or intervals were measured to hold less often than they say, with what was
 * measured (docs/guarantees.md). It is printed with the result.
 */
public enum Caveat {
  /** Every run has the one reference cell or the one reference board. */
  REFERENCE_UNITS(
      "All cells met one board and all boards one cell, so the mean rests on these two units. In"
          + " simulated studies of 50 cells and 50 boards, limits on both sides of the mean held"
          + " their content in 91 of 100 studies where 95 were asked; one-sided limits and limits"
          + " about zero kept theirs."),
  /** The values of independent kits do not look normal. */
  NOT_NORMAL(
      "Limits by the model lean on a normal shape, which these values do not show. In simulated"
          + " studies of 50 units where 95 of 100 were asked, a light skew (0.5) left one-sided"
          + " limits with 85, and heavy tails (Student's t with 6 degrees of freedom) left limits"
          + " on both sides of the mean with 89. Hold them against the distribution-free ones.");

  private final String sentence;

  Caveat(String sentence) {
    this.sentence = sentence;
  }

  /** What was measured, for the reader of the result. */
  public String sentence() {
    return sentence;
  }

  /** The caveats of one result. */
  static List<Caveat> of(MeasuredValues values, FactorPlan plan, boolean looksNormal) {
    List<Caveat> caveats = new ArrayList<>();
    if (plan.roles().contains(Role.CELL) && plan.roles().contains(Role.BOARD)) {
      if (onReferenceUnits(
          values.labelsOf(Role.CELL).orElseThrow(), values.labelsOf(Role.BOARD).orElseThrow())) {
        caveats.add(REFERENCE_UNITS);
      }
    }
    if (!looksNormal) {
      caveats.add(NOT_NORMAL);
    }
    return caveats;
  }

  /** Whether some cell and some board are such that every run has one of them. */
  private static boolean onReferenceUnits(List<String> cells, List<String> boards) {
    long cellCount = cells.stream().distinct().count();
    long boardCount = boards.stream().distinct().count();
    if (cellCount < 3 || boardCount < 3) {
      return false;
    }
    String cell = mostMet(cells, boards);
    String board = mostMet(boards, cells);
    for (int i = 0; i < cells.size(); i++) {
      if (!cells.get(i).equals(cell) && !boards.get(i).equals(board)) {
        return false;
      }
    }
    return true;
  }

  /** The unit with the most different partners. */
  private static String mostMet(List<String> units, List<String> partners) {
    java.util.Map<String, java.util.Set<String>> met = new java.util.LinkedHashMap<>();
    for (int i = 0; i < units.size(); i++) {
      met.computeIfAbsent(units.get(i), u -> new java.util.HashSet<>()).add(partners.get(i));
    }
    return met.entrySet().stream()
        .max(java.util.Comparator.comparingInt(e -> e.getValue().size()))
        .map(java.util.Map.Entry::getKey)
        .orElseThrow();
  }
}
