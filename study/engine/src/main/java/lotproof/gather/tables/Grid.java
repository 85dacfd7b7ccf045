package lotproof.gather.tables;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import lotproof.study.DataIssue;

/**
 * The rows of a file as one way of reading it gives them. Nothing is said yet about what they mean.
 *
 * @param sheet name of the sheet; empty for a file without sheets
 * @param facts how the file was read, such as its separator
 * @param separator what separates columns of a text file; a zero for a file that stores numbers as
 *     numbers
 * @param rows its rows
 * @param issues trouble with single cells, errors and warnings
 * @param hidden whether the sheet is hidden
 * @param concealed parts of the sheet of which a person has to say whether they count
 */
public record Grid(
    String sheet,
    List<Fact> facts,
    char separator,
    Rows rows,
    List<DataIssue> issues,
    boolean hidden,
    List<Concealed> concealed) {

  /** The rows of a file, which can be gone through more than once. */
  public interface Rows {
    /** Rows that are at hand. */
    static Rows of(List<Row> rows) {
      return wantsMore -> {
        for (Row row : rows) {
          if (!wantsMore.test(row)) {
            break;
          }
        }
        return Optional.empty();
      };
    }

    /**
     * Hands over the rows that are not blank, in order, for as long as more are wanted.
     *
     * @return why the file cannot be read to its end, when it cannot
     */
    Optional<DataIssue> forEach(Predicate<Row> wantsMore);

    /** The first row of this kind; none where a file cannot be read as far as that. */
    default Optional<Row> first(Predicate<Row> kind) {
      List<Row> found = new ArrayList<>();
      Optional<DataIssue> unused =
          forEach(
              row -> {
                if (kind.test(row)) {
                  found.add(row);
                }
                return found.isEmpty();
              });
      return found.stream().findFirst();
    }
  }

  /**
   * A part of a sheet that does not say for itself whether it counts: a hidden row, column or cell,
   * or a value that is struck through.
   *
   * @param setting what a person says about parts of this kind
   * @param row row of the sheet counted from 1; 0 for a whole column
   * @param column column counted from 0; -1 for a whole row
   * @param place the part in words, such as {@code row 5}, {@code column G} or {@code cell D5}
   */
  public record Concealed(Setting setting, int row, int column, String place) {}

  public Grid {
    facts = List.copyOf(facts);
    issues = List.copyOf(issues);
    concealed = List.copyOf(concealed);
  }

  /** A file in which nothing is hidden or struck through. */
  public Grid(String sheet, List<Fact> facts, char separator, Rows rows, List<DataIssue> issues) {
    this(sheet, facts, separator, rows, issues, false, List.of());
  }

  /** Whether the file stores numbers as numbers, so that one that is text is unusual. */
  public boolean isTyped() {
    return separator == '\0';
  }

  /** The word for its separator; empty when it has none. */
  public String separatorWord() {
    return Separator.ofMark(separator).map(Separator::word).orElse("");
  }

  /** The same without these rows. */
  Grid without(String numbers) {
    return withRows(
        wants -> rows.forEach(row -> RowNumbers.hold(numbers, row.number()) || wants.test(row)));
  }

  /** The same with other rows. */
  public Grid withRows(Rows others) {
    return new Grid(sheet, facts, separator, others, issues, hidden, concealed);
  }
}
