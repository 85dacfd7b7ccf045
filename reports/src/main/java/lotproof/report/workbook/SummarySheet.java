package lotproof.report.workbook;

import java.util.List;
import java.util.Map;
import lotproof.report.model.Headline;
import lotproof.report.model.Identity;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
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
    Headline headline = report.headline();
    Cells.width(sheet, 0, 22);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    sheet.setDisplayGridlines(false);
    Cells.setPrint(sheet, identity.title(), false);
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
