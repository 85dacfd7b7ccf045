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
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.KeptSeries;
import lotproof.study.Reading;
import lotproof.study.Result;

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
  public Result<Appended> append(ReceivedFile file, Function<StudyContents, Batch> reader) {
    return append(
        List.of(file),
        contents ->
            IncomingReadings.sameFile(contents, file, source -> true)
                .orElseGet(
                    () -> IncomingReadings.of(contents, reader.apply(contents), Optional.empty())),
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
    Map<String, String> first = new HashMap<>();
    for (Reading reading : contents.readings()) {
      // The run can hold readings of several files already; the first that counts stands for them.
      first.putIfAbsent(reading.run(), reading.source().sha256());
    }
    List<Decision> all = new ArrayList<>(contents.decisions());
    for (String run : runs) {
      Decision earlier = holding.get(run);
      String counting = first.getOrDefault(run, hash);
      if (earlier != null) {
        all.add(choice.withdrawing(nextName(all), earlier));
        counting = earlier.value().orElse(hash);
      }
      all.add(choice.about(nextName(all), run, counting, hash));
    }
    return all.subList(contents.decisions().size(), all.size());
  }

  private static String nextName(List<Decision> decisions) {
    return StudyFolder.nextName("D", decisions.stream().map(Decision::id));
  }

  /** Adds a decision as the last line of decisions.csv; its line number is given by the folder. */
  public Result<Decision> decide(Decision decision) {
    Result<StudyContents> after = add(RecordFiles.DECISIONS, decision, Optional.empty());
    return after.isRefused()
        ? Result.refused(after.issues())
        : Result.of(after.get().decisions().get(after.get().decisions().size() - 1));
  }

  /**
   * Keeps a series beside the readings. The original is kept first, then series.csv gets its line.
   *
   * @param file the file as received, the one that the series names
   */
  public Result<Appended> keepSeries(ReceivedFile file, KeptSeries series) {
    Result<StudyContents> after = add(RecordFiles.SERIES, series, Optional.of(file));
    return after.isRefused()
        ? Result.refused(after.issues())
        : Result.of(new Appended(0, 0, false));
  }

  /** Adds a line if the folder is sound before and after, and keeps its original first. */
  private <T> Result<StudyContents> add(
      RecordFile<T> file, T line, Optional<ReceivedFile> original) {
    return files.write(
        file.name(),
        () -> {
          RecordSnapshot before = RecordSnapshot.of(files);
          Result<StudyContents> sound = before.check();
          if (sound.isRefused()) {
            return sound;
          }
          byte[] added = before.append(file, List.of(line));
          Result<StudyContents> after = before.with(file.name(), added).check();
          if (!after.isRefused()) {
            if (original.isPresent()) {
              files.keep(original.get());
            }
            files.put(file.name(), added);
          }
          return after;
        });
  }
}
