package lotproof.gather.tables;

import java.util.Arrays;
import java.util.Collection;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Rows of a file by their numbers, counted from 1, as a person writes them: 12,14-20. */
public final class RowNumbers {
  /** Some rows. */
  static final Pattern FORM =
      Pattern.compile("[0-9]{1,9}(?:-[0-9]{1,9})?(?:, ?[0-9]{1,9}(?:-[0-9]{1,9})?)*");

  /** Rows one after the other. */
  static final Pattern RANGE = Pattern.compile("([0-9]{1,9})-([0-9]{1,9})");

  private RowNumbers() {}

  static String example(Pattern form) {
    return form.equals(RANGE) ? "14-20" : "12,14-20";
  }

  /** The first and the last of a range that begins with the first of them. */
  public static int[] range(String range) {
    Matcher ends = RANGE.matcher(range);
    if (!ends.matches() || Integer.parseInt(ends.group(1)) < 1) {
      throw new IllegalArgumentException("lines are named such as 14-20, was " + range);
    }
    return new int[] {Integer.parseInt(ends.group(1)), Integer.parseInt(ends.group(2))};
  }

  /** Whether a row is among them. */
  public static boolean hold(String rows, int row) {
    return Arrays.stream(rows.split(", ?", -1))
        .map(part -> part.split("-", -1))
        .anyMatch(
            ends ->
                row >= Integer.parseInt(ends[0]) && row <= Integer.parseInt(ends[ends.length - 1]));
  }

  /** These rows, so written. */
  public static String of(Collection<Integer> rows) {
    StringBuilder text = new StringBuilder();
    TreeSet<Integer> all = new TreeSet<>(rows);
    for (int row : all) {
      if (!all.contains(row - 1)) {
        int end = row;
        while (all.contains(end + 1)) {
          end++;
        }
        text.append(text.isEmpty() ? "" : ",").append(row).append(end > row ? "-" + end : "");
      }
    }
    return text.toString();
  }
}
