package lotproof.gather;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.AppendOutcome;
import lotproof.folder.Batch;
import lotproof.folder.IncomingReadings;
import lotproof.folder.OpenOutcome;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.layout.TableReading;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;

/** Takes a file into a study folder, all of it or nothing. */
public final class Importer {
  private static final long LARGEST_BYTES = 128L << 20;

  private final StudyFolder folder;
  private final ReceivedFile file;
  private final TableReaders readers;
  private final ImportChoices choices;
  private Optional<TableReading.Result> result = Optional.empty();
  private Optional<IncomingReadings> sorted = Optional.empty();
  private String sortedAgainst = "";

  private Importer(
      StudyFolder folder, ReceivedFile file, TableReaders readers, ImportChoices choices) {
    this.folder = folder;
    this.file = file;
    this.readers = readers;
    this.choices = choices;
  }

  /** A file that was received, or why it was not. */
  public sealed interface Receipt {
    /** It was read. */
    record Received(ReceivedFile file) implements Receipt {}

    /** It was not. */
    record Failed(DataIssue issue) implements Receipt {}
  }

  /** An import that was looked at and not made yet. */
  public static final class Prepared {
    private final Importer importer;
    private final Preview preview;

    private Prepared(Importer importer, Preview preview) {
      this.importer = importer;
      this.preview = preview;
    }

    /** What it would do. */
    public Preview preview() {
      return preview;
    }

    /** Does it: keeps the original, and adds the readings to the record. */
    public ImportOutcome keep() {
      return importer.keep();
    }
  }

  /**
   * Imports a file: its original is kept, and its readings are added to the record. A second import
   * of the same bytes is recognised under any name.
   */
  public static ImportOutcome importFile(StudyFolder folder, Path path, TableReaders readers) {
    Receipt receipt = receive(path);
    if (receipt instanceof Receipt.Failed failed) {
      return new ImportOutcome.Refused(List.of(failed.issue()));
    }
    ReceivedFile file = ((Receipt.Received) receipt).file();
    return new Importer(folder, file, readers, ImportChoices.none()).keep();
  }

  /** What {@link #importFile} would do, and how the file was understood. Changes nothing. */
  public static Preview preview(StudyFolder folder, Path path, TableReaders readers) {
    Receipt receipt = receive(path);
    if (receipt instanceof Receipt.Failed failed) {
      return nothing(List.of(failed.issue()));
    }
    return prepare(folder, ((Receipt.Received) receipt).file(), readers, ImportChoices.none())
        .preview();
  }

  /** Looks at a file and says what an import would do. Changes nothing. */
  public static Prepared prepare(
      StudyFolder folder, ReceivedFile file, TableReaders readers, ImportChoices choices) {
    Importer importer = new Importer(folder, file, readers, choices);
    return new Prepared(importer, importer.look());
  }

  private Preview look() {
    OpenOutcome opening = folder.open();
    if (opening instanceof OpenOutcome.Refused refused) {
      return nothing(refused.issues());
    }
    StudyContents contents = ((OpenOutcome.Opened) opening).contents();
    IncomingReadings arrivals = arrivals(contents);
    Optional<AppendOutcome> there = StudyFolder.alreadyThere(file, this::isTaken, contents);
    TableReading.Result understood = result.orElseThrow();
    AppendOutcome wouldBe =
        there.orElseGet(
            () ->
                arrivals.hasErrors()
                    ? new AppendOutcome.Refused(arrivals.issues())
                    : arrivals.toAppend().isEmpty()
                        ? new AppendOutcome.AlreadyThere(
                            contents.readings().get(0).source().file(), arrivals.recognised())
                        : new AppendOutcome.Appended(
                            arrivals.toAppend().size(), arrivals.recognised(), arrivals.issues()));
    return new Preview(
        answer(wouldBe),
        understood.facts(),
        understood.columns(),
        understood.batch().readings(),
        there.isPresent() ? List.of() : understood.questions(),
        there.isPresent() ? List.of() : arrivals.differences());
  }

  private ImportOutcome keep() {
    return answer(folder.append(file, this::isTaken, this::arrivals, choices.decision()));
  }

  /** Whether a place of the file is in the sheet, and the table of it, that was named. */
  private boolean isTaken(Provenance source) {
    Optional<String> sheet = choices.mapping().setting(Setting.SHEET);
    boolean ofTable =
        choices.mapping().setting(Setting.HEADER_ROW).isEmpty()
            || result.stream()
                .flatMap(read -> read.batch().readings().stream())
                .anyMatch(reading -> reading.source().row() == source.row());
    return ofTable && (sheet.isEmpty() || source.sheet().equals(sheet.get()));
  }

  /** The file is read once, and checked again only when the record is another than before. */
  private IncomingReadings arrivals(StudyContents contents) {
    if (result.isEmpty()) {
      result =
          Optional.of(
              TableReading.read(
                  file,
                  readers.open(file, choices.mapping()),
                  contents.study(),
                  choices.mapping()));
    }
    if (sorted.isPresent() && sortedAgainst.equals(contents.recordHash())) {
      return sorted.get();
    }
    Batch batch = result.get().batch();
    List<DataIssue> issues = new ArrayList<>();
    for (DataIssue issue : batch.issues()) {
      issues.addAll(
          issue.code() == Code.LAST_LINE_UNFINISHED
              ? ImportChecks.accepting(List.of(ImportChecks.withOption(issue)), choices.accepted())
              : List.of(issue));
    }
    issues.addAll(
        result.get().inItsHeaders(ImportChecks.of(contents, batch.readings(), choices.accepted())));
    sortedAgainst = contents.recordHash();
    sorted =
        Optional.of(
            IncomingReadings.of(contents, new Batch(batch.readings(), issues), choices.decision()));
    return sorted.get();
  }

  private ImportOutcome answer(AppendOutcome outcome) {
    if (outcome instanceof AppendOutcome.Appended appended) {
      return new ImportOutcome.Imported(
          appended.readings(), appended.recognised(), file.sha256(), appended.warnings());
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
    return new Preview(
        new ImportOutcome.Refused(issues), List.of(), List.of(), List.of(), List.of(), List.of());
  }

  /** Reads a file from the disk, once. */
  public static Receipt receive(Path path) {
    String name = path.getFileName() == null ? path.toString() : path.getFileName().toString();
    try {
      if (!Files.exists(path)) {
        return not(Code.FILE_MISSING, name, "there is no such file: " + path);
      } else if (Files.isDirectory(path)) {
        return not(Code.FILE_TYPE, name, "this is a folder; give the files in it");
      } else if (Files.size(path) > LARGEST_BYTES) {
        return not(Code.FILE_UNREADABLE, name, "the file is larger than 128 MiB");
      }
      return new Receipt.Received(ReceivedFile.owning(name, Files.readAllBytes(path)));
    } catch (IOException e) {
      return not(Code.FILE_UNREADABLE, name, "the file cannot be read (" + e.getMessage() + ")");
    }
  }

  private static Receipt not(Code code, String file, String message) {
    return new Receipt.Failed(DataIssue.error(code, file, 0, "", "", message));
  }
}
