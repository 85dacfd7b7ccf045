package lotproof.gather.capture;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Counts lines that hold no sample, and keeps the first of each kind to be shown. */
public final class SkippedLines {
  private static final int SHOWN = 5;
  private static final int SHOWN_LENGTH = 40;

  private final Map<Kind, List<Example>> examples = new EnumMap<>(Kind.class);
  private final Map<Kind, Long> counts = new EnumMap<>(Kind.class);

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

  /**
   * Lines skipped for one reason.
   *
   * @param kind the reason
   * @param count how many
   * @param first the first of them
   */
  public record Skipped(Kind kind, long count, List<Example> first) {
    public Skipped {
      first = List.copyOf(first);
    }
  }

  void add(Kind kind, long line, CharSequence text) {
    counts.merge(kind, 1L, Long::sum);
    List<Example> kept = examples.computeIfAbsent(kind, k -> new ArrayList<>());
    if (kept.size() < SHOWN) {
      String start = text.subSequence(0, Math.min(text.length(), SHOWN_LENGTH)).toString();
      kept.add(new Example(line, start.replaceAll("[^\\x20-\\x7e]", "?")));
    }
  }

  /** How many lines were skipped for a reason. */
  long count(Kind kind) {
    return counts.getOrDefault(kind, 0L);
  }

  /** All of them by reason. */
  List<Skipped> all() {
    return counts.entrySet().stream()
        .map(
            e ->
                new Skipped(e.getKey(), e.getValue(), examples.getOrDefault(e.getKey(), List.of())))
        .toList();
  }
}
