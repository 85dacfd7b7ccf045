package lotproof.app.files;

import java.math.BigDecimal;
import java.util.Locale;
import lotproof.gather.tables.Cell;
import org.apache.poi.ss.usermodel.BuiltinFormats;
import org.apache.poi.ss.usermodel.DataFormatter;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.xssf.model.SharedStrings;
import org.apache.poi.xssf.model.StylesTable;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;

/** Stored values of a workbook to cells, by their type and number format. */
final class CellMaker {
  private static final String GENERAL = "General";

  private final SharedStrings strings;
  private final StruckStrings struck;
  private final StylesTable styles;
  private final boolean countsFrom1904;
  private final DataFormatter formatter = new DataFormatter(Locale.ROOT);

  CellMaker(
      SharedStrings strings, StruckStrings struck, StylesTable styles, boolean countsFrom1904) {
    this.strings = strings;
    this.struck = struck;
    this.styles = styles;
    this.countsFrom1904 = countsFrom1904;
  }

  Cell shared(String index) {
    return Cell.of(strings.getItemAt(Integer.parseInt(index)).getString());
  }

  /** Whether a shared text is struck through, in whole or in part. */
  boolean isStruckText(String index) {
    return struck.has(Integer.parseInt(index));
  }

  /** Whether cells of a style are struck through. */
  boolean isStruck(int style) {
    return style >= 0
        && style < styles.getNumCellStyles()
        && styles.getStyleAt(style).getFont().getStrikeout();
  }

  /** Whether cells of a style show nothing. */
  boolean showsNothing(int style) {
    if (style < 0 || style >= styles.getNumCellStyles()) {
      return false;
    }
    String format = styles.getStyleAt(style).getDataFormatString();
    return format != null && Marks.showsNothing(format);
  }

  /**
   * A number, or the date that its format makes of it.
   *
   * @param stored the digits in the file
   * @param style number of the cell's style
   */
  Cell number(String stored, int style) {
    double value = Double.parseDouble(stored);
    short index = 0;
    String format = GENERAL;
    if (style >= 0 && style < styles.getNumCellStyles()) {
      XSSFCellStyle cellStyle = styles.getStyleAt(style);
      index = cellStyle.getDataFormat();
      String named = cellStyle.getDataFormatString();
      format = named == null ? BuiltinFormats.getBuiltinFormat(index) : named;
    }
    return number(value, index, format, countsFrom1904, formatter);
  }

  /** A number, or the date that its format makes of it. */
  static Cell number(
      double value, int index, String format, boolean countsFrom1904, DataFormatter formatter) {
    // Below 1 there is a time of day without a date.
    if (DateUtil.isADateFormat(index, format) && value >= 1 && DateUtil.isValidExcelDate(value)) {
      return new Cell.DateTime(DateUtil.getLocalDateTime(value, countsFrom1904, true));
    }
    BigDecimal shortest = new BigDecimal(Double.toString(value)).stripTrailingZeros();
    String shown =
        GENERAL.equals(format)
            ? shortest.toPlainString()
            : formatter.formatRawCellContents(value, index, format, countsFrom1904);
    return new Cell.Numeric(shortest, shown);
  }
}
