package lotproof.gather;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lotproof.folder.Batch;
import lotproof.folder.ReadingColumn;
import lotproof.folder.ReceivedFile;
import lotproof.folder.UnitsOfMeasure.Unit;
import lotproof.gather.Table.NumberStyle;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;

/**
 * A table in the tidy layout, one reading a row, to readings. Looks at the table alone; what the
 * study and the record say about the readings is checked by the folder.
 */
public final class TidyImport {
  private final ReceivedFile file;
  private final Table table;
  private final TidyColumns columns;
  private final List<DataIssue> issues = new ArrayList<>();

  /**
   * What a table gave.
   *
   * @param batch readings of the rows that will do, and all issues
   * @param columns how its columns were understood
   */
  public record Result(Batch batch, List<ColumnUse> columns) {
    public Result {
      columns = List.copyOf(columns);
    }
  }

  private TidyImport(ReceivedFile file, Table table) {
    this.file = file;
    this.table = table;
    this.columns = TidyColumns.of(file.name(), table);
  }

  /** Reads all rows. */
  public static Result read(ReceivedFile file, Table table) {
    TidyImport tidy = new TidyImport(file, table);
    return new Result(tidy.batch(), tidy.columns.uses());
  }

  private Batch batch() {
    issues.addAll(columns.issues());
    if (table.rows().isEmpty()) {
      issue(Code.FILE_EMPTY, table.header().number(), "", "there is no row below the header");
    }
    warnOfNewtons();
    NumberText numbers = numbers();
    List<Reading> readings = new ArrayList<>();
    for (Row row : table.rows()) {
      new TidyRow(file, columns, numbers, row, issues).reading().ifPresent(readings::add);
    }
    if (table.numbers() == NumberStyle.TYPED) {
      warnOfNumbersAsText(numbers);
    }
    return new Batch(columns.areSound() ? readings : List.of(), issues);
  }

  private void warnOfNewtons() {
    columns
        .column(ReadingColumn.LOAD)
        .filter(load -> load.unit().equals(Optional.of(Unit.NEWTON)))
        .ifPresent(
            load ->
                issues.add(
                    DataIssue.warning(
                        Code.UNIT_OF_MEASURE_DOUBTFUL,
                        file.name(),
                        table.header().number(),
                        load.header(),
                        "",
                        "forces become masses by standard gravity, 9.80665 m/s²; gravity on the"
                            + " bench can differ by 0.3 %, which is more than most figures allow")));
  }

  private List<TidyColumns.Column> numericColumns() {
    return Arrays.stream(ReadingColumn.values())
        .filter(c -> c == ReadingColumn.STEP || c.unit().isPresent())
        .flatMap(c -> columns.column(c).stream())
        .toList();
  }

  /** A numeric cell that is text. */
  private record TextNumber(Row row, TidyColumns.Column column, String text) {}

  private List<TextNumber> textNumbers() {
    List<TextNumber> found = new ArrayList<>();
    for (Row row : table.rows()) {
      for (TidyColumns.Column column : numericColumns()) {
        if (row.cell(column.index()) instanceof Cell.Text text) {
          found.add(new TextNumber(row, column, text.value()));
        }
      }
    }
    return found;
  }

  /** The decimal mark of a file is that of the first number that has one. */
  private NumberText numbers() {
    boolean comma =
        table.numbers() == NumberStyle.POINT_OR_COMMA
            && textNumbers().stream()
                .map(TextNumber::text)
                .filter(text -> text.matches("[+-]?\\d*[.,]\\d*(?:[eE][+-]?\\d+)?"))
                .findFirst()
                .filter(text -> text.contains(","))
                .isPresent();
    return new NumberText(table.numbers(), comma);
  }

  private void warnOfNumbersAsText(NumberText numbers) {
    List<TextNumber> read =
        textNumbers().stream().filter(n -> numbers.read(n.text()).isPresent()).toList();
    if (!read.isEmpty()) {
      TextNumber first = read.get(0);
      issues.add(
          DataIssue.warning(
              Code.NOT_A_NUMBER,
              file.name(),
              first.row().number(),
              first.column().header(),
              "",
              "\""
                  + first.text()
                  + "\" is stored as text and was read as a number; cells of this"
                  + " kind in the file: "
                  + read.size()));
    }
  }

  private void issue(Code code, int line, String column, String message) {
    issues.add(DataIssue.error(code, file.name(), line, column, "", message));
  }
}
