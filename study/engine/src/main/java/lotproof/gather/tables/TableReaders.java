package lotproof.gather.tables;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.ReceivedFile;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * The kinds of file that can be imported: separated values in any usual shape, JSON lines, and
 * another kind.
 */
public record TableReaders(OtherKind other) {
  private static final int BINARY_LOOK_AHEAD = 8192;

  /**
   * Kinds of file that people send by mistake, by their first bytes; sources: their definitions.
   */
  private static final Map<String, String> BY_MISTAKE =
      Map.of(
          "25504446", "a PDF document",
          "504b0304", "a zip archive that is no .xlsx workbook (save an .ods sheet as .xlsx)",
          "504b0506", "an empty zip archive",
          "d0cf11e0a1b11ae1", "an old .xls workbook or a workbook with a password",
          "1f8b", "a gzip archive",
          "89504e47", "a PNG picture",
          "ffd8ff", "a JPEG picture");

  /** Reads another kind of file than text. */
  public interface OtherKind {
    /**
     * Opens a file without judging what its rows mean.
     *
     * @return empty when its bytes, and never its name, say that it is of no such kind
     */
    Optional<Result<List<Grid>>> open(ReceivedFile file, Mapping mapping);
  }

  /** Opens a file by its kind, without the rows that a person said to skip. */
  public Result<List<Grid>> open(ReceivedFile file, Mapping mapping) {
    Result<List<Grid>> opened = openWhole(file, mapping);
    Optional<String> skipped = mapping.setting(Setting.SKIP_ROWS);
    return skipped.isEmpty()
        ? opened
        : opened.map(grids -> grids.stream().map(grid -> grid.without(skipped.get())).toList());
  }

  private Result<List<Grid>> openWhole(ReceivedFile file, Mapping mapping) {
    if (file.size() == 0) {
      return refused(file, Code.FILE_EMPTY, "the file is empty");
    }
    Optional<Result<List<Grid>>> opened = other.open(file, mapping);
    if (opened.isPresent()) {
      return opened.get();
    }
    Optional<String> kind = notText(file);
    if (kind.isPresent()) {
      String message = "not a table of readings: it is %s; give a CSV, JSON, .xlsx or .xls file";
      return refused(file, Code.FILE_TYPE, message.formatted(kind.get()));
    }
    return JsonLines.accepts(file) ? JsonLines.of(file) : TextGrids.of(file, mapping);
  }

  private static Result<List<Grid>> refused(ReceivedFile file, Code code, String message) {
    return Result.refused(code, file.name(), message);
  }

  /** What the file is, when it is certainly no text that could be a table. */
  private static Optional<String> notText(ReceivedFile file) {
    String head = file.firstBytes(BINARY_LOOK_AHEAD);
    boolean utf16 =
        head.matches("(?:fffe|feff).*")
            || head.matches("(?:(?!00)..00){4}.*")
            || head.matches("(?:00(?!00)..){4}.*");
    Optional<String> binary =
        !utf16 && head.matches("(?:..)*?00.*") ? Optional.of("a binary file") : Optional.empty();
    return BY_MISTAKE.entrySet().stream()
        .filter(kind -> head.startsWith(kind.getKey()))
        .map(Map.Entry::getValue)
        .findFirst()
        .or(() -> binary);
  }
}
