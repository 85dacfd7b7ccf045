package lotproof.report.model;

import java.util.Optional;

/** Something that stands on its own line in a report. */
public sealed interface Block
    permits Block.Paragraph, Block.Callout, Block.ChartBlock, Table, ExplanationTree {

  /** Plain id by which files, anchors and sheets are named; empty for running text. */
  Optional<String> id();

  /**
   * Running text.
   *
   * @param text the text
   */
  record Paragraph(Prose text) implements Block {
    @Override
    public Optional<String> id() {
      return Optional.empty();
    }
  }

  /** What a callout is. */
  enum CalloutKind {
    /** A reader could be misled or harmed. */
    CAUTION,
    /** Something was found that matters. */
    FINDING
  }

  /**
   * Text that must not be overlooked.
   *
   * @param kind what sort
   * @param text the text
   */
  record Callout(CalloutKind kind, Prose text) implements Block {
    @Override
    public Optional<String> id() {
      return Optional.empty();
    }
  }

  /**
   * A chart.
   *
   * @param chart the data of the chart
   */
  record ChartBlock(Chart chart) implements Block {
    @Override
    public Optional<String> id() {
      return Optional.of(chart.caption().id());
    }
  }

  /** Running text; see {@link Prose#of}. */
  static Block paragraph(String pattern, Object... parts) {
    return new Paragraph(Prose.of(pattern, parts));
  }

  /** Something that was found; see {@link Prose#of}. */
  static Block finding(String pattern, Object... parts) {
    return new Callout(CalloutKind.FINDING, Prose.of(pattern, parts));
  }

  /** What could mislead or harm a reader. */
  static Block caution(String words) {
    return new Callout(CalloutKind.CAUTION, Prose.text(words));
  }
}
