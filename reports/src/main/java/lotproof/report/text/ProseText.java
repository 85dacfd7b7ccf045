package lotproof.report.text;

import lotproof.report.model.Headline;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Span;

/** Sentences with their numbers rounded. */
public final class ProseText {
  private ProseText() {}

  /** The sentences, plain. */
  public static String of(Prose prose) {
    StringBuilder text = new StringBuilder();
    for (Span span : prose.spans()) {
      text.append(
          span instanceof Quantity quantity
              ? NumberText.of(quantity)
              : OutsideText.clean(((Span.Words) span).text()));
    }
    return text.toString();
  }

  /** The figure in print, such as ±50 g, or the words for its absence. */
  public static String of(Headline.KeyFigure figure) {
    if (figure instanceof Headline.Supported supported) {
      return OutsideText.clean(supported.sign()) + NumberText.of(supported.amount());
    }
    return "no figure";
  }
}
