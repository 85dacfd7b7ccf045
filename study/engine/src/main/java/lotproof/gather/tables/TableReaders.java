package lotproof.gather.tables;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.ReceivedFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** The kinds of file that can be imported. */
public final class TableReaders {
  private final List<TableReader> readers;

  private TableReaders(List<TableReader> readers) {
    this.readers = List.copyOf(readers);
  }

  /** Text only: values separated by comma, semicolon or tab. */
  public static TableReaders textOnly() {
    return new TableReaders(List.of(new TextTables()));
  }

  /** These and one more kind. */
  public TableReaders with(TableReader reader) {
    List<TableReader> more = new ArrayList<>(readers);
    more.add(reader);
    return new TableReaders(more);
  }

  /** Opens a file by the first reader of its kind. */
  public Result<List<Grid>> open(ReceivedFile file, Mapping mapping) {
    Optional<TableReader> reader = readerOf(file);
    return reader.isPresent() ? reader.get().open(file, mapping) : Result.refused(noReader(file));
  }

  private Optional<TableReader> readerOf(ReceivedFile file) {
    return file.size() == 0
        ? Optional.empty()
        : readers.stream().filter(reader -> reader.accepts(file)).findFirst();
  }

  private static DataIssue noReader(ReceivedFile file) {
    if (file.size() == 0) {
      return DataIssue.error(Code.FILE_EMPTY, file.name(), 0, "", "", "the file is empty");
    }
    String is = FileKind.notText(file).map(kind -> "it is " + kind + "; ").orElse("");
    String message =
        "not a table of readings: " + is + "give a CSV, JSON lines, .xlsx or .xls file";
    return DataIssue.error(Code.FILE_TYPE, file.name(), 0, "", "", message);
  }
}
