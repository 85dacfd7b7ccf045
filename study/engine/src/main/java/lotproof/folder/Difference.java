package lotproof.folder;

import java.util.List;
import java.util.stream.Collectors;
import lotproof.study.Reading;

/** One step of a run for which a file says something else than the record. */
public record Difference(Reading recorded, Reading received) {

  /** One value that differs. */
  public record Change(String column, String from, String to) {}

  /** Whether two readings say the same, wherever they came from. */
  public static boolean same(Reading one, Reading other) {
    return changes(one, other).isEmpty();
  }

  /** The values that differ, in the order of the record's columns. */
  public List<Change> changes() {
    return changes(recorded, received);
  }

  /** The values that differ, for people: {@code output [counts]: 120.5 becomes 1205}. */
  public String words() {
    return changes().stream()
        .map(c -> c.column + ": " + shown(c.from) + " becomes " + shown(c.to))
        .collect(Collectors.joining("; "));
  }

  private static String shown(String value) {
    return value.isEmpty() ? "nothing" : value;
  }

  private static List<Change> changes(Reading one, Reading other) {
    return RecordFiles.MEASURED.stream()
        .map(c -> new Change(c.header(), c.text().apply(one), c.text().apply(other)))
        .filter(change -> !change.from.equals(change.to))
        .toList();
  }
}
