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
import org.apache.poi.ss.usermodel.PageMargin;
import org.apache.poi.ss.usermodel.PrintSetup;
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
  private static final int INPUT_COLOR = 0x0b3d91;
  private static final int INPUT_FILL = 0xfff6cc;
  private static final int CONSTANT_COLOR = 0x54606c;
  private static final int CONSTANT_FILL = 0xf1f3f4;
  private static final int FORMULA_COLOR = 0x000000;

  /** Most characters that a cell can hold. */
  private static final int MOST_CHARACTERS = 32_767;

  /** Height of a line in the font of the workbook. */
  static final float LINE_POINTS = 13.5f;

  private static final float TITLE_POINTS = 21;
  private static final double SIDE_INCHES = 0.5;
  private static final double A4_SHORT_INCHES = 8.27;
  private static final double A4_LONG_INCHES = 11.69;

  /** A digit is 7 of 96 dots an inch wide, and more where another font stands in. */
  private static final double CHARACTERS_PER_INCH = 96 / 8.7;

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
    VERDICT(18, true, DEEP, true),
    LABEL(10, true, INK, false),
    TEXT(10, false, INK, true),
    /** Words that a spreadsheet might take for a formula when they are edited. */
    GUARDED_TEXT(10, false, INK, true),
    HEAD(10, true, INK, true),
    NUMBER_HEAD(10, true, INK, true),
    MISSING(10, false, SOFT, true),
    /** A number or words that a reader may change. */
    INPUT(10, false, INPUT_COLOR, false),
    /** A number that the program computed, which follows nothing. */
    CONSTANT(10, false, CONSTANT_COLOR, false),
    /** What follows from other cells. */
    FORMULA(10, false, FORMULA_COLOR, true),
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

  /** A number: an input, a constant or the result of a formula. */
  Cell number(Row row, int column, double value, Format format, Role role) {
    Cell cell = row.createCell(column);
    cell.setCellValue(value);
    String shown = formatOf(value, format);
    cell.setCellStyle(
        byFormat.computeIfAbsent(
            role + shown,
            known -> {
              CellStyle style = workbook.createCellStyle();
              style.cloneStyleFrom(of(role));
              style.setDataFormat(workbook.createDataFormat().getFormat(shown + ROOM_AFTER));
              style.setAlignment(HorizontalAlignment.RIGHT);
              style.setWrapText(false);
              return style;
            }));
    return cell;
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

  /** Numbered pages, named at their top. */
  static void setPrint(Sheet sheet, String title, boolean landscape) {
    sheet.getPrintSetup().setPaperSize(PrintSetup.A4_PAPERSIZE);
    sheet.getPrintSetup().setLandscape(landscape);
    sheet.setMargin(PageMargin.LEFT, SIDE_INCHES);
    sheet.setMargin(PageMargin.RIGHT, SIDE_INCHES);
    // an ampersand starts a command in a page header
    sheet.getHeader().setLeft(SanitizedText.abridged(title, 80).replace("&", "&&"));
    sheet.getFooter().setRight("&P / &N");
  }

  /** Characters that a printed line takes at full size. */
  static double lineCharacters(boolean landscape) {
    return ((landscape ? A4_LONG_INCHES : A4_SHORT_INCHES) - 2 * SIDE_INCHES) * CHARACTERS_PER_INCH;
  }

  private CellStyle of(Role role) {
    return Objects.requireNonNull(byRole.get(role));
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
    if (role == Role.INPUT || role == Role.CONSTANT) {
      style.setFillForegroundColor(color(role == Role.INPUT ? INPUT_FILL : CONSTANT_FILL));
      style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
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
