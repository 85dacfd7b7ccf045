package lotproof.gather;

import java.nio.file.Path;
import java.util.Optional;
import lotproof.folder.Appended;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.gather.tables.TableReaders;
import lotproof.study.Result;

/** Imports of files about which nobody says anything. */
public final class Imports {
  /** Text, and nothing that needs a library for workbooks. */
  public static final TableReaders TEXT_ONLY =
      new TableReaders((file, mapping) -> Optional.empty());

  private Imports() {}

  /** Looks at a file. */
  public static Preview preview(StudyFolder folder, Path path, TableReaders readers) {
    Result<ReceivedFile> received = Importer.receive(path);
    return received.isRefused()
        ? Preview.refused(received.issues())
        : Importer.inspect(folder, received.get(), readers, ImportChoices.none());
  }

  /** Imports a file. */
  public static Result<Appended> importFile(StudyFolder folder, Path path, TableReaders readers) {
    Result<ReceivedFile> received = Importer.receive(path);
    return received.isRefused()
        ? Result.refused(received.issues())
        : Importer.inspect(folder, received.get(), readers, ImportChoices.none()).keep();
  }

  /** Whether readings came into the record that it did not hold. */
  public static boolean isNew(Result<Appended> outcome) {
    return outcome.value().filter(appended -> !appended.wasThere()).isPresent();
  }
}
