package lotproof.gather.tables;

import lotproof.folder.ReceivedFile;

/** Reads one kind of file as a table. The port through which other kinds than text come in. */
public interface TableReader {

  /** Whether the file is of this reader's kind, judged by its bytes and never by its name. */
  boolean accepts(ReceivedFile file);

  /** Reads a file that {@link #accepts} said yes to, as a header and rows. */
  TableOutcome read(ReceivedFile file);

  /** Opens a file that {@link #accepts} said yes to, without judging what its rows mean. */
  GridOutcome open(ReceivedFile file, Mapping mapping);
}
