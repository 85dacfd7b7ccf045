package lotproof.gather.tables;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** A mark between columns of a text file. */
public enum Separator {
  COMMA(','),
  SEMICOLON(';'),
  TAB('\t'),
  BAR('|'),
  SPACE(' ');

  private final char mark;

  Separator(char mark) {
    this.mark = mark;
  }

  /** The mark itself. */
  public char mark() {
    return mark;
  }

  /** The word for it in settings and messages. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The separator that is called so. */
  public static Optional<Separator> ofWord(String word) {
    return Arrays.stream(values()).filter(s -> s.word().equals(word)).findFirst();
  }

  /** The separator that is this mark. */
  public static Optional<Separator> ofMark(char mark) {
    return Arrays.stream(values()).filter(s -> s.mark == mark).findFirst();
  }
}
