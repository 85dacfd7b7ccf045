package lotproof.gather;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.Appended;
import lotproof.folder.Batch;
import lotproof.folder.IncomingReadings;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.layout.TableReading;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Result;

/**
 * Takes a file into a study folder, all of it or nothing: its original is kept, and its readings
 * are added to the record. A second import of the same bytes is recognised under any name.
 */
public final class Importer {
  private static final long LARGEST_BYTES = 128L << 20;

  private final StudyFolder folder;
  private final ReceivedFile file;
  private final TableReaders readers;
  private final ImportChoices choices;
  private Optional<TableReading.Understood> understood = Optional.empty();
  private Optional<IncomingReadings> sorted = Optional.empty();
  private String sortedAgainst = "";

  private Importer(
      StudyFolder folder, ReceivedFile file, TableReaders readers, ImportChoices choices) {
    this.folder = folder;
    this.file = file;
    this.readers = readers;
    this.choices = choices;
  }

  /** Looks at a file and says what an import would do. Changes nothing. */
  public static Inspected inspect(
      StudyFolder folder, ReceivedFile file, TableReaders readers, ImportChoices choices) {
    Importer importer = new Importer(folder, file, readers, choices);
    return new Inspected(importer.preview(), importer::keep);
  }

  private Preview preview() {
    Result<StudyContents> opening = folder.open();
    if (opening.isRefused()) {
      return Preview.refused(opening.issues());
    }
    TableReading.Understood read = understood(opening.get());
    IncomingReadings incoming = incoming(opening.get());
    boolean sameFile = sameFile(opening.get()).isPresent();
    return new Preview(
        incoming.outcome(),
        read.facts(),
        read.columns(),
        read.batch().readings(),
        sameFile ? List.of() : read.questions(),
        incoming.differences());
  }

  private Result<Appended> keep() {
    return folder.record().append(List.of(file), this::incoming, choices.decision());
  }

  private Optional<IncomingReadings> sameFile(StudyContents contents) {
    return IncomingReadings.sameFile(contents, file, this::isTaken);
  }

  /** Whether a place of the file is in the sheet, and the table of it, that was named. */
  private boolean isTaken(Provenance source) {
    Optional<String> sheet = choices.mapping().setting(Setting.SHEET);
    boolean ofTable =
        choices.mapping().setting(Setting.HEADER_ROW).isEmpty()
            || understood.stream()
                .flatMap(read -> read.batch().readings().stream())
                .anyMatch(reading -> reading.source().row() == source.row());
    return ofTable && (sheet.isEmpty() || source.sheet().equals(sheet.get()));
  }

  /** The file is read once. */
  private TableReading.Understood understood(StudyContents contents) {
    if (understood.isEmpty()) {
      understood =
          Optional.of(
              TableReading.read(
                  file,
                  readers.open(file, choices.mapping()),
                  contents.study(),
                  choices.mapping()));
    }
    return understood.get();
  }

  /** The readings are checked again only when the record is another than before. */
  private IncomingReadings incoming(StudyContents contents) {
    if (sorted.isEmpty() || !sortedAgainst.equals(contents.recordHash())) {
      TableReading.Understood read = understood(contents);
      sortedAgainst = contents.recordHash();
      sorted =
          sameFile(contents)
              .or(
                  () ->
                      Optional.of(
                          IncomingReadings.of(
                              contents, checked(contents, read), choices.decision())));
    }
    return sorted.orElseThrow();
  }

  private Batch checked(StudyContents contents, TableReading.Understood read) {
    List<DataIssue> issues = new ArrayList<>();
    for (DataIssue issue : read.batch().issues()) {
      boolean question = issue.code() == Code.LAST_LINE_UNFINISHED;
      issues.addAll(
          question
              ? ImportChecks.accepting(List.of(ImportChecks.withOption(issue)), choices.accepted())
              : List.of(issue));
    }
    issues.addAll(
        read.inItsHeaders(ImportChecks.of(contents, read.batch().readings(), choices.accepted())));
    return new Batch(read.batch().readings(), issues);
  }

  /** Reads a file from the disk, once. */
  public static Result<ReceivedFile> receive(Path path) {
    String name = path.getFileName() == null ? path.toString() : path.getFileName().toString();
    try {
      if (!Files.exists(path)) {
        return refused(Code.FILE_MISSING, name, "there is no such file: " + path);
      } else if (Files.isDirectory(path)) {
        return refused(Code.FILE_TYPE, name, "this is a folder; give the files in it");
      } else if (Files.size(path) > LARGEST_BYTES) {
        return refused(Code.FILE_UNREADABLE, name, "the file is larger than 128 MiB");
      }
      return Result.of(ReceivedFile.owning(name, Files.readAllBytes(path)));
    } catch (IOException e) {
      return refused(
          Code.FILE_UNREADABLE, name, "the file cannot be read (%s)".formatted(e.getMessage()));
    }
  }

  private static Result<ReceivedFile> refused(Code code, String file, String message) {
    return Result.refused(DataIssue.error(code, file, 0, "", "", message));
  }
}
