package lotproof.folder;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import lotproof.folder.definition.StudyFile;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.KeptSeries;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;
import lotproof.work.Parallel;

/** The bytes of study.yaml and of the record, read once, and what they say together. */
@SuppressWarnings("ArrayRecordComponent") // compared by no one
record RecordSnapshot(
    StudyFiles files, Optional<byte[]> study, byte[] readings, byte[] decisions, byte[] series) {
  static final RecordFile<KeptSeries> SERIES =
      new RecordFile<>(
          "series.csv",
          List.of("cell", "board", "load [kg]", "read as", "source file", "source hash"),
          s ->
              List.of(
                  s.cell(),
                  s.board(),
                  UnitsOfMeasure.plain(s.loadKilograms()),
                  s.readAs(),
                  s.file(),
                  s.sha256()),
          line ->
              new KeptSeries(
                  line.text("cell"),
                  line.text("board"),
                  line.number("load [kg]"),
                  line.text("read as"),
                  line.text("source file"),
                  line.text("source hash")));

  static RecordSnapshot of(StudyFiles files) throws IOException {
    return new RecordSnapshot(
        files,
        files.bytes(StudyFile.NAME),
        files.bytesOrNone(ReadingsFile.NAME),
        files.bytesOrNone(DecisionsFile.NAME),
        files.bytesOrNone(SERIES.name()));
  }

  RecordSnapshot withDecisions(byte[] other) {
    return new RecordSnapshot(files, study, readings, other, series);
  }

  RecordSnapshot withSeries(byte[] other) {
    return new RecordSnapshot(files, study, readings, decisions, other);
  }

  /** What the folder holds, checked. */
  Result<StudyContents> check() throws IOException {
    if (study.isEmpty()) {
      return Result.refused(files.missing());
    }
    byte[] text = study.get();
    Supplier<Result<Study>> defining = Parallel.begin(() -> StudyFile.read(StudyFile.NAME, text));
    List<DataIssue> ofRecord = new ArrayList<>();
    List<Reading> recorded = ReadingsFile.FILE.read(readings, ofRecord);
    List<Decision> decided = DecisionsFile.FILE.read(decisions, ofRecord);
    List<KeptSeries> kept = SERIES.read(series, ofRecord);
    ofRecord.addAll(originals(recorded, kept));
    Result<Study> definition = defining.get();
    List<DataIssue> issues = new ArrayList<>(definition.issues());
    issues.addAll(ofRecord);
    if (definition.isRefused()) {
      return Result.refused(issues);
    }
    Study defined = definition.get();
    Sources sources = Sources.of(recorded, decided);
    issues.addAll(sources.issues());
    issues.addAll(
        ReadingChecks.check(defined, List.of(), sources.effective(), ReadingChecks.Place.RECORD));
    issues.addAll(DecisionChecks.check(defined, recorded, decided));
    issues.addAll(SeriesChecks.check(defined, kept));
    return Result.of(
        new StudyContents(
            defined,
            sources.effective(),
            sources.beside(),
            decided,
            kept,
            ReceivedFile.hash(text, readings, decisions, series),
            issues),
        issues);
  }

  /** Of originals what is gone is a warning; what was changed is an error. */
  private List<DataIssue> originals(List<Reading> recorded, List<KeptSeries> kept)
      throws IOException {
    Set<Provenance> sources = new LinkedHashSet<>();
    recorded.forEach(r -> sources.add(new Provenance(r.source().file(), r.source().sha256(), 1)));
    kept.forEach(s -> sources.add(new Provenance(s.file(), s.sha256(), 1)));
    List<DataIssue> issues = new ArrayList<>();
    for (Provenance source : sources) {
      String place = StudyFolder.capturePlace(source.file(), source.sha256());
      try {
        byte[] bytes = Files.readAllBytes(files.at(place));
        if (!ReceivedFile.hash(bytes).equals(source.sha256())) {
          issues.add(
              RecordFile.damage(
                  place,
                  0,
                  "",
                  "the file was changed: its contents do not match the hash in its name"));
        }
      } catch (NoSuchFileException e) {
        String message =
            "the original of %s is not there; what came from it cannot be traced beyond the record"
                .formatted(source.file());
        issues.add(DataIssue.warning(Code.FILE_MISSING, place, 0, "", "", message));
      }
    }
    return issues;
  }
}
