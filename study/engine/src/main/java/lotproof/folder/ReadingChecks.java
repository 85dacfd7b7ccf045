package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * What readings must satisfy together: known serials, one pair a run, no step twice, and (as
 * warnings) the plan. The same checks hold for a received file and for the whole record.
 */
public final class ReadingChecks {
  private final Serials serials;
  private final Study study;
  private final Place place;
  private final Map<String, Map<Integer, Reading>> runs = new LinkedHashMap<>();
  private final List<DataIssue> issues = new ArrayList<>();

  /** Where issues point. */
  public enum Place {
    /** The file that the reading was taken from. */
    SOURCE,
    /** readings.csv. */
    RECORD
  }

  private ReadingChecks(Study study, Place place) {
    this.study = study;
    this.serials = new Serials(study);
    this.place = place;
  }

  /**
   * Checks readings that are new against those that are known.
   *
   * @param known readings of the record; they raise no issues of their own
   * @param fresh readings to check
   */
  public static List<DataIssue> check(
      Study study, List<Reading> known, List<Reading> fresh, Place place) {
    ReadingChecks checks = new ReadingChecks(study, place);
    known.forEach(r -> checks.stepsOf(r).putIfAbsent(r.step(), r));
    fresh.forEach(checks::add);
    Set<String> touched = fresh.stream().map(Reading::run).collect(Collectors.toSet());
    checks.runs.forEach(
        (run, steps) -> {
          if (touched.contains(run)) {
            checks.checkComplete(run, steps);
          }
        });
    return checks.issues;
  }

  private Map<Integer, Reading> stepsOf(Reading reading) {
    return runs.computeIfAbsent(reading.run(), run -> new LinkedHashMap<>());
  }

  private void add(Reading reading) {
    checkSerials(reading);
    checkLoad(reading);
    Map<Integer, Reading> steps = stepsOf(reading);
    if (!steps.isEmpty()) {
      checkAgainstRun(reading, steps.values().iterator().next());
    }
    Reading earlier = steps.putIfAbsent(reading.step(), reading);
    if (earlier != null) {
      String message =
          "run " + reading.run() + ", step " + reading.step() + " stands already in " + at(earlier);
      issue(
          Severity.ERROR,
          Code.DUPLICATE_READING,
          reading,
          ReadingColumn.STEP,
          message + "; a repeat of the pair needs a run name of its own");
    }
  }

  private void checkSerials(Reading reading) {
    serials
        .whyNotCell(reading.cell())
        .ifPresent(why -> unknownSerial(reading, ReadingColumn.CELL, reading.cell(), why));
    serials
        .whyNotBoard(reading.board())
        .ifPresent(why -> unknownSerial(reading, ReadingColumn.BOARD, reading.board(), why));
  }

  private void unknownSerial(Reading reading, ReadingColumn column, String serial, String why) {
    Optional<String> damage = serials.damage(serial);
    Code code = damage.isPresent() ? Code.SERIAL_DAMAGED : Code.UNKNOWN_SERIAL;
    String message =
        damage
            .map(how -> why + "; " + how + ": format the column as text and type it again")
            .orElse(why);
    issues.add(
        DataIssue.error(code, file(reading), line(reading), column.header(), serial, message));
  }

  private void checkLoad(Reading reading) {
    double capacity = study.kit().capacityKilograms();
    if (reading.loadKilograms() > capacity) {
      issue(
          Severity.WARNING,
          Code.OUT_OF_RANGE,
          reading,
          ReadingColumn.LOAD,
          "a load of %s kg is above the capacity of %s kg"
              .formatted(plain(reading.loadKilograms()), plain(capacity)));
    }
  }

  private void checkAgainstRun(Reading reading, Reading first) {
    String held = "run " + reading.run() + " has ";
    if (!reading.cell().equals(first.cell())) {
      issue(
          Severity.ERROR,
          Code.RUN_INCONSISTENT,
          reading,
          ReadingColumn.CELL,
          "%scell %s in %s and cell %s here; a run is one pair"
              .formatted(held, first.cell(), at(first), reading.cell()));
    }
    if (!reading.board().equals(first.board())) {
      issue(
          Severity.ERROR,
          Code.RUN_INCONSISTENT,
          reading,
          ReadingColumn.BOARD,
          "%sboard %s in %s and board %s here; a run is one pair"
              .formatted(held, first.board(), at(first), reading.board()));
    }
    if (!reading.session().equals(first.session())) {
      issue(
          Severity.WARNING,
          Code.RUN_INCONSISTENT,
          reading,
          ReadingColumn.SESSION,
          "%ssession \"%s\" in %s and session \"%s\" here; a run lies in one session"
              .formatted(held, first.session(), at(first), reading.session()));
    }
  }

  private void checkComplete(String run, Map<Integer, Reading> steps) {
    checkTimes(run, steps);
    int planned = study.design().loadsOf(run).size();
    int last = Math.max(planned, steps.keySet().stream().mapToInt(step -> step).max().orElse(0));
    if (steps.size() == last) {
      return;
    }
    List<Integer> missing =
        IntStream.rangeClosed(1, last).filter(s -> !steps.containsKey(s)).boxed().toList();
    if (!missing.isEmpty()) {
      String names = missing.stream().map(String::valueOf).collect(Collectors.joining(", "));
      issue(
          Severity.WARNING,
          Code.RUN_INCOMPLETE,
          steps.values().iterator().next(),
          ReadingColumn.STEP,
          "run %s lacks %s%s of %s%s"
              .formatted(
                  run,
                  missing.size() == 1 ? "step " : "steps ",
                  names,
                  last,
                  steps.size() < planned ? "; it enters no figure before it has all" : ""));
    }
  }

  private void checkTimes(String run, Map<Integer, Reading> steps) {
    List<Reading> timed =
        steps.values().stream()
            .filter(reading -> reading.time().isPresent())
            .sorted(Comparator.comparingInt(Reading::step))
            .toList();
    for (int i = 1; i < timed.size(); i++) {
      Reading before = timed.get(i - 1);
      Reading reading = timed.get(i);
      if (reading.time().orElseThrow().isBefore(before.time().orElseThrow())) {
        issue(
            Severity.WARNING,
            Code.RUN_INCONSISTENT,
            reading,
            ReadingColumn.TIME,
            "run %s, step %s is earlier than its step %s"
                .formatted(run, reading.step(), before.step()));
        return;
      }
    }
  }

  private void issue(
      Severity severity, Code code, Reading reading, ReadingColumn column, String message) {
    issues.add(
        new DataIssue(severity, code, file(reading), line(reading), column.header(), "", message));
  }

  private String file(Reading reading) {
    return place == Place.RECORD ? ReadingsFile.NAME : reading.source().file();
  }

  private int line(Reading reading) {
    return place == Place.RECORD ? reading.recordLine() : reading.source().row();
  }

  private String at(Reading reading) {
    return place == Place.RECORD
        ? "line " + reading.recordLine()
        : reading.source().file() + ", line " + reading.source().row();
  }
}
