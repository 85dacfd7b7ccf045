package lotproof.app;

import lotproof.app.files.OldWorkbookTables;
import lotproof.app.files.WorkbookTables;
import lotproof.gather.tables.TableReaders;

/** All kinds of file that the program can read. */
final class Readers {
  private Readers() {}

  static TableReaders all() {
    return TableReaders.textOnly().with(new WorkbookTables()).with(new OldWorkbookTables());
  }
}
