package lotproof.report.workbook;

import java.util.List;
import java.util.Map;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Headline;
import lotproof.report.model.Identity;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.text.PlainText;
import lotproof.report.workbook.Cells.Role;
import org.apache.poi.common.usermodel.HyperlinkType;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Hyperlink;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;

/** A sheet of words: the figure with its conditions, the running text, or an explanation. */
final class WordSheet {
  /** Name by which the figure can be called in the workbook. */
  static final String FIGURE_NAME = "figure";

  private static final int TEXT_CHARACTERS = 98;
  private static final int HOW_CHARACTERS = 70;
  private static final int DEEPEST_OUTLINE = 7;
  private static final float FIGURE_POINTS = 48;

  private final Sheet sheet;
  private final Cells cells;
  private int next;

  WordSheet(Sheet sheet, Cells cells) {
    this.sheet = sheet;
    this.cells = cells;
  }

  /**
   * The first sheet: the figure, its conditions, and where the rest is.
   *
   * @param contents what each of the other sheets shows, by its name
   */
  void fillFigure(Report report, Layout layout, Map<String, String> contents) {
    Identity identity = report.identity();
    Headline headline = report.headline();
    setUp(identity.title());
    cells.title(row(), identity.title());
    if (!identity.question().isBlank()) {
      cells.words(row(), 0, identity.question(), Role.SUBTITLE);
    }
    next++;
    fillFigure(headline.figure(), layout);
    next += headline.verdicts().isEmpty() ? 0 : 1;
    for (Headline.Verdict verdict : headline.verdicts()) {
      text(verdict.answer().word(), verdict.question() + " " + PlainText.of(verdict.because()));
    }
    fillTexts("Claim", List.of(headline.claimSentence()));
    fillTexts("Main risks", headline.thingsToKnow().stream().map(PlainText::of).toList());
    fillTexts("Conditions", headline.conditions().stream().map(PlainText::of).toList());
    next++;
    cells.words(row(), 0, "Contents", Role.LABEL);
    contents.forEach(this::fillEntry);
    next++;
    text("Made from", identity.generatedFrom());
    text("Record's hash", identity.recordHash());
    text("Seed", identity.seedText());
    text("Program", "Lotproof " + identity.toolVersion());
  }

  private void fillFigure(Headline.KeyFigure figure, Layout layout) {
    Row row = row();
    row.setHeightInPoints(FIGURE_POINTS);
    if (figure instanceof Headline.Supported supported) {
      Quantity amount = supported.amount();
      Cell cell =
          cells.figure(row, amount.value(), amount.format(), supported.sign(), amount.unit());
      supported.from().ifPresent(formula -> cell.setCellFormula(layout.text(formula, "", 0)));
      Name name = sheet.getWorkbook().createName();
      name.setNameName(FIGURE_NAME);
      name.setRefersToFormula(Layout.inSheet(sheet.getSheetName()) + "$A$" + next);
      // the figure is wider than the column of labels
      sheet.addMergedRegion(new CellRangeAddress(next - 1, next - 1, 0, 1));
    } else {
      cells.words(row, 0, PlainText.of(figure), Role.FIGURE);
    }
    cells.words(row(), 0, figure.of(), Role.LABEL);
    if (figure instanceof Headline.NotSupported none) {
      text("Why", none.reason());
    }
  }

  private void fillTexts(String label, List<String> texts) {
    List<String> said = texts.stream().filter(text -> !text.isBlank()).toList();
    next += said.isEmpty() ? 0 : 1;
    for (int i = 0; i < said.size(); i++) {
      text(i == 0 ? label : "", said.get(i));
    }
  }

  private void fillEntry(String name, String title) {
    Row row = row();
    Hyperlink link =
        sheet.getWorkbook().getCreationHelper().createHyperlink(HyperlinkType.DOCUMENT);
    link.setAddress(Layout.inSheet(name) + "A1");
    cells.words(row, 0, name, Role.LINK).setHyperlink(link);
    cells.words(row, 1, title, Role.TEXT);
    Cells.fitHeight(row, title.length(), TEXT_CHARACTERS);
  }

  /** Everything that is said outside tables, section by section. */
  void fillText(Report report) {
    setUp(report.identity().title());
    for (Section section : report.sections()) {
      int title = next++;
      say("", section.intro());
      for (Block block : section.blocks()) {
        if (block instanceof Block.Paragraph paragraph) {
          say("", paragraph.text());
        } else if (block instanceof Block.Callout callout) {
          say(callout.kind().word(), callout.text());
        } else if (block instanceof Chart chart) {
          text("Chart", chart.caption().question() + " " + chart.caption().answer());
        }
      }
      // what has tables alone is found on its own sheets
      if (next > title + 1) {
        cells.title(sheet.createRow(title), section.title());
        next++;
      } else {
        next = title;
      }
    }
  }

  private void say(String label, Prose prose) {
    if (!prose.isEmpty()) {
      text(label, PlainText.of(prose));
    }
  }

  private void text(String label, String text) {
    Row row = row();
    if (!label.isEmpty()) {
      cells.words(row, 0, label, Role.LABEL);
    }
    cells.words(row, 1, text, Role.TEXT);
    Cells.fitHeight(row, text.length(), TEXT_CHARACTERS);
  }

  /** A column of labels and one of words. */
  private void setUp(String title) {
    Cells.width(sheet, 0, 22);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    sheet.setDisplayGridlines(false);
    Cells.setPrint(sheet, title, false);
  }

  private Row row() {
    return sheet.createRow(next++);
  }

  /** An explanation as an outline that can be folded. */
  void fillTree(ExplanationTree tree) {
    int[] widths = {50, 16, 9, HOW_CHARACTERS, 36};
    List<String> headings = List.of("What", "Value", "Unit", "How", "Read from");
    cells.title(row(), tree.title());
    cells.words(row(), 0, "Each number and what it was computed from", Role.SUBTITLE);
    next = SheetPlan.ROWS_ABOVE_HEAD;
    Row head = row();
    for (int c = 0; c < widths.length; c++) {
      Cells.width(sheet, c, widths[c]);
      cells.words(head, c, headings.get(c), c == 1 ? Role.NUMBER_HEAD : Role.HEAD);
    }
    sheet.setRowSumsBelow(false);
    fillNode(tree.root(), 0);
    sheet.createFreezePane(1, SheetPlan.ROWS_ABOVE_HEAD + 1);
    Cells.setPrint(sheet, tree.title(), true);
  }

  private void fillNode(ExplanationTree.Node node, int depth) {
    Row row = row();
    Cell label = cells.words(row, 0, node.label(), Role.TEXT);
    label.setCellStyle(cells.indented(Math.min(depth, 15)));
    if (node.value().isPresent()) {
      Quantity quantity = node.value().get();
      cells.number(row, 1, quantity.value(), quantity.format());
      cells.words(row, 2, quantity.unit(), Role.TEXT);
    }
    if (!node.how().isEmpty()) {
      cells.words(row, 3, node.how(), Role.TEXT);
      Cells.fitHeight(row, node.how().length(), HOW_CHARACTERS);
    }
    if (!node.place().isEmpty()) {
      cells.words(row, 4, node.place(), Role.TEXT);
    }
    int first = next;
    node.children().forEach(child -> fillNode(child, depth + 1));
    if (next > first && depth < DEEPEST_OUTLINE) {
      sheet.groupRow(first, next - 1);
    }
  }
}
