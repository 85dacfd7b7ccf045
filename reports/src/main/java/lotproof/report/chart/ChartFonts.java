package lotproof.report.chart;

import java.awt.Font;
import java.awt.FontFormatException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * The fonts that charts are drawn with. They come with the program, so that a chart needs no
 * installed font and has the same bytes on every machine.
 */
final class ChartFonts {
  /** Family name of the font that comes with the program. */
  static final String FAMILY = "Lotproof Sans";

  private static final String FOLDER = "/lotproof/report/font/";
  private static final String FONT_MAP_PROPERTY = "sun.awt.fontconfig";

  private static final class Holder {
    static final Font PLAIN = load("lotproof-sans.ttf");
    static final Font BOLD = load("lotproof-sans-bold.ttf");
  }

  private ChartFonts() {}

  /** Upright. */
  static Font plain(float size) {
    return Holder.PLAIN.deriveFont(size);
  }

  /** Bold. */
  static Font bold(float size) {
    return Holder.BOLD.deriveFont(Font.BOLD, size);
  }

  private static Font load(String file) {
    try {
      return create(file);
    } catch (InternalError | RuntimeException noFontOnThisMachine) {
      // Java refuses every font, even one of ours, where the system has none to fall back on.
      // Naming ours as the fallback is the documented way out; nothing else reads the property.
      nameOwnFontAsFallback(noFontOnThisMachine);
      return create(file);
    }
  }

  private static Font create(String file) {
    try (InputStream in = open(file)) {
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
    try (InputStream in = open("lotproof-sans.ttf")) {
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

  private static InputStream open(String file) {
    InputStream in = ChartFonts.class.getResourceAsStream(FOLDER + file);
    if (in == null) {
      throw new IllegalStateException("the program's font " + file + " is missing");
    }
    return in;
  }
}
