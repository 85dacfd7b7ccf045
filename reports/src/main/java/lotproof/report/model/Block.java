package lotproof.report.model;

/** Something that stands on its own line in a report. */
public sealed interface Block
    permits Block.Paragraph, Block.Callout, Chart, Table, ExplanationTree {

  /** Plain id by which files, anchors and sheets are named; empty for running text. */
  default String id() {
    return "";
  }

  /** Running text. */
  record Paragraph(Prose text) implements Block {}

  /** What a callout is. */
  enum CalloutKind {
    /** A reader could be misled or harmed. */
    CAUTION,
    /** Something was found that matters. */
    FINDING;

    /** The word before its text. */
    public String word() {
      return this == CAUTION ? "Caution" : "Found";
    }
  }

  /** Text that must not be overlooked. */
  record Callout(CalloutKind kind, Prose text) implements Block {}

  /** Running text; see {@link Prose#of}. */
  static Block paragraph(String pattern, Object... parts) {
    return new Paragraph(Prose.of(pattern, parts));
  }

  /** Something that was found; see {@link Prose#of}. */
  static Block finding(String pattern, Object... parts) {
    return new Callout(CalloutKind.FINDING, Prose.of(pattern, parts));
  }

  /** What could mislead or harm a reader; see {@link Prose#of}. */
  static Block caution(String pattern, Object... parts) {
    return new Callout(CalloutKind.CAUTION, Prose.of(pattern, parts));
  }
}
