package lotproof.gather.capture;

import java.util.List;
import java.util.Locale;

/**
 * Lines of a capture that hold no sample, for one reason.
 *
 * @param kind the reason
 * @param count how many
 * @param first the first of them
 */
public record SkippedLines(Kind kind, long count, List<Example> first) {
  public SkippedLines {
    first = List.copyOf(first);
  }

  /** Why a line holds no sample. */
  public enum Kind {
    /** Before the first sample. */
    BANNER,
    /** Starts with a comment mark. */
    COMMENT,
    /** Neither a sample nor a comment, among samples. */
    GARBAGE,
    /** Too few columns, or the first line cut off. */
    TRUNCATED,
    /** A sample in the last line, which has no line end: its last digits may be missing. */
    UNFINISHED;

    /** The word for it. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * A skipped line.
   *
   * @param line counted from 1
   * @param start how it starts, without control characters
   */
  public record Example(long line, String start) {}
}
