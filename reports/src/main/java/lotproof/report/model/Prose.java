package lotproof.report.model;

/**
 * Sentences.
 *
 * @param text words as they are. Never markup: writers escape them
 * @param evidence id of the section, table, chart or explanation that the sentences rest on; empty
 *     where none is named
 */
public record Prose(String text, String evidence) {
  /** The same sentences, resting on the section, table, chart or explanation of that id. */
  public Prose restingOn(String id) {
    return new Prose(text, id);
  }

  /** Nothing to say. */
  public static Prose none() {
    return text("");
  }

  /** Words alone; braces are not special. */
  public static Prose text(String words) {
    return new Prose(words, "");
  }

  /**
   * Sentences with slots.
   *
   * @param pattern words of our own; each {@code {}} is taken by the next part. Outside text goes
   *     in as a part, never into the pattern
   * @param parts a {@link Quantity}, words or a whole number for each slot, in order
   */
  public static Prose of(String pattern, Object... parts) {
    String[] words = pattern.split("\\{}", -1);
    if (words.length != parts.length + 1) {
      throw new IllegalArgumentException(parts.length + " parts for the slots of: " + pattern);
    }
    StringBuilder text = new StringBuilder(words[0]);
    for (int i = 0; i < parts.length; i++) {
      text.append(parts[i]).append(words[i + 1]);
    }
    return text(text.toString());
  }

  /** Whether there is nothing to say. */
  public boolean isEmpty() {
    return text.isEmpty();
  }
}
