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
import java.util.stream.Stream;
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
        ReadingsFile.NAME,
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
                ReadingsFile.NAME,
                ReadingsFile.FILE.append(before.readings(), incoming.toAppend()));
          }
          if (decision.isPresent()) {
            String hash = originals.get(0).sha256();
            decide(
                before,
                incoming.toDecide(opening.get(), hash),
                hash,
                opening.get(),
                decision.get());
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
          return Optional.of(StudyFiles.issue(Code.FILE_UNREADABLE, file.name(), message));
        }
        files.keep(file);
      }
    }
    return Optional.empty();
  }

  /** Writes for each run which of two files counts. */
  private void decide(
      RecordSnapshot before,
      Set<String> runs,
      String hash,
      StudyContents contents,
      SourceDecision choice)
      throws IOException {
    if (runs.isEmpty()) {
      return;
    }
    Set<String> names = new HashSet<>();
    contents.decisions().forEach(d -> names.add(d.id()));
    Map<String, Decision> holding = Sources.inForce(contents.decisions());
    Map<String, String> first = new HashMap<>();
    for (Reading reading : contents.readings()) {
      // The run can hold readings of several files already; the first that counts stands for them.
      first.putIfAbsent(reading.run(), reading.source().sha256());
    }
    List<Decision> lines = new ArrayList<>();
    for (String run : runs) {
      Decision earlier = holding.get(run);
      String counting = first.getOrDefault(run, hash);
      if (earlier != null) {
        lines.add(choice.withdrawing(freeName(names), earlier));
        counting = earlier.value().orElse(hash);
      }
      lines.add(choice.about(freeName(names), run, counting, hash));
    }
    files.put(DecisionsFile.NAME, DecisionsFile.FILE.append(before.decisions(), lines));
  }

  private static String freeName(Set<String> taken) {
    String free =
        Stream.iterate(1, n -> n + 1)
            .map(n -> "D" + n)
            .filter(n -> !taken.contains(n))
            .findFirst()
            .orElseThrow();
    taken.add(free);
    return free;
  }

  /** Adds a decision as the last line of decisions.csv; its line number is given by the folder. */
  public Result<Decision> decide(Decision decision) {
    return files.write(
        DecisionsFile.NAME,
        () -> {
          RecordSnapshot before = RecordSnapshot.of(files);
          Result<StudyContents> sound = before.check();
          byte[] added = DecisionsFile.FILE.append(before.decisions(), List.of(decision));
          Result<StudyContents> after =
              sound.isRefused() ? sound : before.withDecisions(added).check();
          if (!after.isRefused()) {
            files.put(DecisionsFile.NAME, added);
          }
          return new Result<>(
              after.value().map(all -> all.decisions().get(all.decisions().size() - 1)),
              after.isRefused() ? after.issues() : List.of());
        });
  }

  /**
   * Keeps a series beside the readings. The original is kept first, then series.csv gets its line.
   *
   * @param file the file as received, the one that the series names
   */
  public Result<Appended> keepSeries(ReceivedFile file, KeptSeries series) {
    String name = RecordSnapshot.SERIES.name();
    return files.write(
        name,
        () -> {
          RecordSnapshot before = RecordSnapshot.of(files);
          Result<StudyContents> sound = before.check();
          byte[] added = RecordSnapshot.SERIES.append(before.series(), List.of(series));
          Result<StudyContents> after =
              sound.isRefused() ? sound : before.withSeries(added).check();
          if (after.isRefused()) {
            return Result.refused(after.issues());
          }
          files.keep(file);
          files.put(name, added);
          return Result.of(new Appended(0, 0, false));
        });
  }
}
