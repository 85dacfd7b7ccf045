package lotproof.report;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.stream.IntStream;
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
import lotproof.report.model.Identity;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;
import lotproof.report.model.Table.Row;
import lotproof.report.model.Verdict;

/** Reports whose words want to be something else, whose numbers are extreme, or that are empty. */
final class HostileReport {
  static final String SERIAL_OF_40 = "X123456789.12345679-123456789-123456789";

  /** Words that some format might obey. */
  static final List<String> WORDS =
      List.of(
          "=1+1",
          "+1+1",
          "-1+1",
          "@SUM(A1:A9)",
          " =HYPERLINK(\"http://example.invalid\")",
          "|calc",
          "<script>alert('x')</script>",
          "<img src=x onerror=alert(1)>",
          "javascript:alert(1)",
          "http://example.invalid/a?b=c&d=e",
          "\" onmouseover=\"alert(1)",
          "' or '1'='1",
          "]]> --> */ </style></svg></table>",
          "&lt;b&gt; &amp; &nbsp;",
          "${7*7} {} %s %n {{x}} @if(true)",
          "nul\u0000 bell\u0007 escape\u001b[31m red",
          "turned \u202Egnp.exe\u202C",
          "half \uD83D of a pair",
          "no character \uFFFE\uFFFF",
          "line\nbreak\r\nand\ttab",
          "comma, \"quote\"; semicolon",
          "серийный 序列号 \uD83D\uDC1D é e\u0301",
          SERIAL_OF_40,
          "-",
          " ");

  static final List<Double> NUMBERS =
      List.of(
          0.0,
          -0.0,
          Double.MIN_VALUE,
          -1e-300,
          1e-12,
          0.1,
          123456789.12345679,
          1e15,
          -1e22,
          1e300,
          -Double.MAX_VALUE);

  private HostileReport() {}

  static Report full() {
    List<Section> sections = new ArrayList<>();
    sections.add(words());
    sections.add(numbers());
    sections.add(charts("charts", "few", ordinary()));
    sections.add(charts("extreme", "extreme", extreme()));
    return new Report(
        new Identity(
            WORDS.get(6),
            WORDS.get(7),
            WORDS.get(15),
            WORDS.get(4),
            OptionalLong.of(-1),
            WORDS.get(12),
            List.of(WORDS.get(6)),
            WORDS),
        new Verdict(WORDS.get(6), Verdict.Answer.NO, WORDS.get(7), WORDS.get(12)),
        List.of(level()),
        sections);
  }

  private static Level level() {
    return new Level(
        "level",
        WORDS.get(6),
        WORDS.get(12),
        true,
        new Level.Row(
            WORDS.get(0), Optional.empty(), WORDS.get(7), OptionalDouble.empty(), "", true),
        Optional.empty(),
        List.of(),
        List.of(new Level.Risk(WORDS.get(0), Prose.text(WORDS.get(6)))),
        WORDS.get(0) + WORDS.get(6),
        List.of(WORDS.get(6), WORDS.get(12)),
        List.of());
  }

  /** A report that has everything but content. */
  static Report empty() {
    return new Report(
        new Identity("Empty", "", "", "0.1.0", OptionalLong.empty(), "", List.of(), List.of()),
        new Verdict("Which figure?", Verdict.Answer.NO, "None.", ""),
        List.of(),
        List.of(charts("empty", "none", noData())));
  }

  private static Section words() {
    List<Row> rows = new ArrayList<>();
    for (String word : WORDS) {
      rows.add(Row.of(Cell.text(word), Cell.text(word), Cell.text(word), Cell.missing(word)));
    }
    Node leaf =
        new Node(
            WORDS.get(6),
            Optional.of(Quantity.of(1, WORDS.get(6), 0)),
            "",
            WORDS.get(0),
            List.of());
    Node deep = leaf;
    for (int depth = 0; depth < 30; depth++) {
      deep =
          computed(WORDS.get(depth % 20), Quantity.of(depth, "g", 0), WORDS.get(0), List.of(deep));
    }
    return new Section(
        "words",
        WORDS.get(6),
        Prose.of("{} and {}", WORDS.get(6), Quantity.of(1, "<g>", 0)),
        List.of(
            new Table(
                "words",
                WORDS.get(6),
                Role.READ,
                List.of(
                    Column.of("serial", WORDS.get(0), SERIAL),
                    Column.of("remark", WORDS.get(6), TEXT),
                    Column.of("place", "Place", PLACE),
                    new Column("value", "Value", "</th>", decimals(2))),
                rows,
                Prose.text(WORDS.get(12))),
            new Paragraph(Prose.text(WORDS.get(7))),
            new Callout(CalloutKind.CAUTION, Prose.text(WORDS.get(12))),
            new ExplanationTree("tree", WORDS.get(6), deep)));
  }

  private static Section numbers() {
    List<Row> rows = new ArrayList<>();
    for (double number : NUMBERS) {
      Cell cell = Cell.number(number);
      rows.add(Row.of(cell, cell, cell, cell));
    }
    rows.add(
        Row.of(
            Cell.missing("not estimable"),
            Cell.missing("not estimable"),
            Cell.missing(""),
            Cell.missing(WORDS.get(0))));
    return new Section(
        "numbers",
        "Numbers",
        Prose.none(),
        List.of(
            new Table(
                "numbers",
                "Numbers",
                Role.EVIDENCE,
                List.of(
                    Column.of("decimal", "Decimal [g]", decimals(3)),
                    Column.of("significant", "Significant [g]", significant(4)),
                    Column.of("fraction", "Fraction", percent(1)),
                    Column.of("count", "Count", COUNT)),
                rows,
                Prose.none()),
            new Table(
                "long",
                "Long",
                Role.EVIDENCE,
                List.of(Column.of("n", "N", COUNT), Column.of("s", "Serial", SERIAL)),
                IntStream.range(0, 3500)
                    .mapToObj(i -> Row.of(Cell.number(i), Cell.text(WORDS.get(i % 25))))
                    .toList(),
                Prose.none())));
  }

  private static Section charts(String id, String prefix, List<Chart> charts) {
    List<Block> blocks = new ArrayList<>();
    charts.forEach(chart -> blocks.add(chart));
    blocks.add(
        new Table(
            prefix + "-empty",
            "Nothing",
            Role.READ,
            List.of(Column.of("a", "A", TEXT), Column.of("b", "B [g]", decimals(1))),
            List.of(),
            Prose.none()));
    return new Section(id, "Charts: " + prefix, Prose.none(), blocks);
  }

  private static Caption caption(String id) {
    return new Caption(id, "Is " + WORDS.get(6) + " drawn?", WORDS.get(12));
  }

  private static final Axis X = new Axis("<x>", "</g>");
  private static final Axis LOG = new Axis("<log>", "g", Scale.LOGARITHMIC);
  private static final Axis FRACTION = new Axis("Confidence", "", Scale.FRACTION);
  private static final Axis Y = new Axis("=y", "g");

  private static final Axis NAMES = Axis.words("<names>", List.of());

  private static List<Chart> noData() {
    return List.of(
        new Chart(caption("none-curves"), X, Y, List.of(), List.of()),
        new Chart(caption("none-units"), NAMES, Y, List.of(), List.of()),
        new Chart(caption("none-rows"), X, NAMES, List.of(), List.of()),
        new Chart(caption("none-marks"), X, Y, List.of(), List.of(new Mark("a line", 1))),
        new Chart(caption("none-confidence"), X, FRACTION, List.of(), List.of()),
        new Chart(caption("none-stability"), LOG, LOG, List.of(), List.of()));
  }

  private static List<Chart> ordinary() {
    return charts("few", 1, 2);
  }

  private static List<Chart> extreme() {
    List<Chart> charts = new ArrayList<>(charts("large", 1e250, 3e250));
    charts.addAll(charts("small", 1e-250, 3e-250));
    charts.addAll(charts("equal", 5, 5));
    return charts;
  }

  private static List<Chart> charts(String prefix, double a, double b) {
    List<Series> curves =
        List.of(
            new Series(WORDS.get(0), Look.RUN, List.of(new Point(a, a))),
            new Series("nothing", Look.RUN, List.of()),
            new Series(WORDS.get(6), Look.LINE, List.of(new Point(a, a), new Point(b, b))),
            new Series(WORDS.get(8), Look.EDGE, List.of(new Point(a, -b))),
            new Series(WORDS.get(8), Look.EDGE, List.of(new Point(a, b))));
    List<Mark> marks = List.of(new Mark(WORDS.get(0), a), new Mark(WORDS.get(6), b, true));
    List<String> serials = WORDS.subList(0, 20);
    List<Point> units = new ArrayList<>();
    for (int i = 0; i < serials.size(); i++) {
      units.add(new Point(i % 3, i < 7 ? -a : b, serials.get(i)));
    }
    return List.of(
        new Chart(caption(prefix + "-curves"), X, Y, curves, marks),
        new Chart(
            caption(prefix + "-stability"),
            LOG,
            LOG,
            List.of(
                new Series(
                    WORDS.get(6), Look.DOTTED_LINE, List.of(new Point(a, a), new Point(b, b)))),
            List.of(new Mark(WORDS.get(0), a, true))),
        new Chart(
            caption(prefix + "-units"),
            Axis.words("<lot>", List.of(WORDS.get(6), SERIAL_OF_40, " ")),
            Y,
            List.of(new Series("used", Look.DOTS, units), new Series("none", Look.DOTS, List.of())),
            List.of(new Mark(WORDS.get(6), b))),
        new Chart(
            caption(prefix + "-rows"),
            new Axis("<x>", "</g>", Scale.FROM_ZERO),
            Axis.words("<rows>", List.of(WORDS.get(6), WORDS.get(6), "none")),
            List.of(
                new Series(WORDS.get(6), Look.BARS, List.of(new Point(a, 0, WORDS.get(6)))),
                new Series(WORDS.get(6), Look.DOTS, List.of(new Point(b, 1)))),
            List.of()),
        new Chart(
            caption(prefix + "-quantiles"),
            X,
            Y,
            List.of(
                new Series(
                    WORDS.get(6),
                    Look.DOTS,
                    List.of(new Point(a, b, SERIAL_OF_40), new Point(b, a, WORDS.get(6)))),
                new Series("", Look.MODEL, List.of(new Point(a, a), new Point(b, b)))),
            List.of()),
        new Chart(
            caption(prefix + "-confidence"),
            X,
            FRACTION,
            List.of(
                new Series(WORDS.get(6), Look.LINE, List.of(new Point(a, 0.2), new Point(b, 1)))),
            List.of(new Mark(WORDS.get(6), a, true), new Mark("asked for", 0.95))));
  }

  private static Node computed(String label, Quantity value, String how, List<Node> children) {
    return new Node(label, Optional.of(value), how, "", children);
  }
}
