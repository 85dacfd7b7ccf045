package lotproof.report.workbook;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.workbook.Layout.Spot;

/**
 * Which sheet shows what. Short tables of a section stand under one another on one sheet, its
 * charts under one another on another with their numbers to the right of them; long tables and
 * explanations have sheets of their own.
 */
final class SheetPlan {
  static final String FIGURE = "figure";

  static final String TEXT = "text";

  /** Title, note and a blank row come before the headings of a table. */
  static final int ROWS_ABOVE_HEAD = 3;

  /** Rows and columns that a chart covers; two charts fill a printed page. */
  static final int CHART_ROWS = 24;

  static final int CHART_COLUMNS = 10;

  /** Rows from one chart to the next. */
  static final int CHART_PITCH = CHART_ROWS + 2;

  private static final int LONG_TABLE_ROWS = 60;
  private static final int GAP_ROWS = 2;
  private static final int LONGEST = 31;

  private final Set<String> taken = new HashSet<>();

  private final Layout layout = new Layout();
  private final List<Page> pages = new ArrayList<>();
  private final String figure = nameFrom(FIGURE);
  private final String text = nameFrom(TEXT);

  enum Kind {
    TABLES,
    CHARTS,
    EXPLANATION
  }

  /**
   * One thing on a sheet.
   *
   * @param block as the report has it
   * @param spot where its numbers stand; none for an explanation
   */
  record Item(Block block, Optional<Spot> spot) {
    Table table() {
      return spot.orElseThrow().table();
    }
  }

  /**
   * One sheet.
   *
   * @param name its name
   * @param kind what it holds
   * @param title what it shows, in words
   * @param items in order
   */
  record Page(String name, Kind kind, String title, List<Item> items) {
    List<Spot> spots() {
      return items.stream().flatMap(item -> item.spot().stream()).toList();
    }
  }

  private SheetPlan() {}

  static SheetPlan of(Report report) {
    SheetPlan plan = new SheetPlan();
    report.sections().forEach(plan::add);
    return plan;
  }

  String figure() {
    return figure;
  }

  String text() {
    return text;
  }

  Layout layout() {
    return layout;
  }

  List<Page> pages() {
    return List.copyOf(pages);
  }

  private void add(Section section) {
    List<Table> tables = only(section, Table.class).toList();
    List<Table> small = tables.stream().filter(table -> !isLong(table)).toList();
    if (small.size() == 1) {
      add(small.get(0));
    } else if (!small.isEmpty()) {
      addStack(section, small);
    }
    tables.stream().filter(SheetPlan::isLong).forEach(this::add);
    List<Chart> charts = only(section, Chart.class).toList();
    if (!charts.isEmpty()) {
      addCharts(section, charts);
    }
    only(section, ExplanationTree.class)
        .forEach(
            tree ->
                pages.add(
                    new Page(
                        nameFrom(tree.id()),
                        Kind.EXPLANATION,
                        tree.title(),
                        List.of(new Item(tree, Optional.empty())))));
  }

  private static <B extends Block> Stream<B> only(Section section, Class<B> kind) {
    return section.blocks().stream().filter(kind::isInstance).map(kind::cast);
  }

  /** First row of a chart, below the headings of the numbers. */
  static int chartTop(int chart) {
    return ROWS_ABOVE_HEAD + 1 + chart * CHART_PITCH;
  }

  static boolean isLong(Table table) {
    return table.rows().size() > LONG_TABLE_ROWS;
  }

  /** A table on a sheet of its own. */
  void add(Table table) {
    String name = nameFrom(table.id());
    Item item = placed(table, table, name, ROWS_ABOVE_HEAD, 0);
    pages.add(new Page(name, Kind.TABLES, table.title(), List.of(item)));
  }

  private void addStack(Section section, List<Table> tables) {
    String name = nameFrom(taken.contains(section.id()) ? section.id() + "-tables" : section.id());
    List<Item> items = new ArrayList<>();
    int top = 0;
    for (Table table : tables) {
      Item item = placed(table, table, name, top + ROWS_ABOVE_HEAD, 0);
      items.add(item);
      top = item.spot().orElseThrow().lastRow() + 1 + GAP_ROWS;
    }
    pages.add(new Page(name, Kind.TABLES, section.title(), items));
  }

  private void addCharts(Section section, List<Chart> charts) {
    String name = nameFrom(section.id() + "-charts");
    List<Item> items = new ArrayList<>();
    int left = CHART_COLUMNS + 1;
    for (Chart chart : charts) {
      Table table = ChartTable.of(chart);
      items.add(placed(chart, table, name, ROWS_ABOVE_HEAD, left));
      left += table.columns().size() + 1;
    }
    pages.add(new Page(name, Kind.CHARTS, section.title(), items));
  }

  private Item placed(Block block, Table table, String sheet, int headRow, int firstColumn) {
    Spot spot = new Spot(table, sheet, headRow, firstColumn);
    layout.place(spot);
    return new Item(block, Optional.of(spot));
  }

  /** A sheet's name that is free, made from an id. */
  private String nameFrom(String id) {
    String words = id.replace('-', ' ');
    String name = cut(words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1), LONGEST);
    String free = name;
    for (int n = 2; !taken.add(free.toLowerCase(Locale.ROOT)); n++) {
      free = cut(name, LONGEST - 1 - Integer.toString(n).length()) + " " + n;
    }
    return free;
  }

  private static String cut(String name, int length) {
    return name.substring(0, Math.min(length, name.length())).strip();
  }
}
