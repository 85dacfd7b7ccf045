package lotproof.report.workbook;

import lotproof.report.text.SanitizedText;
import lotproof.report.workbook.Styles.Role;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;

/** Fills single cells. All words go through here, so that none becomes a formula or a link. */
final class Cells {
  /** Most characters that a cell can hold. */
  private static final int MOST_CHARACTERS = 32_767;

  /** Characters in a line of a column, measured for the font of the workbook. */
  private static final double LINE_POINTS = 13.5;

  private static final float TITLE_POINTS = 21;

  private final Styles styles;

  Cells(Styles styles) {
    this.styles = styles;
  }

  /** Words. */
  Cell words(Row row, int column, String text, Role role) {
    String clean = SanitizedText.clean(text);
    Cell cell = row.createCell(column);
    boolean guard = role == Role.TEXT && SanitizedText.looksLikeFormula(clean);
    cell.setCellStyle(styles.of(guard ? Role.GUARDED_TEXT : role));
    if (clean.length() > MOST_CHARACTERS) {
      clean = SanitizedText.shortened(clean, MOST_CHARACTERS / 2);
    }
    cell.setCellValue(clean);
    return cell;
  }

  /** A title in a row of its own. */
  void title(Row row, String text) {
    words(row, 0, text, Role.TITLE);
    row.setHeightInPoints(TITLE_POINTS);
  }

  /** The row of that index, made when it is not there. */
  static Row row(Sheet sheet, int index) {
    Row row = sheet.getRow(index);
    return row == null ? sheet.createRow(index) : row;
  }

  /** Makes a row high enough for wrapped words; spreadsheets do not do it by themselves. */
  static void fitHeight(Row row, int characters, int columnCharacters) {
    int lines = Math.max(1, (int) Math.ceil(characters / (columnCharacters * 1.12)));
    row.setHeightInPoints((float) Math.min(409, lines * LINE_POINTS + 2));
  }

  /** Width of a column in characters. */
  static void width(Sheet sheet, int column, int characters) {
    sheet.setColumnWidth(column, Math.min(255, characters + 2) * 256);
  }
}
