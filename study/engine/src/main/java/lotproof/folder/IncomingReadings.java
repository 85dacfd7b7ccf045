package lotproof.folder;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;

/**
 * What received readings mean for a study folder.
 *
 * @param toAppend readings that the record does not hold yet, in file order; those that differ are
 *     among them when a person has decided
 * @param recognised how many readings the record holds already, with the same values
 * @param wasThere whether these very readings were imported before
 * @param issues all that speaks against it, in file order
 */
public record IncomingReadings(
    List<Reading> toAppend,
    int recognised,
    List<Difference> differences,
    boolean wasThere,
    List<DataIssue> issues) {
  public IncomingReadings {
    toAppend = List.copyOf(toAppend);
    differences = List.copyOf(differences);
    issues = List.copyOf(issues);
  }

  /** Readings that were imported before, of which a warning tells. */
  public static IncomingReadings known(int readings, String file, String message) {
    DataIssue note = DataIssue.warning(Code.ALREADY_IMPORTED, file, 0, message);
    return new IncomingReadings(List.of(), readings, List.of(), true, List.of(note));
  }

  /**
   * Whether the record holds readings from a file with exactly these bytes.
   *
   * @param part which places of the file are meant
   */
  public static Optional<IncomingReadings> sameFile(
      StudyContents contents, ReceivedFile file, Predicate<Provenance> part) {
    List<Provenance> sources =
        Stream.concat(contents.readings().stream(), contents.beside().stream())
            .map(Reading::source)
            .filter(source -> source.sha256().equals(file.sha256()))
            .filter(part)
            .toList();
    return sources.stream()
        .findFirst()
        .map(
            first ->
                known(
                    sources.size(),
                    file.name(),
                    "the same file was imported before as %s (%s readings); nothing was changed"
                        .formatted(first.file(), sources.size())));
  }

  /** What adding them to the record does. */
  public Result<Appended> outcome() {
    int readings = wasThere ? recognised : toAppend.size();
    return Result.of(new Appended(readings, wasThere ? 0 : recognised, wasThere), issues);
  }

  /**
   * The runs about which a decision is due: those that differ, or of a file that was imported
   * before those that nobody has decided about.
   */
  Set<String> toDecide(StudyContents contents, String sha256) {
    Set<String> runs = runs(differences);
    if (wasThere) {
      Set<String> decided = Sources.inForce(contents.decisions()).keySet();
      contents.beside().stream()
          .filter(r -> r.source().sha256().equals(sha256) && !decided.contains(r.run()))
          .forEach(r -> runs.add(r.run()));
    }
    return runs;
  }

  /**
   * Sorts the readings of a file into what is new, what is known and what differs.
   *
   * @param readings in file order
   * @param found what was found in the file; one error keeps all readings out
   * @param decision which values count where they differ; without one a difference is an error
   */
  public static IncomingReadings of(
      StudyContents contents,
      List<Reading> readings,
      List<DataIssue> found,
      Optional<SourceDecision> decision) {
    Map<Reading.Step, List<Reading>> known =
        Stream.concat(contents.readings().stream(), contents.beside().stream())
            .collect(Collectors.groupingBy(Reading::stepOfRun));
    List<Reading> fresh = new ArrayList<>();
    List<Difference> differences = new ArrayList<>();
    for (Reading reading : readings) {
      List<Reading> recorded = known.getOrDefault(reading.stepOfRun(), List.of());
      if (recorded.isEmpty()) {
        fresh.add(reading);
      } else if (recorded.stream().noneMatch(it -> Difference.same(it, reading))) {
        differences.add(new Difference(recorded.get(0), reading));
      }
    }
    int recognised = readings.size() - fresh.size() - differences.size();
    List<DataIssue> issues = new ArrayList<>(found);
    issues.addAll(checks(contents, fresh, differences, decision));
    if (decision.isPresent()) {
      issues.addAll(incomplete(contents, readings, differences));
    } else {
      differences.forEach(difference -> issues.add(differs(difference)));
    }
    boolean errors = issues.stream().anyMatch(DataIssue::isError);
    if (errors) {
      // Where rows are refused, a step that is missing says nothing.
      issues.removeIf(issue -> issue.code() == Code.RUN_INCOMPLETE);
    }
    issues.sort(Comparator.comparingInt(DataIssue::line));
    List<Reading> toAppend = toAppend(readings, fresh, differences);
    if (toAppend.isEmpty() && recognised > 0 && !errors) {
      return known(
          recognised,
          readings.get(0).source().file(),
          "the record holds all of its %s readings already, with the same values; nothing was changed"
              .formatted(recognised));
    }
    return new IncomingReadings(toAppend, recognised, differences, false, issues);
  }

  private static List<Reading> toAppend(
      List<Reading> readings, List<Reading> fresh, List<Difference> differences) {
    if (differences.isEmpty()) {
      return fresh;
    }
    // A run that differs is kept whole, so that the file that counts for it has all of its steps.
    Set<String> runs = runs(differences);
    Set<Reading> wanted = new HashSet<>(fresh);
    return readings.stream().filter(r -> wanted.contains(r) || runs.contains(r.run())).toList();
  }

  /** Values that are to count are checked in the place of those that they replace. */
  private static List<DataIssue> checks(
      StudyContents contents,
      List<Reading> fresh,
      List<Difference> differences,
      Optional<SourceDecision> decision) {
    Set<Reading.Step> replaced = new HashSet<>();
    List<Reading> all = new ArrayList<>(fresh);
    if (decision.filter(d -> d.choice() == SourceDecision.Choice.SUPERSEDE).isPresent()) {
      differences.forEach(d -> replaced.add(d.received().stepOfRun()));
      differences.forEach(d -> all.add(d.received()));
    }
    List<Reading> known =
        contents.readings().stream().filter(r -> !replaced.contains(r.stepOfRun())).toList();
    return ReadingChecks.check(contents.study(), known, all, ReadingChecks.Place.SOURCE);
  }

  /** Where an earlier correction counts, a file that lacks steps of the run would undo it there. */
  private static List<DataIssue> incomplete(
      StudyContents contents, List<Reading> readings, List<Difference> differences) {
    Set<String> decided = Sources.inForce(contents.decisions()).keySet();
    Set<String> corrected = runs(differences);
    corrected.retainAll(decided);
    Set<Reading.Step> has = new HashSet<>();
    readings.forEach(r -> has.add(r.stepOfRun()));
    String file = readings.isEmpty() ? "" : readings.get(0).source().file();
    String message =
        "the source of run %s was decided before, and this file lacks its step %s; give a file with"
            + " the whole run";
    return contents.readings().stream()
        .filter(r -> corrected.contains(r.run()) && !has.contains(r.stepOfRun()))
        .map(r -> message.formatted(r.run(), r.step()))
        .map(it -> DataIssue.error(Code.READING_DIFFERS, file, it))
        .toList();
  }

  private static Set<String> runs(List<Difference> differences) {
    Set<String> runs = new LinkedHashSet<>();
    differences.forEach(difference -> runs.add(difference.received().run()));
    return runs;
  }

  private static DataIssue differs(Difference difference) {
    Reading received = difference.received();
    return DataIssue.error(
        Code.READING_DIFFERS,
        received.source().file(),
        received.source().row(),
        ("run %s, step %s is in the record from %s with other values: %s; say"
                + " which counts with --supersede or --keep-first, or give a repeat of the"
                + " pair a run name of its own")
            .formatted(
                received.run(),
                received.step(),
                difference.recorded().source().place(),
                difference.words()));
  }
}
