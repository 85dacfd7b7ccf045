package lotproof.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
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

/**
 * What enters the figures of a study: readings, decisions and series. Each change replaces one file
 * of the record, after everything that it refers to is on the disk.
 */
public final class StudyRecord {
  private final StudyFiles files;

  StudyRecord(StudyFiles files) {
    this.files = files;
  }

  /** An original that is read again when it is kept, so that many large ones need no memory. */
  public interface Original {
    /** Hash of its bytes when its readings were made. */
    String sha256();

    /** Reads it. */
    ReceivedFile read() throws IOException;
  }

  /** Adds all readings of a file, or none; those that the record holds already are recognised. */
  public Result<Appended> append(ReceivedFile file, List<Reading> readings) {
    return append(
        List.of(file),
        contents ->
            IncomingReadings.sameFile(contents, file, source -> true)
                .orElseGet(
                    () -> IncomingReadings.of(contents, readings, List.of(), Optional.empty())),
        Optional.empty());
  }

  /**
   * Adds the readings of files, all of them or none. All originals are kept first; then the record
   * is replaced once; then it is written down which values count where a file says something else
   * than the record.
   *
   * @param originals the files that the readings come from
   * @param sorter says what their readings mean for what the folder holds; called while other
   *     writers are kept out
   * @param decision what a person decided about differences with the first of the files
   */
  public Result<Appended> append(
      List<? extends Original> originals,
      Function<StudyContents, IncomingReadings> sorter,
      Optional<SourceDecision> decision) {
    return files.write(
        RecordFiles.READINGS.name(),
        () -> {
          RecordSnapshot before = RecordSnapshot.of(files);
          Result<StudyContents> opening = before.check();
          if (opening.isRefused()) {
            return Result.refused(opening.issues());
          }
          IncomingReadings incoming = sorter.apply(opening.get());
          Result<Appended> outcome = incoming.outcome();
          if (outcome.isRefused()) {
            return outcome;
          }
          if (incoming.toAppend().isEmpty() && !incoming.wasThere()) {
            throw new IllegalArgumentException("neither readings nor an error");
          }
          Optional<DataIssue> changed = keep(originals, incoming.toAppend());
          if (changed.isPresent()) {
            return Result.refused(changed.get());
          }
          if (!incoming.toAppend().isEmpty()) {
            files.put(
                RecordFiles.READINGS.name(),
                before.append(RecordFiles.READINGS, incoming.toAppend()));
          }
          if (decision.isPresent()) {
            String hash = originals.get(0).sha256();
            List<Decision> lines =
                lines(opening.get(), incoming.toDecide(opening.get(), hash), hash, decision.get());
            if (!lines.isEmpty()) {
              files.put(RecordFiles.DECISIONS.name(), before.append(RecordFiles.DECISIONS, lines));
            }
          }
          return outcome;
        });
  }

  /** Keeps the originals that readings come from; says when one is not what it was. */
  private Optional<DataIssue> keep(List<? extends Original> originals, List<Reading> fresh)
      throws IOException {
    Set<String> needed = new LinkedHashSet<>();
    fresh.forEach(reading -> needed.add(reading.source().sha256()));
    Set<String> named = new HashSet<>();
    originals.forEach(original -> named.add(original.sha256()));
    if (!named.containsAll(needed)) {
      throw new IllegalArgumentException("readings from files that are not named: " + needed);
    }
    for (Original original : originals) {
      if (needed.remove(original.sha256())) {
        ReceivedFile file = original.read();
        if (!file.sha256().equals(original.sha256())) {
          String message = "the file changed while it was being imported; nothing was kept";
          return Optional.of(DataIssue.error(Code.FILE_UNREADABLE, file.name(), message));
        }
        files.keep(file);
      }
    }
    return Optional.empty();
  }

  /** For each run which of two files counts. */
  private static List<Decision> lines(
      StudyContents contents, Set<String> runs, String hash, SourceDecision choice) {
    Map<String, Decision> holding = Sources.inForce(contents.decisions());
    // a run can hold readings of several files already; the first that counts stands for them
    Map<String, String> first = new HashMap<>();
    contents.readings().forEach(r -> first.putIfAbsent(r.run(), r.source().sha256()));
    List<Decision> all = new ArrayList<>(contents.decisions());
    Supplier<String> next = () -> StudyFolder.nextName("D", all.stream().map(Decision::id));
    for (String run : runs) {
      Optional<Decision> earlier = Optional.ofNullable(holding.get(run));
      earlier.ifPresent(it -> all.add(choice.withdrawing(next.get(), it)));
      String counting = earlier.flatMap(Decision::value).orElse(first.getOrDefault(run, hash));
      all.add(choice.about(next.get(), run, counting, hash));
    }
    return all.subList(contents.decisions().size(), all.size());
  }

  /** Adds a decision as the last line of decisions.csv; its line number is given by the folder. */
  public Result<Decision> decide(Decision decision) {
    return add(RecordFiles.DECISIONS, decision, Optional.empty(), it -> meanwhile(it, decision))
        .map(after -> after.decisions().get(after.decisions().size() - 1));
  }

  /** Another decision that has taken the name since the folder was read for this one. */
  private static Optional<DataIssue> meanwhile(StudyContents before, Decision decision) {
    return before.decisions().stream()
        .filter(other -> other.id().equals(decision.id()))
        .findFirst()
        .map(
            other ->
                DataIssue.error(
                    Code.FOLDER_BUSY,
                    RecordFiles.DECISIONS.name(),
                    0,
                    "",
                    "",
                    DataIssue.say(
                        "another decision was written meanwhile: %s by %s, %s %s %s (%s); look"
                            + " whether yours still holds, and give it again",
                        other.id(),
                        other.who(),
                        other.target().key(),
                        other.serial(),
                        other.action().key(),
                        other.cause())));
  }

  /**
   * Keeps a series beside the readings. The original is kept first, then series.csv gets its line.
   *
   * @param file the file as received, the one that the series names
   */
  public Result<Appended> keepSeries(ReceivedFile file, KeptSeries series) {
    return add(RecordFiles.SERIES, series, Optional.of(file), before -> Optional.empty())
        .map(after -> new Appended(0, 0, false));
  }

  /** Adds a line if the folder is sound before and after, and keeps its original first. */
  private <T> Result<StudyContents> add(
      RecordFile<T> file,
      T line,
      Optional<ReceivedFile> original,
      Function<StudyContents, Optional<DataIssue>> against) {
    return files.write(
        file.name(),
        () -> {
          RecordSnapshot before = RecordSnapshot.of(files);
          Result<StudyContents> sound = before.check();
          if (sound.isRefused()) {
            return sound;
          }
          Optional<DataIssue> stop = against.apply(sound.get());
          if (stop.isPresent()) {
            return Result.refused(stop.get());
          }
          byte[] added = before.append(file, List.of(line));
          Result<StudyContents> after = before.with(file.name(), added).check();
          if (!after.isRefused()) {
            if (original.isPresent()) {
              files.keep(original.get());
            }
            files.put(file.name(), added);
          }
          // what was known of the folder before is no news
          return after.isRefused() ? after : Result.of(after.get());
        });
  }

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
        return files.missing();
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
      issues.addAll(ReadingChecks.ofSeries(defined, kept));
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
        Optional<byte[]> original = files.bytes(place);
        if (original.isEmpty()) {
          String message =
              "the original of %s is not there; what came from it cannot be traced beyond the"
                  + " record";
          issues.add(
              DataIssue.warning(Code.FILE_MISSING, place, 0, message.formatted(source.file())));
        } else if (!ReceivedFile.hash(original.get()).equals(source.sha256())) {
          String message = "the file was changed: its contents do not match the hash in its name";
          issues.add(RecordFile.damage(place, 0, "", message));
        }
      }
      return issues;
    }
  }
}
