package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;

/**
 * Sentences whose numbers are still numbers, so that they are rounded where they are written.
 *
 * @param spans words and quantities in reading order
 * @param evidence id of the section, table, chart or explanation that the sentences rest on; empty
 *     where none is named
 */
public record Prose(List<Span> spans, String evidence) {
  private static final String SLOT = "{}";

  /** A piece of a sentence. */
  public sealed interface Span permits Words, Quantity {}

  /** Words as they are. Never markup: writers escape them. */
  public record Words(String text) implements Span {}

  public Prose {
    spans = List.copyOf(spans);
  }

  /** The same sentences, resting on the section, table, chart or explanation of that id. */
  public Prose restingOn(String id) {
    return new Prose(spans, id);
  }

  /** Nothing to say. */
  public static Prose none() {
    return new Prose(List.of(), "");
  }

  /** Words alone; braces are not special. */
  public static Prose text(String words) {
    return words.isEmpty() ? none() : new Prose(List.of(new Words(words)), "");
  }

  /**
   * Sentences with slots.
   *
   * @param pattern words of our own; each {@code {}} is taken by the next part. Outside text goes
   *     in as a part, never into the pattern
   * @param parts a {@link Quantity}, words or a whole number for each slot, in order
   */
  public static Prose of(String pattern, Object... parts) {
    List<Span> spans = new ArrayList<>();
    int from = 0;
    for (Object part : parts) {
      int at = pattern.indexOf(SLOT, from);
      if (at < 0) {
        throw new IllegalArgumentException("more parts than slots: " + pattern);
      }
      if (at > from) {
        spans.add(new Words(pattern.substring(from, at)));
      }
      spans.add(part instanceof Span span ? span : new Words(part.toString()));
      from = at + SLOT.length();
    }
    if (pattern.indexOf(SLOT, from) >= 0) {
      throw new IllegalArgumentException("more slots than parts: " + pattern);
    }
    if (from < pattern.length()) {
      spans.add(new Words(pattern.substring(from)));
    }
    return new Prose(spans, "");
  }

  /** Whether there is nothing to say. */
  public boolean isEmpty() {
    return spans.isEmpty();
  }
}
