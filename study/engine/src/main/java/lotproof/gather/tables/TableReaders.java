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

  /** Text only: separated values in any usual shape, and JSON lines. */
  public static TableReaders textOnly() {
    return new TableReaders(List.of());
  }

  /** These and one more kind. */
  public TableReaders with(TableReader reader) {
    List<TableReader> more = new ArrayList<>(readers);
    more.add(reader);
    return new TableReaders(more);
  }

  /** Opens a file by the first reader of its kind, or as text. */
  public Result<List<Grid>> open(ReceivedFile file, Mapping mapping) {
    if (file.size() == 0) {
      return refused(file, Code.FILE_EMPTY, "the file is empty");
    }
    Optional<TableReader> reader = readers.stream().filter(r -> r.accepts(file)).findFirst();
    if (reader.isPresent()) {
      return reader.get().open(file, mapping);
    }
    Optional<String> kind = FileKind.notText(file);
    if (kind.isPresent()) {
      String message =
          "not a table of readings: it is %s; give a CSV, JSON lines, .xlsx or .xls file";
      return refused(file, Code.FILE_TYPE, message.formatted(kind.get()));
    }
    return JsonLines.accepts(file) ? JsonLines.of(file) : TextGrids.of(file, mapping);
  }

  private static Result<List<Grid>> refused(ReceivedFile file, Code code, String message) {
    return Result.refused(DataIssue.error(code, file.name(), 0, "", "", message));
  }
}
