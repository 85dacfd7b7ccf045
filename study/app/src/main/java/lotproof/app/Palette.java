package lotproof.app;

import java.util.Locale;

/** Colour and columns of the place that is written to. Nothing is said by colour alone. */
final class Palette {
  /** When to use colour. */
  enum When {
    AUTO,
    ALWAYS,
    NEVER;

    @Override
    public String toString() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  private static final String RESET = "\u001B[0m";

  private final boolean on;
  private final int columns;

  private Palette(boolean on, int columns) {
    this.on = on;
    this.columns = columns;
  }

  static Palette of(When when, boolean terminal, String noColor) {
    return of(when, terminal, noColor, ScreenWidth.ELSEWHERE);
  }

  static Palette of(When when, boolean terminal, String noColor, int columns) {
    return switch (when) {
      case ALWAYS -> new Palette(true, columns);
      case NEVER -> new Palette(false, columns);
      case AUTO -> new Palette(terminal && noColor.isEmpty(), columns);
    };
  }

  /** How many columns a line may take. */
  int columns() {
    return columns;
  }

  /** Whether there is colour. */
  boolean isOn() {
    return on;
  }

  /** A heading or key figure. */
  String strong(String text) {
    return wrapped("\u001B[1m", text);
  }

  /** The answer is yes. */
  String yes(String text) {
    return wrapped("\u001B[32m", text);
  }

  /** The answer is no. */
  String no(String text) {
    return wrapped("\u001B[31m", text);
  }

  private String wrapped(String code, String text) {
    return on ? code + text + RESET : text;
  }
}
