package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitNames;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.KeptSeries;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;

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

  /** What is wrong with series that are kept beside the readings; all of it keeps a series out. */
  public static List<DataIssue> ofSeries(Study study, List<KeptSeries> series) {
    Serials serials = new Serials(study);
    Set<String> hashes = new HashSet<>();
    List<DataIssue> issues = new ArrayList<>();
    for (KeptSeries each : series) {
      for (UnitKind kind : UnitKind.values()) {
        String serial = kind == UnitKind.CELL ? each.cell() : each.board();
        serials
            .whyNot(kind, serial)
            .map(why -> DataIssue.error(Code.UNKNOWN_SERIAL, each.file(), 0, "", serial, why))
            .ifPresent(issues::add);
      }
      double capacity = study.kit().capacityKilograms();
      if (each.loadKilograms() > capacity) {
        String message = "the load of %s kg is above the capacity of %s kg";
        String said = message.formatted(plain(each.loadKilograms()), plain(capacity));
        issues.add(DataIssue.error(Code.OUT_OF_RANGE, each.file(), said));
      }
      if (!ReceivedFile.isHash(each.sha256())) {
        String message = "\"" + each.sha256() + "\" is no SHA-256 hash; " + RecordFile.ADVICE;
        issues.add(DataIssue.error(Code.RECORD_DAMAGED, each.file(), message));
      } else if (!hashes.add(each.sha256())) {
        String message = "the same bytes are kept as a series already";
        issues.add(DataIssue.error(Code.DUPLICATE_READING, each.file(), message));
      }
    }
    return issues;
  }

  private Map<Integer, Reading> stepsOf(Reading reading) {
    return runs.computeIfAbsent(reading.run(), run -> new LinkedHashMap<>());
  }

  private void add(Reading reading) {
    unknownSerial(reading, UnitKind.CELL, ReadingColumn.CELL);
    unknownSerial(reading, UnitKind.BOARD, ReadingColumn.BOARD);
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

  private void unknownSerial(Reading reading, UnitKind kind, ReadingColumn column) {
    String serial = reading.unit(kind);
    Optional<String> damage = serials.damage(serial);
    Code code = damage.isPresent() ? Code.SERIAL_DAMAGED : Code.UNKNOWN_SERIAL;
    String advice =
        damage.map(how -> "; " + how + ": format the column as text and type it again").orElse("");
    serials
        .whyNot(kind, serial)
        .map(why -> why + advice)
        .map(
            message ->
                DataIssue.error(
                    code, file(reading), line(reading), column.header(), serial, message))
        .ifPresent(issues::add);
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

  /**
   * The serials that a study knows, those of the check standard and of reference partners included.
   */
  static final class Serials {
    private static final Pattern POWER_OF_TEN =
        Pattern.compile("[0-9](?:[.,][0-9]+)?[eE]\\+?[0-9]+");
    private static final Pattern DATE =
        Pattern.compile(
            "[0-9]{1,2}[-. ](?:[A-Z][a-z]{2})(?:[-. ][0-9]{2,4})?|[A-Z][a-z]{2}[-. ][0-9]{2,4}"
                + "|[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[T ].*)?");

    private final Map<UnitKind, Set<String>> known = new EnumMap<>(UnitKind.class);

    Serials(Study study) {
      for (UnitKind kind : UnitKind.values()) {
        known.put(kind, new LinkedHashSet<>(study.serials(kind)));
      }
    }

    private Set<String> of(UnitKind kind) {
      return known.getOrDefault(kind, Set.of());
    }

    /** Why this is no such unit of the study; empty when it is one. */
    Optional<String> whyNot(UnitKind kind, String serial) {
      UnitKind other = kind == UnitKind.CELL ? UnitKind.BOARD : UnitKind.CELL;
      if (of(kind).contains(serial)) {
        return Optional.empty();
      } else if (of(other).contains(serial)) {
        return Optional.of(
            "\"%s\" is a %s of the study, not a %s".formatted(serial, other.key(), kind.key()));
      }
      List<String> inLots = UnitNames.candidates(serial, of(kind).stream());
      Optional<String> near =
          inLots.isEmpty()
              ? Nearest.to(serial, of(kind)).map(it -> "\"" + it + "\"")
              : Optional.of(String.join(" or ", inLots));
      String hint =
          near.map(it -> "did you mean " + it + "?")
              .orElse("study.yaml lists the " + kind.key() + "s of each lot");
      return Optional.of("\"" + serial + "\" is no " + kind.key() + " of the study; " + hint);
    }

    /** How a spreadsheet damaged this serial; empty when it does not look so. */
    Optional<String> damage(String serial) {
      return POWER_OF_TEN.matcher(serial).matches()
          ? Optional.of("a spreadsheet made a number of this serial, and its digits are lost")
          : DATE.matcher(serial).matches()
              ? Optional.of("a spreadsheet made a date of this serial")
              : Optional.empty();
    }
  }
}
