package lotproof.app;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.OptionalInt;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How many columns text may take. In a terminal that is the terminal's width, between limits that
 * keep tables and lines readable; elsewhere it is the same everywhere, so that a file of output
 * does not depend on the window it was written from.
 */
final class ScreenWidth {
  static final int ELSEWHERE = 110;
  static final int LEAST = 40;

  private static final int MOST_MILLISECONDS = 300;
  private static final Pattern ROWS_AND_COLUMNS = Pattern.compile("\\d+ (\\d{1,5})\\s*");

  private ScreenWidth() {}

  /** Columns for output of this command. */
  static int of(boolean terminal, Map<String, String> environment) {
    if (!terminal) {
      return ELSEWHERE;
    }
    OptionalInt said = number(environment.getOrDefault("COLUMNS", ""));
    OptionalInt width = said.isPresent() ? said : asked();
    return width.isPresent() ? Math.max(LEAST, Math.min(ELSEWHERE, width.getAsInt())) : ELSEWHERE;
  }

  private static OptionalInt number(String text) {
    return text.matches("[1-9]\\d{0,4}")
        ? OptionalInt.of(Integer.parseInt(text))
        : OptionalInt.empty();
  }

  /** The width that the terminal driver tells; none on systems without stty. */
  private static OptionalInt asked() {
    try {
      Process process =
          new ProcessBuilder("stty", "size")
              .redirectInput(ProcessBuilder.Redirect.INHERIT)
              .redirectError(ProcessBuilder.Redirect.DISCARD)
              .start();
      if (!process.waitFor(MOST_MILLISECONDS, TimeUnit.MILLISECONDS)) {
        process.destroy();
        return OptionalInt.empty();
      }
      String answer =
          new String(process.getInputStream().readAllBytes(), StandardCharsets.US_ASCII);
      Matcher size = ROWS_AND_COLUMNS.matcher(answer);
      return size.matches() ? number(size.group(1)) : OptionalInt.empty();
    } catch (IOException noSuchProgram) {
      return OptionalInt.empty();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return OptionalInt.empty();
    }
  }
}
