package lotproof.report.workbook;

import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.TEXT;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.workbook.Layout.Spot;

/**
 * Which sheet shows what: one for each section in its reading order, one for each table of
 * evidence, and one for all charts under one another, with their numbers to the right of them.
 */
final class SheetPlan {
  static final String SUMMARY = "Summary";

  /** Title and note come before the headings of a table. */
  static final int ROWS_ABOVE_HEAD = 2;

  /** Rows and columns that a chart covers; two charts fill a printed page. */
  static final int CHART_ROWS = 24;

  static final int CHART_COLUMNS = 10;

  private static final int GAP_ROWS = 2;
  private static final int LONGEST = 31;

  private final Set<String> taken = new HashSet<>(List.of(SUMMARY.toLowerCase(Locale.ROOT)));
  private final Layout layout = new Layout();
  private final List<Page> pages = new ArrayList<>();

  /**
   * One thing on a sheet.
   *
   * @param block as the report has it
   * @param top its first row
   * @param spot where its cells stand; none for words
   */
  record Item(Block block, int top, Optional<Spot> spot) {}

  /** One sheet: its name, what it shows in words, and its items in order. */
  record Page(String name, String title, List<Item> items) {
    List<Spot> spots() {
      return items.stream().flatMap(item -> item.spot().stream()).toList();
    }

    boolean ofCharts() {
      return items.get(0).block() instanceof Chart;
    }
  }

  private SheetPlan() {}

  static SheetPlan of(Report report) {
    SheetPlan plan = new SheetPlan();
    for (Level level : report.levels()) {
      List<Block> blocks =
          level.evidence().stream().flatMap(section -> section.blocks().stream()).toList();
      plan.add(new Section(level.id(), level.name(), Prose.text(level.buyer()), blocks));
    }
    report.sections().forEach(plan::add);
    if (!report.charts().isEmpty()) {
      plan.addCharts(report.charts());
    }
    return plan;
  }

  Layout layout() {
    return layout;
  }

  List<Page> pages() {
    return List.copyOf(pages);
  }

  private void add(Section section) {
    List<Block> blocks = new ArrayList<>();
    if (!section.intro().isEmpty()) {
      blocks.add(new Block.Paragraph(section.intro()));
    }
    section.blocks().stream()
        .filter(block -> !(block instanceof Chart) && !isEvidence(block))
        .forEach(blocks::add);
    if (blocks.size() == 1 && blocks.get(0) instanceof Table table) {
      add(table);
    } else if (!blocks.isEmpty()) {
      addPage(section.id(), section.title(), blocks, ROWS_ABOVE_HEAD);
    }
    section.blocks().stream().filter(SheetPlan::isEvidence).forEach(block -> add((Table) block));
  }

  private static boolean isEvidence(Block block) {
    return block instanceof Table table && table.role() == Table.Role.EVIDENCE;
  }

  /** A table on a sheet of its own. */
  void add(Table table) {
    addPage(table.id(), table.title(), List.of(table), 0);
  }

  private void addPage(String id, String title, List<Block> blocks, int firstRow) {
    String name = nameFrom(id);
    List<Item> items = new ArrayList<>();
    int top = firstRow;
    boolean words = false;
    for (Block block : blocks) {
      if (block instanceof Table || block instanceof ExplanationTree) {
        top += words ? 1 : 0;
        words = false;
        Table table = block instanceof ExplanationTree tree ? steps(tree) : (Table) block;
        Spot spot = placed(table, name, top + ROWS_ABOVE_HEAD, 0);
        items.add(new Item(block, top, Optional.of(spot)));
        top = spot.lastRow() + 1 + GAP_ROWS;
      } else {
        items.add(new Item(block, top++, Optional.empty()));
        words = true;
      }
    }
    pages.add(new Page(name, title, items));
  }

  /** The steps of an explanation as rows. */
  private static Table steps(ExplanationTree tree) {
    return new TableBuilder<ExplanationTree.Step>(tree.id(), tree.title())
        .note("Each number and what it was computed from")
        .missing(" ")
        .add("What", TEXT, step -> step.node().label())
        .add("Value", EXACT, step -> step.node().value().map(Quantity::value))
        .add("Unit", TEXT, step -> step.node().value().map(Quantity::unit).orElse(""))
        .add("How", TEXT, step -> step.node().how())
        .add("Read from", PLACE, step -> step.node().place())
        .of(tree.steps());
  }

  private void addCharts(List<Chart> charts) {
    String name = nameFrom("charts");
    List<Item> items = new ArrayList<>();
    int left = CHART_COLUMNS + 1;
    for (Chart chart : charts) {
      Table table = ChartTable.of(chart);
      Spot spot = placed(table, name, ROWS_ABOVE_HEAD, left);
      items.add(new Item(chart, chartTop(items.size()), Optional.of(spot)));
      left += table.columns().size() + 1;
    }
    pages.add(new Page(name, "Charts", items));
  }

  /** First row of a chart, below the headings of the numbers. */
  static int chartTop(int chart) {
    return ROWS_ABOVE_HEAD + 1 + chart * (CHART_ROWS + 2);
  }

  private Spot placed(Table table, String sheet, int headRow, int firstColumn) {
    Spot spot = new Spot(table, sheet, headRow, firstColumn);
    layout.place(spot);
    return spot;
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
