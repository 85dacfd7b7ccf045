package lotproof.report.workbook;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import lotproof.report.model.Format;
import lotproof.report.text.SanitizedText;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.FillPatternType;
import org.apache.poi.ss.usermodel.Font;
import org.apache.poi.ss.usermodel.FontScheme;
import org.apache.poi.ss.usermodel.HorizontalAlignment;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.VerticalAlignment;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * Fills single cells, each style made once. All words go through here, so that none becomes a
 * formula or a link.
 */
final class Cells {
  private static final String FONT = "Arial";
  private static final int INK = 0x1f2a37;
  private static final int SOFT = 0x54606c;
  private static final int DEEP = 0x16325c;
  private static final int LINK_COLOR = 0x1d6a63;
  private static final int HEAD_COLOR = 0xe6eef0;

  /** Most characters that a cell can hold. */
  private static final int MOST_CHARACTERS = 32_767;

  /** Height of a line in the font of the workbook. */
  static final float LINE_POINTS = 13.5f;

  private static final float TITLE_POINTS = 21;

  /** Leaves the width of a digit, so that words in the next column keep their distance. */
  private static final String ROOM_AFTER = "_0";

  private static final double PLAIN_BELOW = 1e12;
  private static final int MOST_DECIMALS = 12;
  private static final String HUGE = "0.000E+00";

  /** What a cell is for. */
  enum Role {
    TITLE(14, true, DEEP, false),
    SUBTITLE(10, false, SOFT, false),
    /** A subtitle of several lines. */
    NOTE(10, false, SOFT, true),
    FIGURE(36, true, DEEP, false),
    LABEL(10, true, INK, false),
    TEXT(10, false, INK, true),
    /** Words that a spreadsheet might take for a formula when they are edited. */
    GUARDED_TEXT(10, false, INK, true),
    HEAD(10, true, INK, true),
    NUMBER_HEAD(10, true, INK, true),
    MISSING(10, false, SOFT, true),
    LINK(10, false, LINK_COLOR, false);

    private final int points;
    private final boolean bold;
    private final int color;
    private final boolean wrapped;

    Role(int points, boolean bold, int color, boolean wrapped) {
      this.points = points;
      this.bold = bold;
      this.color = color;
      this.wrapped = wrapped;
    }
  }

  private final XSSFWorkbook workbook;
  private final Map<Role, CellStyle> byRole = new EnumMap<>(Role.class);
  private final Map<String, CellStyle> byFormat = new HashMap<>();

  Cells(XSSFWorkbook workbook) {
    this.workbook = workbook;
    XSSFFont normal = workbook.getFontAt(0);
    normal.setFontName(FONT);
    normal.setFontHeightInPoints((short) 10);
    // a theme's font would win over the name
    normal.setScheme(FontScheme.NONE);
    normal.setColor(color(INK));
    for (Role role : Role.values()) {
      byRole.put(role, make(role));
    }
  }

  Cell words(Row row, int column, String text, Role role) {
    String clean = SanitizedText.clean(text);
    Cell cell = row.createCell(column);
    boolean guard = role == Role.TEXT && SanitizedText.looksLikeFormula(clean);
    cell.setCellStyle(of(guard ? Role.GUARDED_TEXT : role));
    if (clean.length() > MOST_CHARACTERS) {
      clean = SanitizedText.abridged(clean, MOST_CHARACTERS / 2);
    }
    cell.setCellValue(clean);
    return cell;
  }

  void title(Row row, String text) {
    words(row, 0, text, Role.TITLE);
    row.setHeightInPoints(TITLE_POINTS);
  }

  Cell number(Row row, int column, double value, Format format) {
    Cell cell = row.createCell(column);
    cell.setCellValue(value);
    cell.setCellStyle(
        byFormat.computeIfAbsent(
            formatOf(value, format),
            known -> {
              CellStyle style = withFormat(workbook.createCellStyle(), known + ROOM_AFTER);
              style.setVerticalAlignment(VerticalAlignment.TOP);
              style.setAlignment(HorizontalAlignment.RIGHT);
              return style;
            }));
    return cell;
  }

  /** The figure: large, with its sign and unit. */
  Cell figure(Row row, double value, Format format, String sign, String unit) {
    String shown =
        quoted(sign) + formatOf(value, format) + quoted(unit.isEmpty() ? "" : " " + unit);
    CellStyle large = workbook.createCellStyle();
    large.cloneStyleFrom(of(Role.FIGURE));
    Cell cell = row.createCell(0);
    cell.setCellValue(value);
    cell.setCellStyle(withFormat(large, shown));
    return cell;
  }

  /** Style for words of an outline. */
  CellStyle indented(int steps) {
    return byFormat.computeIfAbsent(
        "indented " + steps,
        key -> {
          CellStyle style = workbook.createCellStyle();
          style.cloneStyleFrom(of(Role.GUARDED_TEXT));
          style.setAlignment(HorizontalAlignment.LEFT);
          style.setIndention((short) (2 * steps));
          return style;
        });
  }

  /** Makes a row high enough for wrapped words; spreadsheets do not do it by themselves. */
  static void fitHeight(Row row, int characters, int columnCharacters) {
    int lines = Math.max(1, (int) Math.ceil(characters / (columnCharacters * 1.12)));
    row.setHeightInPoints(Math.min(409, lines * LINE_POINTS + 2));
  }

  /** Width of a column in characters. */
  static void width(Sheet sheet, int column, int characters) {
    sheet.setColumnWidth(column, Math.min(255, characters + 2) * 256);
  }

  /** One page wide, numbered, and named at the top of each page. */
  static void setPrint(Sheet sheet, String title, boolean landscape) {
    sheet.setFitToPage(true);
    sheet.getPrintSetup().setFitWidth((short) 1);
    sheet.getPrintSetup().setFitHeight((short) 0);
    sheet.getPrintSetup().setLandscape(landscape);
    // an ampersand starts a command in a page header
    sheet.getHeader().setLeft(SanitizedText.abridged(title, 80).replace("&", "&&"));
    sheet.getFooter().setRight("&P / &N");
  }

  private CellStyle of(Role role) {
    return Objects.requireNonNull(byRole.get(role));
  }

  private CellStyle withFormat(CellStyle style, String format) {
    style.setDataFormat(workbook.createDataFormat().getFormat(format));
    return style;
  }

  /** The spreadsheet's format that shows a number as the report's format asks. */
  private static String formatOf(double value, Format format) {
    boolean huge = !(Math.abs(value) < PLAIN_BELOW);
    return switch (format.kind()) {
      case EXACT -> huge ? HUGE : decimals(Format.exactDecimals(value));
      case DECIMAL -> huge ? HUGE : decimals(format.digits());
      case FRACTION -> decimals(format.digits()) + "%";
      case SIGNIFICANT -> significant(value, format.digits(), huge);
      default -> huge ? HUGE : "0";
    };
  }

  private static String significant(double value, int digits, boolean huge) {
    if (value == 0) {
      return "0";
    }
    BigDecimal rounded = BigDecimal.valueOf(value).round(new MathContext(digits));
    int exponent = rounded.precision() - rounded.scale() - 1;
    int decimals = Math.max(0, digits - 1 - exponent);
    boolean withExponent = huge || decimals > MOST_DECIMALS || Math.abs(value) < 1e-4;
    return withExponent ? decimals(digits - 1) + "E+00" : decimals(decimals);
  }

  private static String decimals(int digits) {
    return digits == 0 ? "0" : "0." + "0".repeat(digits);
  }

  private static String quoted(String words) {
    String plain = words.replace("\"", "").replace("\\", "");
    return plain.isEmpty() ? "" : '"' + plain + '"';
  }

  private CellStyle make(Role role) {
    XSSFFont font = workbook.createFont();
    font.setFontName(FONT);
    font.setFontHeightInPoints((short) role.points);
    font.setBold(role.bold);
    font.setItalic(role == Role.MISSING);
    font.setColor(color(role.color));
    font.setUnderline(role == Role.LINK ? Font.U_SINGLE : Font.U_NONE);
    XSSFCellStyle style = workbook.createCellStyle();
    style.setFont(font);
    style.setVerticalAlignment(VerticalAlignment.TOP);
    style.setWrapText(role.wrapped);
    style.setQuotePrefixed(role == Role.GUARDED_TEXT);
    if (role == Role.FIGURE) {
      style.setAlignment(HorizontalAlignment.LEFT);
    }
    if (role == Role.HEAD || role == Role.NUMBER_HEAD) {
      style.setFillForegroundColor(color(HEAD_COLOR));
      style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
      style.setBorderBottom(BorderStyle.MEDIUM);
      style.setBottomBorderColor(color(DEEP));
      style.setVerticalAlignment(VerticalAlignment.BOTTOM);
    }
    if (role == Role.NUMBER_HEAD) {
      style.setAlignment(HorizontalAlignment.RIGHT);
      style.setIndention((short) 1);
    }
    return style;
  }

  private static XSSFColor color(int rgb) {
    return new XSSFColor(new byte[] {(byte) (rgb >> 16), (byte) (rgb >> 8), (byte) rgb}, null);
  }
}
