package lotproof.gather;

import java.util.ArrayList;
import java.util.List;
import lotproof.folder.ReceivedFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** The kinds of file that can be imported. */
public final class TableReaders {
  private final List<TableReader> readers;

  private TableReaders(List<TableReader> readers) {
    this.readers = List.copyOf(readers);
  }

  /** Text only: values separated by comma, semicolon or tab. */
  public static TableReaders textOnly() {
    return new TableReaders(List.of(new CsvTables()));
  }

  /** These and one more kind. */
  public TableReaders with(TableReader reader) {
    List<TableReader> more = new ArrayList<>(readers);
    more.add(reader);
    return new TableReaders(more);
  }

  /** Reads a file by the first reader of its kind. */
  public TableOutcome read(ReceivedFile file) {
    if (file.size() == 0) {
      return refused(Code.FILE_EMPTY, file, "the file is empty");
    }
    return readers.stream()
        .filter(reader -> reader.accepts(file))
        .findFirst()
        .map(reader -> reader.read(file))
        .orElseGet(
            () -> {
              String is = FileKind.notText(file).map(kind -> "it is " + kind + "; ").orElse("");
              return refused(
                  Code.FILE_TYPE,
                  file,
                  "not a table of readings: " + is + "give a CSV or .xlsx file");
            });
  }

  private static TableOutcome refused(Code code, ReceivedFile file, String message) {
    return new TableOutcome.Refused(
        List.of(DataIssue.error(code, file.name(), 0, "", "", message)));
  }
}
