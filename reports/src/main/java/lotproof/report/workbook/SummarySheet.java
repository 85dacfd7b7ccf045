package lotproof.report.workbook;

import java.util.LinkedHashMap;
import java.util.Map;
import lotproof.report.model.Cell;
import lotproof.report.model.Identity;
import lotproof.report.model.Sheet;
import lotproof.report.model.Workbook;
import lotproof.report.model.Workbook.Entry;
import lotproof.report.workbook.Cells.Role;
import org.apache.poi.common.usermodel.HyperlinkType;
import org.apache.poi.ss.usermodel.Hyperlink;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;

/** The first sheet: the verdict, what it rests on, and where the rest is. */
final class SummarySheet {
  static final String NAME = "Summary";

  private static final int LABEL_CHARACTERS = 20;
  private static final int TEXT_CHARACTERS = 74;
  private static final float VERDICT_POINTS = 52;

  /** Brings it onto a page. */
  private static final short PERCENT = 78;

  private final org.apache.poi.ss.usermodel.Sheet sheet;
  private final Cells cells;
  private final Layout layout;
  private int next;

  SummarySheet(org.apache.poi.ss.usermodel.Sheet sheet, Cells cells, Layout layout) {
    this.sheet = sheet;
    this.cells = cells;
    this.layout = layout;
  }

  /** Fills the empty sheet. */
  void fill(Workbook workbook) {
    Identity identity = workbook.identity();
    Cells.width(sheet, 0, LABEL_CHARACTERS);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    sheet.setDisplayGridlines(false);
    Cells.setPrint(sheet, identity.title(), false);
    cells.title(row(), identity.title());
    cells.words(row(), 0, identity.question(), Role.SUBTITLE);
    next++;
    Row verdict = row();
    verdict.setHeightInPoints(VERDICT_POINTS);
    live(verdict, 0, workbook.summary().verdict(), Role.VERDICT);
    sheet.addMergedRegion(new CellRangeAddress(next - 1, next - 1, 0, 1));
    entry(new Entry("Inputs", workbook.summary().status()));
    next++;
    workbook.summary().entries().forEach(this::entry);
    next++;
    legend();
    next++;
    cells.words(row(), 0, "Sheets", Role.LABEL);
    workbook.sheets().forEach(this::link);
    next++;
    text("Made from", identity.generatedFrom());
    text("Record's hash", identity.recordHash());
    text("Seed", identity.seedText());
    text("Program", "Lotproof " + identity.toolVersion());
    sheet.getPrintSetup().setScale(PERCENT);
    sheet.getWorkbook().setPrintArea(0, 0, 1, 0, next - 1);
    sheet.createFreezePane(0, 2);
    sheet.setRepeatingRows(new CellRangeAddress(0, 1, -1, -1));
  }

  /** What is an input, a constant and a formula, each in its colours. */
  private void legend() {
    Map<Role, String> says = new LinkedHashMap<>();
    says.put(Role.INPUT, "Input: change it, and the formulas follow.");
    says.put(Role.CONSTANT, "Constant: computed by the program from the record; follows nothing.");
    says.put(Role.FORMULA, "Formula: follows from other cells.");
    cells.words(sheet.createRow(next), 0, "Colours", Role.LABEL);
    says.forEach(
        (role, words) -> {
          Row row = sheet.getRow(next) == null ? sheet.createRow(next) : sheet.getRow(next);
          cells.words(row, 1, words, role);
          next++;
        });
  }

  private void link(Sheet to) {
    Row row = row();
    Hyperlink link =
        sheet.getWorkbook().getCreationHelper().createHyperlink(HyperlinkType.DOCUMENT);
    link.setAddress(Layout.inSheet(to.name()) + "A1");
    cells.words(row, 0, to.name(), Role.LINK).setHyperlink(link);
    cells.words(row, 1, to.tables().get(0).title(), Role.TEXT);
  }

  private void entry(Entry entry) {
    Row row = row();
    cells.words(row, 0, entry.label(), Role.LABEL);
    Role role = entry.words().formula().isPresent() ? Role.FORMULA : Role.TEXT;
    int length = live(row, 1, entry.words(), role);
    Cells.fitHeight(row, length, TEXT_CHARACTERS);
  }

  private int live(Row row, int column, Cell words, Role role) {
    String text = ((Cell.Text) words).text();
    var cell = cells.words(row, column, text, role);
    words.formula().ifPresent(formula -> cell.setCellFormula(layout.text(formula, "", 0)));
    return text.length();
  }

  private void text(String label, String text) {
    entry(new Entry(label, Cell.text(text)));
  }

  private Row row() {
    return sheet.createRow(next++);
  }
}
