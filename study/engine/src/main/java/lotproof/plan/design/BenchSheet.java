package lotproof.plan.design;

import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.joining;
import static java.util.stream.Collectors.toList;
import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import lotproof.folder.text.CsvText;
import lotproof.study.BenchPlan;
import lotproof.study.PlannedRun;
import lotproof.study.Study;

/**
 * A sheet of the bench, one row a run, as the bench fills it in and import reads it back: of one
 * session, or of a side test.
 *
 * @param fileName name of its files, without their ending
 * @param caption what it is, for its head
 * @param headers column names with units
 * @param rows one list of cells for each run; what the bench is to fill in is empty
 * @param preparation check-lists beside it
 */
public record BenchSheet(
    String fileName,
    String caption,
    List<String> headers,
    List<List<String>> rows,
    List<Preparation.Part> preparation) {
  /** Remark beside runs of the check standard. */
  public static final String CHECK_REMARK = "check standard";

  /** Columns before the readings: names, pair, date, time. */
  private static final List<String> FIRST_HEADERS =
      List.of("session", "run", "cell", "board", "date (yyyy-mm-dd)", "time (hh:mm)");

  /** Columns after the readings: two temperatures and the remark. */
  private static final List<String> LAST_HEADERS =
      List.of("cell temperature (°C)", "board temperature (°C)", "remark");

  public BenchSheet {
    headers = List.copyOf(headers);
    rows = rows.stream().map(List::copyOf).toList();
  }

  /** The sheets of all sessions in order. */
  public static List<BenchSheet> of(Study study, BenchPlan plan) {
    List<String> headers = headers(study.design().loadsKilograms());
    List<Preparation.Part> preparation = Preparation.ofSession(study, plan);
    Map<String, List<PlannedRun>> sessions =
        plan.runs().stream().collect(groupingBy(PlannedRun::session, LinkedHashMap::new, toList()));
    List<BenchSheet> sheets = new ArrayList<>();
    sessions.forEach(
        (session, runs) -> {
          String name = session.toLowerCase(Locale.ROOT);
          String caption = "session " + session + ", day " + runs.get(0).day();
          sheets.add(of(name, caption, headers, runs, preparation));
        });
    return sheets;
  }

  static BenchSheet of(
      String fileName,
      String caption,
      List<String> headers,
      List<PlannedRun> runs,
      List<Preparation.Part> preparation) {
    List<List<String>> rows = runs.stream().map(run -> row(run, headers.size())).toList();
    return new BenchSheet(fileName, caption, headers, rows, preparation);
  }

  private static List<String> row(PlannedRun run, int columns) {
    List<String> row = new ArrayList<>(List.of(run.session(), run.run(), run.cell(), run.board()));
    row.addAll(Collections.nCopies(columns - 1 - row.size(), ""));
    row.add(run.isCheck() ? CHECK_REMARK : "");
    return row;
  }

  /** Column names for a run over these loads. */
  static List<String> headers(List<Double> loadsKilograms) {
    List<String> readings = new ArrayList<>();
    double largest = loadsKilograms.stream().mapToDouble(load -> load).max().orElse(0);
    boolean falling = false;
    for (double load : loadsKilograms) {
      readings.add("reading at " + plain(load) + " kg (counts) " + (falling ? "down" : "up"));
      falling |= load == largest;
    }
    return withOthers(readings);
  }

  /** Columns of readings between those that every sheet has. */
  static List<String> withOthers(List<String> readings) {
    return Stream.of(FIRST_HEADERS, readings, LAST_HEADERS).flatMap(List::stream).toList();
  }

  /** Index of the first column of readings. */
  public int firstReading() {
    return FIRST_HEADERS.size();
  }

  /** Index behind the last column of readings. */
  public int readingsEnd() {
    return headers.size() - LAST_HEADERS.size();
  }

  /** The sheet as CSV. */
  public String csv() {
    return CsvText.line(headers) + rows.stream().map(CsvText::line).collect(joining());
  }
}
