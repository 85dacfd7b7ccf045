package lotproof.gather.plausibility;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.folder.StudyContents;
import lotproof.folder.text.ReadingColumn;
import lotproof.statistics.summary.Summary;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Kit;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * What looks wrong about readings before they enter the record. Every door asks the same: import of
 * tables and captures, typing, and the check of a later lot.
 *
 * <p>Readings are held against the kit of study.yaml and against their own run, so that a wrong
 * unit never becomes what is expected. What no kit can show is a question, an issue of severity
 * error that a person accepts by its code; a defective unit passes, at most with a warning, because
 * the study has to see it. Thresholds: docs/method.md, "What is asked at the door".
 */
public final class PlausibilityChecks {
  private final Study study;
  private final List<DataIssue> issues = new ArrayList<>();

  private PlausibilityChecks(Study study) {
    this.study = study;
  }

  /** Issues of readings that are to come into a study: what they are, and how they fit the plan. */
  public static List<DataIssue> check(StudyContents contents, List<Reading> readings) {
    PlausibilityChecks checks = new PlausibilityChecks(contents.study());
    List<Run> known = others(contents.readings(), readings);
    List<Run> fresh = Run.of(readings, contents.readings());
    checks.runs(known, fresh);
    new PlanChecks(checks).check(fresh);
    return checks.issues;
  }

  /**
   * Issues of readings as such, without the plan, which knows nothing of a later lot.
   *
   * @param known readings of the record
   */
  public static List<DataIssue> ofReadings(
      Study study, List<Reading> known, List<Reading> readings) {
    PlausibilityChecks checks = new PlausibilityChecks(study);
    checks.runs(others(known, readings), Run.of(readings, known));
    return checks.issues;
  }

  private void runs(List<Run> known, List<Run> fresh) {
    RunChecks runs = new RunChecks(this, known, fresh);
    CodeChecks codes = new CodeChecks(this);
    TemperatureChecks temperatures = new TemperatureChecks(this);
    for (Run run : fresh) {
      runs.check(run);
      codes.check(run);
      temperatures.check(run);
    }
    new CopiedRuns(this, known, fresh).check();
  }

  private static List<Run> others(List<Reading> known, List<Reading> readings) {
    Set<String> names = readings.stream().map(Reading::run).collect(Collectors.toSet());
    return Run.of(known.stream().filter(r -> !names.contains(r.run())).toList(), List.of());
  }

  Study study() {
    return study;
  }

  Kit kit() {
    return study.kit();
  }

  /** A question: nothing is kept until a person accepts it by its code. */
  void ask(Code code, Reading at, ReadingColumn column, String message, Object... values) {
    add(Severity.ERROR, code, at, column, say(message, values));
  }

  /** Something that is kept, and shown. */
  void warn(Code code, Reading at, ReadingColumn column, String message) {
    add(Severity.WARNING, code, at, column, message);
  }

  private void add(Severity severity, Code code, Reading at, ReadingColumn column, String message) {
    String unit =
        switch (code) {
          case TEMPERATURE_DOUBTFUL, TIME_GAP, RUN_ORDER -> "";
          case CODES_SATURATED, CODES_STUCK -> at.board();
          default -> column == ReadingColumn.NOISE ? at.board() : at.cell();
        };
    Provenance place = at.source();
    issues.add(
        new DataIssue(severity, code, place.file(), place.row(), column.header(), unit, message));
  }

  /** A message with its numbers: six digits, no exponent where it can be helped. */
  static String say(String message, Object... values) {
    return values.length == 0
        ? message
        : message.formatted(
            Arrays.stream(values).map(v -> v instanceof Double d ? number(d) : v).toArray());
  }

  private static String number(double value) {
    double size = Math.abs(value);
    if (size >= 1e6 && size < 1e12) {
      return String.format(Locale.ROOT, "%.0f", value);
    }
    if (size != 0 && (size < 1e-3 || size >= 1e12)) {
      return String.format(Locale.ROOT, "%.3g", value);
    }
    String text = String.format(Locale.ROOT, "%.6g", value);
    return text.indexOf('.') < 0 ? text : text.replaceAll("0+$", "").replaceAll("\\.$", "");
  }

  /** The median of at least so many values. */
  static Optional<Double> median(List<Double> values, int atLeast) {
    return values.size() >= atLeast ? Optional.of(median(values)) : Optional.empty();
  }

  static double median(List<Double> values) {
    return Summary.median(values.stream().mapToDouble(v -> v).toArray());
  }
}
