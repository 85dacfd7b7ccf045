package lotproof.report.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import lotproof.report.ReportFont;

/**
 * What the page carries with it so that it needs nothing else.
 *
 * @param style the style sheet with its fonts
 * @param script the script
 * @param policy what a browser may run and load: this script, and nothing from anywhere else
 */
public record PageAssets(String style, String script, String policy) {
  private static final String PAGE = "/lotproof/report/page/";

  /** Reads them from the program. */
  static PageAssets load() {
    String style = ReportFont.faces() + text(PAGE + "page.css");
    String script = text(PAGE + "page.js");
    String policy =
        "default-src 'none'; style-src 'unsafe-inline'; font-src data:; script-src 'sha256-"
            + sha256(script)
            + "'; base-uri 'none'; form-action 'none'";
    return new PageAssets(style, script, policy);
  }

  private static String text(String resource) {
    return new String(bytes(resource), StandardCharsets.UTF_8);
  }

  private static byte[] bytes(String resource) {
    try (InputStream in = PageAssets.class.getResourceAsStream(resource)) {
      if (in == null) {
        throw new IllegalStateException("the program's file " + resource + " is missing");
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String sha256(String text) {
    try {
      byte[] hash =
          MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
      return Base64.getEncoder().encodeToString(hash);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
