package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
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
    serials
        .whyNotCell(reading.cell())
        .ifPresent(why -> unknownSerial(reading, ReadingColumn.CELL, reading.cell(), why));
    serials
        .whyNotBoard(reading.board())
        .ifPresent(why -> unknownSerial(reading, ReadingColumn.BOARD, reading.board(), why));
    double capacity = study.kit().capacityKilograms();
    if (reading.loadKilograms() > capacity) {
      String message = "a load of %s kg is above the capacity of %s kg";
      warn(
          Code.OUT_OF_RANGE,
          reading,
          ReadingColumn.LOAD,
          message.formatted(plain(reading.loadKilograms()), plain(capacity)));
    }
    Map<Integer, Reading> steps = stepsOf(reading);
    if (!steps.isEmpty()) {
      Reading first = steps.values().iterator().next();
      String onePair = "a run is one pair";
      compare(reading, first, ReadingColumn.CELL, Reading::cell, onePair);
      compare(reading, first, ReadingColumn.BOARD, Reading::board, onePair);
      compare(
          reading,
          first,
          ReadingColumn.SESSION,
          r -> "\"" + r.session() + "\"",
          "a run lies in one session");
    }
    Reading earlier = steps.putIfAbsent(reading.step(), reading);
    if (earlier != null) {
      String message =
          "run %s, step %s stands already in %s; a repeat of the pair needs a run name of its own";
      add(
          Severity.ERROR,
          Code.DUPLICATE_READING,
          reading,
          ReadingColumn.STEP,
          message.formatted(reading.run(), reading.step(), at(earlier)));
    }
  }

  private void unknownSerial(Reading reading, ReadingColumn column, String serial, String why) {
    Optional<String> damage = serials.damage(serial);
    Code code = damage.isPresent() ? Code.SERIAL_DAMAGED : Code.UNKNOWN_SERIAL;
    String advice =
        damage.map(how -> "; " + how + ": format the column as text and type it again").orElse("");
    issues.add(
        DataIssue.error(code, file(reading), line(reading), column.header(), serial, why + advice));
  }

  /** Holds what a reading says of its run against the first reading of it. */
  private void compare(
      Reading reading,
      Reading first,
      ReadingColumn column,
      Function<Reading, String> value,
      String rule) {
    if (!value.apply(reading).equals(value.apply(first))) {
      String word = column.word();
      add(
          column == ReadingColumn.SESSION ? Severity.WARNING : Severity.ERROR,
          Code.RUN_INCONSISTENT,
          reading,
          column,
          "run %s has %s %s in %s and %s %s here; %s"
              .formatted(
                  reading.run(),
                  word,
                  value.apply(first),
                  at(first),
                  word,
                  value.apply(reading),
                  rule));
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
      warn(
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
        warn(
            Code.RUN_INCONSISTENT,
            reading,
            ReadingColumn.TIME,
            "run %s, step %s is earlier than its step %s"
                .formatted(run, reading.step(), before.step()));
        return;
      }
    }
  }

  private void warn(Code code, Reading reading, ReadingColumn column, String message) {
    add(Severity.WARNING, code, reading, column, message);
  }

  private void add(
      Severity severity, Code code, Reading reading, ReadingColumn column, String message) {
    issues.add(
        new DataIssue(severity, code, file(reading), line(reading), column.header(), "", message));
  }

  private String file(Reading reading) {
    return place == Place.RECORD ? RecordFiles.READINGS.name() : reading.source().file();
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
