package lotproof.report.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.FontFormatException;
import java.awt.Shape;
import java.awt.Stroke;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lotproof.report.ReportFont;

/**
 * Colours, lines, marks and fonts. Series differ in hue, in lightness, in dash and in mark, so that
 * they can be told apart by people who see colours differently and on a grey print. The fonts come
 * with the program, so that a chart has the same bytes on every machine.
 */
final class ChartStyle {
  private static final String FONT_MAP_PROPERTY = "sun.awt.fontconfig";

  static final Color TEXT = new Color(0x1f2a37);
  static final Color GRID = new Color(0xd9dee3);
  static final Color RUN = new Color(0x3d66a0);
  static final Color QUIET = new Color(0x8f99a3);
  static final Color PAPER = Color.WHITE;
  static final Color BAND = new Color(0xe6eef0);
  static final Color BAND_EDGE = new Color(0x3b6b72);
  static final Color LIMIT = new Color(0xa8431a);

  private static final Color[] SERIES = {
    new Color(0x16325c),
    new Color(0xc2571a),
    new Color(0x2a8c82),
    new Color(0x8e4585),
    new Color(0xb59a2e),
    new Color(0x4f7d2b)
  };
  private static final float[][] DASHES = {{}, {8, 4}, {2, 3}, {10, 3, 2, 3}, {4, 4}, {12, 2}};

  private static final class Holder {
    static final Font PLAIN = load(ReportFont.REGULAR);
    static final Font BOLD = load(ReportFont.BOLD);
  }

  private ChartStyle() {}

  static Color series(int n) {
    return SERIES[n % SERIES.length];
  }

  static Stroke line(int n, float width) {
    return dashed(width, DASHES[n % DASHES.length]);
  }

  static Stroke line(float width) {
    return new BasicStroke(width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND);
  }

  /** For dots: a line without length is one. */
  static Stroke round(float width) {
    return new BasicStroke(width, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND);
  }

  static Stroke dashed(float width, float... dash) {
    if (dash.length == 0) {
      return line(width);
    }
    return new BasicStroke(
        width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10f, dash.clone(), 0f);
  }

  static Shape mark(int n, double size) {
    double half = size / 2;
    return switch (n % SERIES.length) {
      case 1 -> polygon(0, -half * 1.3, half * 1.3, 0, 0, half * 1.3, -half * 1.3, 0);
      case 2 -> polygon(0, -half * 1.15, half * 1.1, half * 0.85, -half * 1.1, half * 0.85);
      case 3 -> new Rectangle2D.Double(-half * 0.9, -half * 0.9, size * 0.9, size * 0.9);
      case 4 -> plus(size);
      case 5 -> polygon(-half, -half * 0.7, half, -half * 0.7, 0, half * 1.15);
      default -> new Ellipse2D.Double(-half, -half, size, size);
    };
  }

  private static Shape plus(double size) {
    double a = size / 2;
    double b = size / 8;
    return polygon(
        -b, -a, b, -a, b, -b, a, -b, a, b, b, b, b, a, -b, a, -b, b, -a, b, -a, -b, -b, -b);
  }

  private static Shape polygon(double... xy) {
    Path2D path = new Path2D.Double();
    path.moveTo(xy[0], xy[1]);
    for (int i = 2; i < xy.length; i += 2) {
      path.lineTo(xy[i], xy[i + 1]);
    }
    path.closePath();
    return path;
  }

  static Font plain(float size) {
    return Holder.PLAIN.deriveFont(size);
  }

  static Font bold(float size) {
    return Holder.BOLD.deriveFont(Font.BOLD, size);
  }

  private static Font load(ReportFont file) {
    try {
      return create(file);
    } catch (InternalError | RuntimeException noFontOnThisMachine) {
      // Java refuses every font, even one of ours, where the system has none to fall back on.
      // Naming ours as the fallback is the documented way out; nothing else reads the property.
      nameOwnFontAsFallback(noFontOnThisMachine);
      return create(file);
    }
  }

  private static Font create(ReportFont file) {
    try (InputStream in = file.trueType()) {
      return Font.createFont(Font.TRUETYPE_FONT, in);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read font " + file, e);
    } catch (FontFormatException e) {
      throw new IllegalStateException("font " + file + " is damaged", e);
    }
  }

  private static void nameOwnFontAsFallback(Throwable cause) {
    if (System.getProperty(FONT_MAP_PROPERTY) != null) {
      throw new IllegalStateException("the font map of this machine holds no usable font", cause);
    }
    try (InputStream in = ReportFont.REGULAR.trueType()) {
      Path folder = Files.createTempDirectory("lotproof-font");
      Path font = folder.resolve("lotproof-sans.ttf");
      Path map = folder.resolve("fonts.properties");
      Files.write(font, in.readAllBytes());
      Files.writeString(map, fontMap(font), StandardCharsets.ISO_8859_1);
      List.of(folder, map, font).forEach(file -> file.toFile().deleteOnExit());
      System.setProperty(FONT_MAP_PROPERTY, map.toString());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot lay out the font for this machine", e);
    }
  }

  private static String fontMap(Path font) {
    String name = "-lotproof-lotproof_sans-medium-r-normal--*-%d-*-*-p-*-iso10646-1";
    StringBuilder map = new StringBuilder("version=1\nsequence.allfonts=latin-1\n");
    for (String family : List.of("serif", "sansserif", "monospaced", "dialog", "dialoginput")) {
      for (String style : List.of("plain", "bold", "italic", "bolditalic")) {
        map.append(family).append('.').append(style).append(".latin-1=").append(name).append('\n');
      }
    }
    return map.append("filename.").append(name).append('=').append(font).append('\n').toString();
  }
}
