package lotproof.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import lotproof.folder.definition.StudyFile;
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
record RecordSnapshot(StudyFiles files, Map<String, byte[]> bytes) {
  private static final List<String> NAMES =
      List.of(
          StudyFile.NAME,
          RecordFiles.READINGS.name(),
          RecordFiles.DECISIONS.name(),
          RecordFiles.SERIES.name());

  static RecordSnapshot of(StudyFiles files) throws IOException {
    Map<String, byte[]> bytes = new HashMap<>();
    for (String name : NAMES) {
      files.bytes(name).ifPresent(content -> bytes.put(name, content));
    }
    return new RecordSnapshot(files, bytes);
  }

  byte[] of(String name) {
    return bytes.getOrDefault(name, new byte[0]);
  }

  /** The file with lines added. */
  <T> byte[] append(RecordFile<T> file, List<T> lines) {
    return file.append(of(file.name()), lines);
  }

  /** The same with other bytes of a file. */
  RecordSnapshot with(String name, byte[] content) {
    Map<String, byte[]> changed = new HashMap<>(bytes);
    changed.put(name, content);
    return new RecordSnapshot(files, changed);
  }

  private <T> List<T> lines(RecordFile<T> file, List<DataIssue> issues) {
    return file.read(of(file.name()), issues);
  }

  /** What the folder holds, checked. */
  Result<StudyContents> check() throws IOException {
    if (!bytes.containsKey(StudyFile.NAME)) {
      return Result.refused(files.missing());
    }
    Supplier<Result<Study>> defining =
        Parallel.begin(() -> StudyFile.read(StudyFile.NAME, of(StudyFile.NAME)));
    List<DataIssue> ofRecord = new ArrayList<>();
    List<Reading> recorded = lines(RecordFiles.READINGS, ofRecord);
    List<Decision> decided = lines(RecordFiles.DECISIONS, ofRecord);
    List<KeptSeries> kept = lines(RecordFiles.SERIES, ofRecord);
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
            ReceivedFile.hash(NAMES.stream().map(this::of).toArray(byte[][]::new)),
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
      Optional<byte[]> bytes = files.bytes(place);
      if (bytes.isEmpty()) {
        String message =
            "the original of %s is not there; what came from it cannot be traced beyond the record"
                .formatted(source.file());
        issues.add(DataIssue.warning(Code.FILE_MISSING, place, 0, "", "", message));
      } else if (!ReceivedFile.hash(bytes.get()).equals(source.sha256())) {
        issues.add(
            RecordFile.damage(
                place,
                0,
                "",
                "the file was changed: its contents do not match the hash in its name"));
      }
    }
    return issues;
  }
}
