package lotproof.gather;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.AppendOutcome;
import lotproof.folder.Batch;
import lotproof.folder.OpenOutcome;
import lotproof.folder.ReadingChecks;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** Takes a file into a study folder, all of it or nothing. */
public final class Importer {
  private static final long LARGEST_BYTES = 64L << 20;

  private Importer() {}

  /**
   * Imports a file: its original is kept, and its readings are added to the record. A second import
   * of the same bytes is recognised under any name.
   */
  public static ImportOutcome importFile(StudyFolder folder, Path file, TableReaders readers) {
    Received received = receive(file);
    if (received.issue().isPresent()) {
      return new ImportOutcome.Refused(List.of(received.issue().get()));
    }
    ReceivedFile it = received.file().orElseThrow();
    AppendOutcome outcome = folder.append(it, contents -> read(it, readers).batch());
    return answer(it, outcome);
  }

  /** What {@link #importFile} would do, and how the file was understood. Changes nothing. */
  public static Preview preview(StudyFolder folder, Path file, TableReaders readers) {
    Received received = receive(file);
    if (received.issue().isPresent()) {
      return nothing(List.of(received.issue().get()));
    }
    OpenOutcome opening = folder.open();
    if (opening instanceof OpenOutcome.Refused refused) {
      return nothing(refused.issues());
    }
    OpenOutcome.Opened opened = (OpenOutcome.Opened) opening;
    ReceivedFile it = received.file().orElseThrow();
    TidyImport.Result result = read(it, readers);
    Batch batch = ReadingChecks.against(opened.contents(), result.batch());
    AppendOutcome wouldBe =
        StudyFolder.alreadyThere(it, opened.contents().readings())
            .orElseGet(
                () ->
                    batch.hasErrors()
                        ? new AppendOutcome.Refused(batch.issues())
                        : new AppendOutcome.Appended(batch.readings().size(), batch.issues()));
    return new Preview(answer(it, wouldBe), result.columns(), batch.readings());
  }

  static TidyImport.Result read(ReceivedFile file, TableReaders readers) {
    TableOutcome outcome = readers.read(file);
    if (outcome instanceof TableOutcome.Refused refused) {
      return new TidyImport.Result(new Batch(List.of(), refused.issues()), List.of());
    }
    TableOutcome.Found found = (TableOutcome.Found) outcome;
    TidyImport.Result tidy = TidyImport.read(file, found.table());
    List<DataIssue> issues = new ArrayList<>(found.issues());
    issues.addAll(tidy.batch().issues());
    return new TidyImport.Result(new Batch(tidy.batch().readings(), issues), tidy.columns());
  }

  private static ImportOutcome answer(ReceivedFile file, AppendOutcome outcome) {
    if (outcome instanceof AppendOutcome.Appended appended) {
      return new ImportOutcome.Imported(appended.readings(), file.sha256(), appended.warnings());
    } else if (outcome instanceof AppendOutcome.AlreadyThere already) {
      String message =
          "the same file was imported before as "
              + already.file()
              + " ("
              + already.readings()
              + " readings); nothing was changed";
      return new ImportOutcome.AlreadyImported(
          already.readings(),
          file.sha256(),
          DataIssue.warning(Code.ALREADY_IMPORTED, file.name(), 0, "", "", message));
    }
    return new ImportOutcome.Refused(((AppendOutcome.Refused) outcome).issues());
  }

  private static Preview nothing(List<DataIssue> issues) {
    return new Preview(new ImportOutcome.Refused(issues), List.of(), List.of());
  }

  /** A file that was read, or why it was not. */
  record Received(Optional<ReceivedFile> file, Optional<DataIssue> issue) {}

  static Received receive(Path path) {
    String name = path.getFileName() == null ? path.toString() : path.getFileName().toString();
    try {
      if (!Files.exists(path)) {
        return not(Code.FILE_MISSING, name, "there is no such file: " + path);
      } else if (Files.isDirectory(path)) {
        return not(Code.FILE_TYPE, name, "this is a folder; give the files in it");
      } else if (Files.size(path) > LARGEST_BYTES) {
        return not(Code.FILE_UNREADABLE, name, "the file is larger than 64 MiB");
      }
      ReceivedFile file = ReceivedFile.of(name, Files.readAllBytes(path));
      return new Received(Optional.of(file), Optional.empty());
    } catch (IOException e) {
      return not(Code.FILE_UNREADABLE, name, "the file cannot be read (" + e.getMessage() + ")");
    }
  }

  private static Received not(Code code, String file, String message) {
    return new Received(
        Optional.empty(), Optional.of(DataIssue.error(code, file, 0, "", "", message)));
  }
}
