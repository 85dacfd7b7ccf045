package lotproof.folder;

import java.util.ArrayList;
import java.util.List;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.Reading;

/**
 * One step of a run for which a file says something else than the record.
 *
 * @param recorded what the record holds
 * @param received what the file says
 */
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
    List<String> all = new ArrayList<>();
    for (Change change : changes()) {
      all.add(change.column + ": " + shown(change.from) + " becomes " + shown(change.to));
    }
    return String.join("; ", all);
  }

  private static String shown(String value) {
    return value.isEmpty() ? "nothing" : value;
  }

  private static List<Change> changes(Reading one, Reading other) {
    List<Change> changes = new ArrayList<>();
    List<String> before = ReadingsFile.measured(one);
    List<String> after = ReadingsFile.measured(other);
    List<ReadingColumn> columns = List.of(ReadingColumn.values());
    for (int c = 0; c < columns.size(); c++) {
      String from = before.get(c);
      String to = after.get(c);
      if (!from.equals(to)) {
        changes.add(new Change(columns.get(c).header(), from, to));
      }
    }
    return changes;
  }
}
