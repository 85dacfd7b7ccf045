package lotproof.gather;

import java.util.ArrayList;
import java.util.List;

/** The kinds of file that can be imported. */
public final class TableReaders {
  private final List<TableReader> readers;

  private TableReaders(List<TableReader> readers) {
    this.readers = List.copyOf(readers);
  }

  /** Text only: values separated by comma, semicolon or tab. */
  public static TableReaders textOnly() {
    return new TableReaders(List.of());
  }

  /** These and one more kind. */
  public TableReaders with(TableReader reader) {
    List<TableReader> more = new ArrayList<>(readers);
    more.add(reader);
    return new TableReaders(more);
  }
}
