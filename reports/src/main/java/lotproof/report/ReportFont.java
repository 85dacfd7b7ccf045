package lotproof.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.Locale;

/** The font that comes with the program, so that a report looks the same on every machine. */
public enum ReportFont {
  REGULAR("lotproof-sans", 400),
  BOLD("lotproof-sans-bold", 700);

  /** Its family. */
  public static final String FAMILY = "Lotproof Sans";

  private static final String FOLDER = "/lotproof/report/font/";

  private final String file;
  private final int weight;

  ReportFont(String file, int weight) {
    this.file = file;
    this.weight = weight;
  }

  /** How heavy it is, as style sheets count. */
  public int weight() {
    return weight;
  }

  /** The font as a program draws with it. */
  public InputStream trueType() {
    return open(file + ".ttf");
  }

  /** Rules of a style sheet that carry all of them. */
  public static String faces() {
    return REGULAR.face() + BOLD.face();
  }

  private String face() {
    try (InputStream in = open(file + ".woff2")) {
      return String.format(
          Locale.ROOT,
          "@font-face { font-family: \"%s\"; font-weight: %d; src: url(data:font/woff2;base64,%s)"
              + " format(\"woff2\"); }\n",
          FAMILY,
          weight,
          Base64.getEncoder().encodeToString(in.readAllBytes()));
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read font " + file, e);
    }
  }

  private static InputStream open(String name) {
    InputStream in = ReportFont.class.getResourceAsStream(FOLDER + name);
    if (in == null) {
      throw new IllegalStateException("the program's font " + name + " is missing");
    }
    return in;
  }
}
