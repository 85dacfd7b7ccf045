package lotproof.report;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Random;
import lotproof.report.model.Block;
import lotproof.report.model.Block.Callout;
import lotproof.report.model.Block.CalloutKind;
import lotproof.report.model.Block.Paragraph;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.ExplanationTree.Node;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Identity;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;
import lotproof.report.model.Table.Row;

/** An invented report with everything that a report can hold. Its seed is fixed. */
final class SampleReport {
  static final long SEED = 20260711;
  static final int KITS = 50;
  static final double K_FACTOR = 2.3816;

  private static final List<String> LOTS = List.of("A24-07", "B24-19", "C25-02");

  private final Random random = new Random(SEED);
  private final List<String> cells = serials("LC");
  private final List<String> boards = serials("BR");
  private final List<Table.Row> units = new ArrayList<>();
  private double worstGrams;

  private SampleReport() {}

  static Report full() {
    return new SampleReport().build();
  }

  private Report build() {
    Table unitTable = unitTable();
    Table figures = figureTable(unitTable);
    return new Report(
        new Identity(
            "Hive scale, 100 kg",
            "Can we print ±50 g for any cell with any board?",
            "9f2c4e7a10b35d8869e0c1f2a4b6d8093e5f7182a4c6e8f00112233445566778",
            "0.1.0",
            OptionalLong.of(SEED),
            "4 200 readings from 12 files, 3 decisions",
            List.of("measured 2026-03-02 to 2026-03-14", "50 cells and 50 boards"),
            List.of("Temperature 15 to 30 °C", "Read 30 s after each change of load.")),
        SampleScreen.verdict(),
        List.of(SampleScreen.level()),
        List.of(
            new Section(
                "figures",
                "Which figure can be printed?",
                Prose.text("The smallest figure that the evidence supports at each level."),
                List.of(
                    levelFigures(),
                    figures,
                    new Callout(
                        CalloutKind.CAUTION,
                        Prose.text(
                            "All cells come from three lots. The figure covers later lots only as"
                                + " far as these three speak for them.")),
                    confidence(),
                    explanation())),
            new Section(
                "kits",
                "How far do kits differ?",
                Prose.of(
                    "{} kits were measured; the largest error was {}.",
                    Quantity.count(KITS),
                    Quantity.of(worstGrams, "g", 1)),
                List.of(errorCurves(), unitSpread(), shares(), components(), quantiles())),
            new Section(
                "bench",
                "Did the bench hold still?",
                Prose.none(),
                List.of(
                    runOrder(),
                    residuals(),
                    new Callout(
                        CalloutKind.FINDING,
                        Prose.of(
                            "The check standard drifted by {} over the study.",
                            Quantity.significant(0.00042, "mV/V", 2))))),
            new Section(
                "decisions",
                "What was left out, and why?",
                Prose.none(),
                List.of(decisions(), nothing())),
            new Section(
                "record",
                "What was measured?",
                Prose.text("Every unit with its place in the record."),
                List.of(
                    unitTable,
                    new Paragraph(Prose.text("Readings follow as evidence.")),
                    readings()))));
  }

  private Table unitTable() {
    for (int i = 0; i < KITS; i++) {
      double sensitivity = 2.0 + 0.004 * random.nextGaussian();
      double error = 22 * random.nextGaussian() + 4;
      worstGrams = Math.max(worstGrams, Math.abs(error));
      units.add(
          Row.of(
              Cell.text(cells.get(i)),
              Cell.text(LOTS.get(i % 3)),
              i == 7 ? Cell.missing("not measured: cable broken") : Cell.number(sensitivity),
              Cell.number(error),
              Cell.number(0.2 + 0.05 * random.nextDouble()),
              Cell.number(20 + i % 3),
              Cell.text("bench-" + (1 + i / 10) + ".csv, row " + (i + 2))));
    }
    return new Table(
        "units",
        "Units and their characteristics",
        Role.EVIDENCE,
        List.of(
            Column.of("cell", "Cell", SERIAL),
            Column.of("lot", "Lot", TEXT),
            Column.of("sensitivity", "Sensitivity [mV/V]", decimals(5)),
            Column.of("largest-error", "Error of largest size [g]", decimals(1)),
            Column.of("noise", "Noise [g]", significant(2)),
            Column.of("readings", "Readings", COUNT),
            Column.of("place", "Place", PLACE)),
        units,
        Prose.text("A missing value names its reason."));
  }

  private Table figureTable(Table unitTable) {
    Formula mean = Formula.of("AVERAGE({})", Range.column("units", "largest-error"));
    Formula deviation = Formula.of("STDEV({})", Range.column("units", "largest-error"));
    Formula limit = Formula.of("ABS({})+{}*{}", "mean", K_FACTOR, "deviation");
    double[] errors =
        unitTable.rows().stream()
            .mapToDouble(row -> row.cells().get(3).number().orElseThrow())
            .toArray();
    double meanGrams = Arrays.stream(errors).sum() / errors.length;
    double squares = Arrays.stream(errors).map(e -> (e - meanGrams) * (e - meanGrams)).sum();
    double deviationGrams = Math.sqrt(squares / (errors.length - 1));
    double limitGrams = Math.abs(meanGrams) + K_FACTOR * deviationGrams;
    return new Table(
        "figures",
        "Figures by calibration level",
        Role.READ,
        List.of(
            Column.of("level", "Calibration level", TEXT),
            Column.of("mean", "Mean error [g]", decimals(2)),
            Column.of("deviation", "Standard deviation [g]", decimals(2)),
            Column.of("limit", "Limit [g]", significant(4)),
            Column.of("printable-figure", "Printable figure [g]", decimals(0)),
            Column.of("content", "Content", percent(0)),
            Column.of("verdict", "Verdict", TEXT)),
        List.of(
            Row.of(
                Cell.text("two-point"),
                Cell.number(meanGrams).from(mean),
                Cell.number(deviationGrams).from(deviation),
                Cell.number(limitGrams).from(limit),
                Cell.number(10 * Math.ceil(limitGrams / 10))
                    .from(Formula.roundedOutward("limit", 10)),
                Cell.number(0.95),
                Cell.text("not supported")),
            Row.of(
                Cell.text("none"),
                Cell.number(-12.5),
                Cell.number(180.25),
                Cell.number(424.3),
                Cell.number(430),
                Cell.number(0.95),
                Cell.text("supported")),
            Row.of(
                Cell.text("multi-point"),
                Cell.missing("too few loads"),
                Cell.missing("too few loads"),
                Cell.missing("too few loads"),
                Cell.missing("too few loads"),
                Cell.number(0.95),
                Cell.text("not decided"))),
        Prose.of("Confidence {} for each level.", Quantity.percent(0.95, 0)));
  }

  private Table components() {
    return new Table(
        "components",
        "What the variation is made of",
        Role.READ,
        List.of(
            Column.of("component", "Component", TEXT),
            Column.of("deviation", "Standard deviation [g]", significant(3)),
            Column.of("lower", "Lower end [g]", significant(3)),
            Column.of("upper", "Upper end [g]", significant(3)),
            Column.of("share", "Share of variance", percent(1))),
        List.of(
            component("cells", 18.6, 14.2, 24.9, 0.71),
            component("boards", 10.8, 7.9, 15.2, 0.24),
            component("cells' lots", 0, 0, 9.3, 0),
            component("pairing and bench", 4.9, 3.8, 6.6, 0.05)),
        Prose.none());
  }

  private static Row component(String name, double value, double low, double high, double share) {
    return Row.of(
        Cell.text(name),
        Cell.number(value),
        Cell.number(low),
        Cell.number(high),
        Cell.number(share));
  }

  private Table decisions() {
    return new Table(
        "decisions-made",
        "Decisions",
        Role.READ,
        List.of(
            Column.of("id", "Decision", TEXT),
            Column.of("unit", "Unit", SERIAL),
            Column.of("action", "Action", TEXT),
            Column.of("cause", "Cause", TEXT),
            Column.of("evidence", "Evidence", TEXT)),
        List.of(
            Row.of(
                Cell.text("D1"),
                Cell.text("LC-0017"),
                Cell.text("excluded"),
                Cell.text("dropped"),
                Cell.text(
                    "zero moved by 0.4 mV/V between run 12 and run 13; dent at the cable end")),
            Row.of(
                Cell.text("D2"),
                Cell.text("LC-0031"),
                Cell.text("stays in"),
                Cell.text("none found"),
                Cell.text("farthest from its lot, yet read twice alike"))),
        Prose.none());
  }

  private Table nothing() {
    return new Table(
        "issues",
        "Trouble found in the files",
        Role.READ,
        List.of(Column.of("place", "Place", PLACE), Column.of("trouble", "Trouble", TEXT)),
        List.of(),
        Prose.none());
  }

  private Table readings() {
    List<Row> rows = new ArrayList<>();
    for (int kit = 0; kit < KITS; kit++) {
      for (int step = 0; step < 21; step++) {
        double load = step <= 10 ? step * 10 : (20 - step) * 10;
        rows.add(
            Row.of(
                Cell.text("R" + (kit + 1)),
                Cell.number(step + 1),
                Cell.text(cells.get(kit)),
                Cell.text(boards.get(kit)),
                Cell.number(load),
                Cell.number(8388.608 * load + 3 * random.nextGaussian()),
                Cell.text("bench-" + (1 + kit / 10) + ".csv, row " + (kit % 10 * 21 + step + 2))));
      }
    }
    return new Table(
        "readings",
        "Readings as they were accepted",
        Role.EVIDENCE,
        List.of(
            Column.of("run", "Run", TEXT),
            Column.of("step", "Step", COUNT),
            Column.of("cell", "Cell", SERIAL),
            Column.of("board", "Board", SERIAL),
            Column.of("load", "Load [kg]", decimals(1)),
            Column.of("output", "Output [counts]", decimals(1)),
            Column.of("place", "Place", PLACE)),
        rows,
        Prose.none());
  }

  private Chart levelFigures() {
    return new Chart(
        new Caption(
            "level-figures",
            "Which figure is safe at each calibration level?",
            "A two-point calibration brings the safest figure from 430 g down to 60 g; 50 g was"
                + " wanted."),
        new Axis("Figure", "g", Scale.FROM_ZERO),
        Axis.words("Level", List.of("none", "one-point", "two-point", "multi-point")),
        List.of(
            new Series(
                "printable figure",
                Look.BARS,
                List.of(
                    new Point(430, 0, "±430 g"),
                    new Point(110, 1, "±110 g"),
                    new Point(60, 2, "±60 g"))),
            new Series(
                "wanted",
                Look.DOTS,
                List.of(new Point(500, 0), new Point(50, 2), new Point(40, 3))),
            new Series(
                "excluded units included",
                Look.DOTS,
                List.of(new Point(460, 0), new Point(150, 1), new Point(90, 2)))),
        List.of());
  }

  private Chart confidence() {
    List<Series> curves = new ArrayList<>();
    double[] centres = {95, 45};
    String[] names = {"one-point", "two-point"};
    for (int c = 0; c < 2; c++) {
      List<Point> points = new ArrayList<>();
      for (int figure = 20; figure <= 160; figure += 2) {
        points.add(new Point(figure, 1 / (1 + Math.exp(-(figure - centres[c]) / 5))));
      }
      curves.add(new Series(names[c], Look.LINE, points));
    }
    return new Chart(
        new Caption(
            "confidence",
            "How sure can we be of each figure?",
            "At 50 g confidence is 73 % after a two-point calibration; 95 % is reached at 60 g."),
        new Axis("Figure", "g"),
        new Axis("Confidence", "", Scale.FRACTION),
        curves,
        List.of(new Mark("wanted 50 g", 50, true), new Mark("asked for 95 %", 0.95)));
  }

  private Chart errorCurves() {
    List<Series> curves = new ArrayList<>();
    for (int kit = 0; kit < KITS; kit++) {
      double bow = 14 * random.nextGaussian();
      double hysteresis = 6 + 2 * random.nextGaussian();
      List<Point> points = new ArrayList<>();
      for (int step = 0; step <= 20; step++) {
        double load = step <= 10 ? step * 10 : (20 - step) * 10;
        double share = load / 100;
        double error =
            4 * bow * share * (1 - share)
                + (step > 10 ? hysteresis * Math.sin(Math.PI * share) : 0)
                + 0.5 * random.nextGaussian();
        points.add(new Point(load, error));
      }
      Look look = kit == 30 ? Look.LINE : Look.RUN;
      curves.add(new Series(cells.get(kit) + " on " + boards.get(kit), look, points));
    }
    for (double edge : new double[] {-60, 60}) {
      curves.add(new Series("±60 g", Look.EDGE, List.of(new Point(0, edge), new Point(100, edge))));
    }
    return new Chart(
        new Caption(
            "error-curves",
            "How large is the error of each kit over the load?",
            "All kits stay within ±60 g; errors are largest in the middle of the range."),
        new Axis("Load", "kg", Scale.EXACT),
        new Axis("Error of reading", "g"),
        curves,
        List.of());
  }

  private Chart unitSpread() {
    List<Point> used = new ArrayList<>();
    List<Point> excluded = new ArrayList<>();
    for (int i = 0; i < KITS; i++) {
      double value = 2 + 0.004 * random.nextGaussian() + 0.002 * (i % 3);
      int place = i / 3;
      double x = i % 3 + 0.7 * ((place + 0.5) / 17 - 0.5);
      (i == 16 ? excluded : used).add(new Point(x, value, cells.get(i)));
    }
    return new Chart(
        new Caption(
            "unit-spread",
            "How far do cells of each lot differ in sensitivity?",
            "Lots overlap; one unit of lot B24-19 was excluded."),
        Axis.words("Lot", LOTS),
        new Axis("Sensitivity", "mV/V"),
        List.of(new Series("used", Look.DOTS, used), new Series("excluded", Look.DOTS, excluded)),
        List.of(new Mark("upper limit", 2.02), new Mark("lower limit", 1.98)));
  }

  private Chart shares() {
    return new Chart(
        new Caption(
            "shares",
            "What does the variation come from?",
            "Cells contribute most; their lots could not be told from nothing."),
        new Axis("Standard deviation", "g", Scale.FROM_ZERO),
        Axis.words("Source", List.of("cells", "boards", "cells' lots", "pairing and bench")),
        List.of(
            new Series(
                "estimate",
                Look.DOTS,
                List.of(new Point(18.6, 0), new Point(10.8, 1), new Point(4.9, 3))),
            new Series("zero: not detectable", Look.DOTS, List.of(new Point(0, 2)))),
        List.of());
  }

  private Chart quantiles() {
    List<Point> units = new ArrayList<>();
    double[] values =
        random.doubles(KITS).map(u -> 22 * Math.log(u / (1 - u)) / 1.7).sorted().toArray();
    for (int i = 0; i < KITS; i++) {
      double p = (i + 0.5) / KITS;
      units.add(new Point(Math.log(p / (1 - p)) / 1.7, values[i], cells.get(i)));
    }
    return new Chart(
        new Caption(
            "quantiles",
            "Do the errors follow a normal distribution?",
            "The points follow the line; the three farthest are named."),
        new Axis("Normal quantile", ""),
        new Axis("Error", "g"),
        List.of(
            new Series("kits", Look.DOTS, units),
            new Series("model", Look.MODEL, List.of(new Point(-2, -44), new Point(2, 44)))),
        List.of());
  }

  private Chart runOrder() {
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < 14; i++) {
      points.add(new Point(1 + 8 * i, 2.0004 + 0.00003 * i + 0.00008 * random.nextGaussian()));
    }
    return new Chart(
        new Caption(
            "run-order",
            "Did the check standard stay the same?",
            "The check standard rises slowly and stays within its limits."),
        new Axis("Run", ""),
        new Axis("Check standard", "mV/V"),
        List.of(new Series("check standard", Look.DOTTED_LINE, points)),
        List.of(new Mark("upper limit", 2.0012), new Mark("lower limit", 2.0000)));
  }

  private Chart residuals() {
    List<Point> pairs = new ArrayList<>();
    for (int i = 0; i < KITS; i++) {
      for (int board : new int[] {i, (i + 1) % KITS}) {
        pairs.add(
            new Point(i, 5 * random.nextGaussian(), cells.get(i) + " on " + boards.get(board)));
      }
    }
    return new Chart(
        new Caption(
            "residuals",
            "Does any pair stand out beyond its cell and board?",
            "No pair stands out."),
        Axis.words("Cell", cells),
        new Axis("Residual", "g"),
        List.of(new Series("pairs", Look.DOTS, pairs)),
        List.of());
  }

  private ExplanationTree explanation() {
    List<Node> kits = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      kits.add(
          computed(
              "largest error of " + cells.get(i),
              Quantity.of(20 + 3.25 * i, "g", 2),
              "largest absolute error over all loads",
              List.of(
                  new Node(
                      "output at 50 kg",
                      Optional.of(Quantity.of(419430.4 + i, "counts", 1)),
                      "",
                      "bench-1.csv, row " + (20 + i),
                      List.of()))));
    }
    return new ExplanationTree(
        "why-figure",
        "Where does ±60 g come from?",
        computed(
            "safest figure",
            Quantity.of(60, "g", 0),
            "limit, rounded outward to whole steps of 10 g",
            List.of(
                computed(
                    "limit",
                    Quantity.significant(57.38, "g", 4),
                    "the larger of the largest error observed and the limit from components",
                    List.of(
                        computed(
                            "largest error observed",
                            Quantity.of(worstGrams, "g", 1),
                            "over 50 kits",
                            kits),
                        new Node(
                            "method",
                            Optional.empty(),
                            "mean squares from the fitted model",
                            "",
                            List.of()))))));
  }

  private static List<String> serials(String prefix) {
    List<String> serials = new ArrayList<>();
    for (int i = 1; i <= KITS; i++) {
      serials.add(String.format(Locale.ROOT, "%s-%04d", prefix, i));
    }
    return serials;
  }

  /** All blocks of a report of one kind, for tests that look for one. */
  static <T extends Block> T first(Report report, Class<T> type) {
    return report.blocks().filter(type::isInstance).map(type::cast).findFirst().orElseThrow();
  }

  private static Node computed(String label, Quantity value, String how, List<Node> children) {
    return new Node(label, Optional.of(value), how, "", children);
  }
}
