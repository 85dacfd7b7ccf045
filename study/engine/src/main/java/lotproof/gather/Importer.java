package lotproof.gather;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.IncomingReadings;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.layout.TableReading;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;

/**
 * Takes a file into a study folder, all of it or nothing: its original is kept, and its readings
 * are added to the record. A second import of the same bytes is recognised under any name.
 */
public final class Importer {
  private static final long LARGEST_BYTES = 128L << 20;

  private final ReceivedFile file;
  private final ImportChoices choices;
  private final TableReading.Understood understood;

  private Importer(ReceivedFile file, ImportChoices choices, TableReading.Understood understood) {
    this.file = file;
    this.choices = choices;
    this.understood = understood;
  }

  /** Looks at a file and says what an import would do. Changes nothing. */
  public static Preview inspect(
      StudyFolder folder, ReceivedFile file, TableReaders readers, ImportChoices choices) {
    Result<StudyContents> opening = folder.open();
    if (opening.isRefused()) {
      return Preview.refused(opening.issues());
    }
    StudyContents contents = opening.get();
    Mapping mapping = choices.mapping();
    Importer importer =
        new Importer(
            file,
            choices,
            TableReading.read(file, readers.open(file, mapping), contents.study(), mapping));
    IncomingReadings incoming = importer.incoming(contents);
    boolean known = importer.sameFile(contents).isPresent();
    return new Preview(
        incoming.outcome(),
        known ? importer.understood.withoutQuestions() : importer.understood,
        incoming.differences(),
        () -> folder.record().append(List.of(file), importer::incoming, choices.decision()));
  }

  private Optional<IncomingReadings> sameFile(StudyContents contents) {
    return IncomingReadings.sameFile(contents, file, this::isTaken);
  }

  /** Whether a place of the file is in the sheet, and the table of it, that was named. */
  private boolean isTaken(Provenance source) {
    Mapping mapping = choices.mapping();
    boolean ofTable =
        mapping.setting(Setting.HEADER_ROW).isEmpty()
            || understood.readings().stream()
                .anyMatch(reading -> reading.source().row() == source.row());
    return ofTable
        && mapping.setting(Setting.SHEET).filter(s -> !s.equals(source.sheet())).isEmpty();
  }

  private IncomingReadings incoming(StudyContents contents) {
    List<DataIssue> issues = new ArrayList<>(understood.issues());
    issues.replaceAll(
        issue ->
            issue.code() == Code.LAST_LINE_UNFINISHED
                ? ImportChecks.question(issue, choices.accepted())
                : issue);
    List<Reading> readings = understood.readings();
    return sameFile(contents)
        .orElseGet(
            () -> {
              List<DataIssue> checks = ImportChecks.of(contents, readings, choices.accepted());
              issues.addAll(understood.inItsHeaders(checks));
              return IncomingReadings.of(contents, readings, issues, choices.decision());
            });
  }

  /** Reads a file from the disk, once. */
  public static Result<ReceivedFile> receive(Path path) {
    String name = path.getFileName() == null ? path.toString() : path.getFileName().toString();
    try {
      if (!Files.exists(path)) {
        return refused(Code.FILE_MISSING, name, "there is no such file: " + path);
      } else if (Files.isDirectory(path)) {
        return refused(Code.FILE_TYPE, name, "this is a folder; give the files in it");
      } else if (!Files.isRegularFile(path)) {
        return refused(Code.FILE_TYPE, name, "this is a pipe or a device; give a file");
      } else if (Files.size(path) > LARGEST_BYTES) {
        return refused(Code.FILE_UNREADABLE, name, "the file is larger than 128 MiB");
      }
      return Result.of(ReceivedFile.of(name, Files.readAllBytes(path)));
    } catch (IOException e) {
      return refused(
          Code.FILE_UNREADABLE, name, "the file cannot be read (%s)".formatted(e.getMessage()));
    }
  }

  private static Result<ReceivedFile> refused(Code code, String file, String message) {
    return Result.refused(code, file, message);
  }
}
