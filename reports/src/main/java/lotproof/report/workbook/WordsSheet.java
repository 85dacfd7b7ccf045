package lotproof.report.workbook;

import lotproof.report.model.Block;
import lotproof.report.model.Block.Callout;
import lotproof.report.model.Block.CalloutKind;
import lotproof.report.model.Block.Paragraph;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.text.PlainText;
import lotproof.report.workbook.Styles.Role;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;

/** Sheets of words: the running text of the report, and explanations as an outline. */
final class WordsSheet {
  private static final int LABEL_CHARACTERS = 16;
  private static final int TEXT_CHARACTERS = 100;
  private static final int HOW_CHARACTERS = 70;
  private static final int DEEPEST_OUTLINE = 7;

  private final Styles styles;
  private final Cells cells;

  WordsSheet(Styles styles) {
    this.styles = styles;
    this.cells = new Cells(styles);
  }

  /** Everything that is said outside tables, section by section. */
  void fillText(Sheet sheet, Report report) {
    Cells.width(sheet, 0, LABEL_CHARACTERS);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    sheet.setDisplayGridlines(false);
    int next = 0;
    for (Section section : report.sections()) {
      int title = next;
      next = say(sheet, title + 1, "", section.intro());
      for (Block block : section.blocks()) {
        if (block instanceof Paragraph paragraph) {
          next = say(sheet, next, "", paragraph.text());
        } else if (block instanceof Callout callout) {
          String label = callout.kind() == CalloutKind.CAUTION ? "Caution" : "Found";
          next = say(sheet, next, label, callout.text());
        } else if (block instanceof Chart chart) {
          next =
              say(
                  sheet,
                  next,
                  "Chart",
                  Prose.text(chart.caption().question() + " " + chart.caption().answer()));
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
    TableSheet.setPrint(sheet, report.identity().title(), false);
  }

  /** An explanation as an outline that can be folded. */
  void fillTree(Sheet sheet, ExplanationTree tree) {
    Cells.width(sheet, 0, 50);
    Cells.width(sheet, 1, 16);
    Cells.width(sheet, 2, 9);
    Cells.width(sheet, 3, HOW_CHARACTERS);
    Cells.width(sheet, 4, 36);
    cells.title(sheet.createRow(0), tree.title());
    cells.words(sheet.createRow(1), 0, "Each number and what it was computed from", Role.SUBTITLE);
    Row head = sheet.createRow(SheetPlan.ROWS_ABOVE_HEAD);
    cells.words(head, 0, "What", Role.HEAD);
    cells.words(head, 1, "Value", Role.NUMBER_HEAD);
    cells.words(head, 2, "Unit", Role.HEAD);
    cells.words(head, 3, "How", Role.HEAD);
    cells.words(head, 4, "Read from", Role.HEAD);
    sheet.setRowSumsBelow(false);
    fillNode(sheet, tree.root(), 0);
    sheet.createFreezePane(1, SheetPlan.ROWS_ABOVE_HEAD + 1);
    TableSheet.setPrint(sheet, tree.title(), true);
  }

  private void fillNode(Sheet sheet, ExplanationTree.Node node, int depth) {
    Row row = sheet.createRow(sheet.getLastRowNum() + 1);
    cells.words(row, 0, node.label(), Role.TEXT).setCellStyle(styles.indented(Math.min(depth, 15)));
    node.value()
        .ifPresent(
            quantity -> {
              var cell = row.createCell(1);
              cell.setCellValue(quantity.value());
              cell.setCellStyle(styles.number(quantity.value(), quantity.format()));
              cells.words(row, 2, quantity.unit(), Role.TEXT);
            });
    if (!node.how().isEmpty()) {
      cells.words(row, 3, node.how(), Role.TEXT);
      Cells.fitHeight(row, node.how().length(), HOW_CHARACTERS);
    }
    if (!node.place().isEmpty()) {
      cells.words(row, 4, node.place(), Role.TEXT);
    }
    int first = row.getRowNum() + 1;
    node.children().forEach(child -> fillNode(sheet, child, depth + 1));
    if (sheet.getLastRowNum() >= first && depth < DEEPEST_OUTLINE) {
      sheet.groupRow(first, sheet.getLastRowNum());
    }
  }

  private int say(Sheet sheet, int at, String label, Prose prose) {
    if (prose.isEmpty()) {
      return at;
    }
    Row row = sheet.createRow(at);
    String text = PlainText.of(prose);
    if (!label.isEmpty()) {
      cells.words(row, 0, label, Role.LABEL);
    }
    cells.words(row, 1, text, Role.TEXT);
    Cells.fitHeight(row, text.length(), TEXT_CHARACTERS);
    return at + 1;
  }
}
