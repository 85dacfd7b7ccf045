package lotproof.report.workbook;

import java.util.List;
import lotproof.report.model.Headline;
import lotproof.report.model.Headline.Verdict;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.text.PlainText;
import lotproof.report.workbook.Styles.Role;
import org.apache.poi.common.usermodel.HyperlinkType;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Hyperlink;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;

/** The first sheet: the figure, its conditions, and where the rest is. */
final class FigureSheet {
  /** Name by which the figure can be called in the workbook. */
  static final String FIGURE_NAME = "figure";

  private static final int LABEL_CHARACTERS = 22;
  private static final int TEXT_CHARACTERS = 96;
  private static final float FIGURE_POINTS = 48;

  private final Sheet sheet;
  private final Styles styles;
  private final Cells cells;
  private final FormulaText formulas;
  private int next;

  FigureSheet(Sheet sheet, Styles styles, FormulaText formulas) {
    this.sheet = sheet;
    this.styles = styles;
    this.cells = new Cells(styles);
    this.formulas = formulas;
  }

  /** An entry of the contents: what stands there and the sheet's name. */
  record Entry(String title, String sheet) {}

  void fill(Report report, List<Entry> contents) {
    Cells.width(sheet, 0, LABEL_CHARACTERS);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    sheet.setDisplayGridlines(false);
    cells.title(row(), report.identity().title());
    if (!report.identity().question().isBlank()) {
      cells.words(row(), 0, report.identity().question(), Role.SUBTITLE);
    }
    fillFigure(report.headline());
    fillVerdicts(report.headline().verdicts());
    fillTexts("Claim", List.of(report.headline().claimSentence()));
    fillProse("Main risks", report.headline().thingsToKnow());
    fillProse("Conditions", report.headline().conditions());
    fillContents(contents);
    next++;
    text("Made from", report.identity().generatedFrom());
    text("Record's hash", report.identity().recordHash());
    text("Seed", report.identity().seedText());
    text("Program", "Lotproof " + report.identity().toolVersion());
    TableSheet.setPrint(sheet, report.identity().title(), false);
  }

  private void fillFigure(Headline headline) {
    next++;
    Row row = row();
    row.setHeightInPoints(FIGURE_POINTS);
    if (headline.figure() instanceof Headline.Supported supported) {
      Quantity amount = supported.amount();
      Cell cell = row.createCell(0);
      supported.from().ifPresent(formula -> cell.setCellFormula(formulas.of(formula, "", 0)));
      cell.setCellValue(amount.value());
      cell.setCellStyle(
          styles.figure(amount.value(), amount.format(), supported.sign(), amount.unit()));
      Name name = sheet.getWorkbook().createName();
      name.setNameName(FIGURE_NAME);
      name.setRefersToFormula(Layout.inSheet(sheet.getSheetName()) + "$A$" + (row.getRowNum() + 1));
      // the figure is wider than the column of labels
      sheet.addMergedRegion(new CellRangeAddress(row.getRowNum(), row.getRowNum(), 0, 1));
      cells.words(row(), 0, supported.of(), Role.LABEL);
    } else if (headline.figure() instanceof Headline.NotSupported none) {
      cells.words(row, 0, PlainText.of(none), Role.FIGURE);
      cells.words(row(), 0, none.of(), Role.LABEL);
      text("Why", none.reason());
    }
  }

  private void fillVerdicts(List<Verdict> verdicts) {
    if (verdicts.isEmpty()) {
      return;
    }
    next++;
    for (Verdict verdict : verdicts) {
      text(verdict.answer().word(), verdict.question() + " " + PlainText.of(verdict.because()));
    }
  }

  private void fillProse(String label, List<Prose> texts) {
    fillTexts(label, texts.stream().map(PlainText::of).toList());
  }

  private void fillTexts(String label, List<String> texts) {
    List<String> said = texts.stream().filter(text -> !text.isBlank()).toList();
    if (said.isEmpty()) {
      return;
    }
    next++;
    for (int i = 0; i < said.size(); i++) {
      text(i == 0 ? label : "", said.get(i));
    }
  }

  private void fillContents(List<Entry> contents) {
    next++;
    cells.words(row(), 0, "Contents", Role.LABEL);
    for (Entry entry : contents) {
      Row row = row();
      Cell cell = cells.words(row, 0, entry.sheet(), Role.LINK);
      Hyperlink link =
          sheet.getWorkbook().getCreationHelper().createHyperlink(HyperlinkType.DOCUMENT);
      link.setAddress(Layout.inSheet(entry.sheet()) + "A1");
      cell.setHyperlink(link);
      cells.words(row, 1, entry.title(), Role.TEXT);
      Cells.fitHeight(row, entry.title().length(), TEXT_CHARACTERS);
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

  private Row row() {
    return Cells.row(sheet, next++);
  }
}
