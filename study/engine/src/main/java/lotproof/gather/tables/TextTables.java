package lotproof.gather.tables;

import java.util.List;
import lotproof.folder.ReceivedFile;
import lotproof.study.Result;

/** Reads text as tables: separated values in any usual shape, and JSON lines. */
final class TextTables implements TableReader {
  @Override
  public boolean accepts(ReceivedFile file) {
    return FileKind.notText(file).isEmpty();
  }

  @Override
  public Result<List<Grid>> open(ReceivedFile file, Mapping mapping) {
    return JsonLines.accepts(file) ? JsonLines.of(file) : TextGrids.of(file, mapping);
  }
}
