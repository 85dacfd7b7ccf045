package lotproof.report.workbook;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import lotproof.report.model.Format;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.FillPatternType;
import org.apache.poi.ss.usermodel.Font;
import org.apache.poi.ss.usermodel.FontScheme;
import org.apache.poi.ss.usermodel.HorizontalAlignment;
import org.apache.poi.ss.usermodel.VerticalAlignment;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** Cell styles, each made once. */
final class Styles {
  private static final String FONT = "Arial";
  private static final int INK = 0x1f2a37;
  private static final int SOFT = 0x54606c;
  private static final int DEEP = 0x16325c;
  private static final int LINK = 0x1d6a63;
  private static final int HEAD = 0xe6eef0;

  /** Leaves the width of a digit, so that words in the next column keep their distance. */
  private static final String ROOM_AFTER = "_0";

  private static final double PLAIN_BELOW = 1e12;
  private static final int MOST_DECIMALS = 12;
  private static final String HUGE = "0.000E+00";

  /** What a cell is for. */
  enum Role {
    TITLE,
    SUBTITLE,
    /** A subtitle of several lines. */
    NOTE,
    FIGURE,
    LABEL,
    TEXT,
    /** Words that a spreadsheet might take for a formula when they are edited. */
    GUARDED_TEXT,
    HEAD,
    NUMBER_HEAD,
    MISSING,
    LINK
  }

  private final XSSFWorkbook workbook;
  private final Map<Role, CellStyle> byRole = new EnumMap<>(Role.class);
  private final Map<String, CellStyle> byFormat = new HashMap<>();

  Styles(XSSFWorkbook workbook) {
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

  /** Style for what a cell is for. */
  CellStyle of(Role role) {
    return Objects.requireNonNull(byRole.get(role));
  }

  /** Style for a number. */
  CellStyle number(double value, Format style) {
    return byFormat.computeIfAbsent(
        formatOf(value, style),
        format -> {
          CellStyle number = workbook.createCellStyle();
          number.setDataFormat(workbook.createDataFormat().getFormat(format + ROOM_AFTER));
          number.setVerticalAlignment(VerticalAlignment.TOP);
          number.setAlignment(HorizontalAlignment.RIGHT);
          return number;
        });
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

  /** Style for the figure: large, with its sign and unit. */
  CellStyle figure(double value, Format style, String sign, String unit) {
    String format =
        quoted(sign) + formatOf(value, style) + quoted(unit.isEmpty() ? "" : " " + unit);
    return byFormat.computeIfAbsent(
        "figure " + format,
        key -> {
          CellStyle large = workbook.createCellStyle();
          large.cloneStyleFrom(of(Role.FIGURE));
          large.setDataFormat(workbook.createDataFormat().getFormat(format));
          return large;
        });
  }

  /** The spreadsheet's format that shows a number as the report's style asks. */
  static String formatOf(double value, Format style) {
    boolean huge = !(Math.abs(value) < PLAIN_BELOW);
    return switch (style.kind()) {
      case DECIMAL -> huge ? HUGE : decimals(style.digits());
      case FRACTION -> decimals(style.digits()) + "%";
      default -> huge ? HUGE : "0";
      case SIGNIFICANT -> significant(value, style.digits(), huge);
    };
  }

  private static String significant(double value, int digits, boolean huge) {
    if (value == 0) {
      return "0";
    }
    int decimals = Math.max(0, digits - 1 - exponent(value, digits));
    if (huge || decimals > MOST_DECIMALS || Math.abs(value) < 1e-4) {
      return decimals(digits - 1) + "E+00";
    }
    return decimals(decimals);
  }

  /** Power of ten of the first digit once a number is rounded to so many digits. */
  private static int exponent(double value, int digits) {
    BigDecimal rounded = BigDecimal.valueOf(value).round(new MathContext(digits));
    return rounded.precision() - rounded.scale() - 1;
  }

  private static String decimals(int digits) {
    return digits == 0 ? "0" : "0." + "0".repeat(digits);
  }

  private static String quoted(String words) {
    String plain = words.replace("\"", "").replace("\\", "");
    return plain.isEmpty() ? "" : '"' + plain + '"';
  }

  private CellStyle make(Role role) {
    XSSFCellStyle style = workbook.createCellStyle();
    style.setVerticalAlignment(VerticalAlignment.TOP);
    switch (role) {
      case TITLE -> style.setFont(font(14, true, false, DEEP));
      case SUBTITLE, NOTE -> {
        style.setFont(font(10, false, false, SOFT));
        style.setWrapText(role == Role.NOTE);
      }
      case FIGURE -> {
        style.setFont(font(36, true, false, DEEP));
        style.setAlignment(HorizontalAlignment.LEFT);
      }
      case LABEL -> style.setFont(font(10, true, false, INK));
      case TEXT -> style.setWrapText(true);
      case GUARDED_TEXT -> {
        style.setWrapText(true);
        style.setQuotePrefixed(true);
      }
      case HEAD, NUMBER_HEAD -> {
        style.setFont(font(10, true, false, INK));
        style.setFillForegroundColor(color(HEAD));
        style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
        style.setBorderBottom(BorderStyle.MEDIUM);
        style.setBottomBorderColor(color(DEEP));
        style.setWrapText(true);
        style.setVerticalAlignment(VerticalAlignment.BOTTOM);
        if (role == Role.NUMBER_HEAD) {
          style.setAlignment(HorizontalAlignment.RIGHT);
          style.setIndention((short) 1);
        }
      }
      case MISSING -> {
        style.setFont(font(10, false, true, SOFT));
        style.setWrapText(true);
      }
      case LINK -> {
        XSSFFont font = font(10, false, false, LINK);
        font.setUnderline(Font.U_SINGLE);
        style.setFont(font);
      }
    }
    return style;
  }

  private XSSFFont font(int points, boolean bold, boolean italic, int rgb) {
    XSSFFont font = workbook.createFont();
    font.setFontName(FONT);
    font.setFontHeightInPoints((short) points);
    font.setBold(bold);
    font.setItalic(italic);
    font.setColor(color(rgb));
    return font;
  }

  private static XSSFColor color(int rgb) {
    return new XSSFColor(new byte[] {(byte) (rgb >> 16), (byte) (rgb >> 8), (byte) rgb}, null);
  }
}
