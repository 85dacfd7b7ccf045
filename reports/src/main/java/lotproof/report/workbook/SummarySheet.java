package lotproof.report.workbook;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.report.model.Format;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Identity;
import lotproof.report.model.Level;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.text.PlainText;
import lotproof.report.workbook.Cells.Role;
import org.apache.poi.common.usermodel.HyperlinkType;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Hyperlink;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;

/** The first sheet: the figure with its conditions, and where the rest is. */
final class SummarySheet {
  /** Name by which the figure can be called in the workbook. */
  static final String FIGURE_NAME = "figure";

  private static final int TEXT_CHARACTERS = 98;
  private static final float FIGURE_POINTS = 48;

  private final Sheet sheet;
  private final Cells cells;
  private int next;

  SummarySheet(Sheet sheet, Cells cells) {
    this.sheet = sheet;
    this.cells = cells;
  }

  /**
   * Fills the empty sheet.
   *
   * @param contents what each of the other sheets shows, by its name
   */
  void fill(Report report, Layout layout, Map<String, String> contents) {
    Identity identity = report.identity();
    Cells.width(sheet, 0, 22);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    sheet.setDisplayGridlines(false);
    Cells.setPrint(sheet, identity.title(), false);
    cells.title(row(), identity.title());
    if (!identity.question().isBlank()) {
      cells.words(row(), 0, identity.question(), Role.SUBTITLE);
    }
    next++;
    text(report.verdict().answer().word(), report.verdict().text());
    report.table("figures").ifPresent(figures -> fillFigure(report.levels(), figures, layout));
    for (Level level : report.levels()) {
      if (level.leading()) {
        fillTexts("Claim", List.of(level.sentence()));
        fillTexts(
            "Main risks", level.risks().stream().map(risk -> PlainText.of(risk.prose())).toList());
      }
    }
    fillTexts("Conditions", identity.conditions());
    next++;
    cells.words(row(), 0, "Contents", Role.LABEL);
    contents.forEach(this::fillEntry);
    next++;
    text("Made from", identity.generatedFrom());
    text("Record's hash", identity.recordHash());
    text("Seed", identity.seedText());
    text("Program", "Lotproof " + identity.toolVersion());
  }

  /** The printable figure of the level that leads, taken from the table of figures. */
  private void fillFigure(List<Level> levels, Table figures, Layout layout) {
    int column = figures.columnIndex("printable-figure");
    for (int i = 0; i < Math.min(levels.size(), figures.rows().size()); i++) {
      OptionalDouble printable = figures.rows().get(i).cells().get(column).number();
      if (levels.get(i).leading() && printable.isPresent()) {
        Row row = row();
        row.setHeightInPoints(FIGURE_POINTS);
        Cell cell = cells.figure(row, printable.getAsDouble(), Format.EXACT, "±", "g");
        Range from = Range.cell(figures.id(), "printable-figure", i);
        cell.setCellFormula(layout.text(Formula.of("{}", from), "", 0));
        Name name = sheet.getWorkbook().createName();
        name.setNameName(FIGURE_NAME);
        name.setRefersToFormula(Layout.inSheet(sheet.getSheetName()) + "$A$" + next);
        // the figure is wider than the column of labels
        sheet.addMergedRegion(new CellRangeAddress(next - 1, next - 1, 0, 1));
      }
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

  private void text(String label, String text) {
    Row row = row();
    if (!label.isEmpty()) {
      cells.words(row, 0, label, Role.LABEL);
    }
    cells.words(row, 1, text, Role.TEXT);
    Cells.fitHeight(row, text.length(), TEXT_CHARACTERS);
  }

  private Row row() {
    return sheet.createRow(next++);
  }
}
