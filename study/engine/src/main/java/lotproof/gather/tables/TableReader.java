package lotproof.gather.tables;

import java.util.List;
import lotproof.folder.ReceivedFile;
import lotproof.study.Result;

/** Reads one kind of file as a table. The port through which other kinds than text come in. */
public interface TableReader {

  /** Whether the file is of this reader's kind, judged by its bytes and never by its name. */
  boolean accepts(ReceivedFile file);

  /** Opens a file that {@link #accepts} said yes to, without judging what its rows mean. */
  Result<List<Grid>> open(ReceivedFile file, Mapping mapping);
}
