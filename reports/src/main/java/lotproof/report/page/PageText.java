package lotproof.report.page;

import java.util.Locale;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.text.SanitizedText;

/** Words and anchors for the page's templates. Escaping is theirs; nothing here returns markup. */
public final class PageText {
  private PageText() {}

  /** Where on the page a number rests; empty where it is not on the page. */
  public static String anchor(Report report, String evidence) {
    if (evidence.isEmpty() || !report.has(evidence)) {
      return "";
    }
    boolean section = report.allSections().stream().anyMatch(part -> part.id().equals(evidence));
    return section ? "#part-" + evidence : "#" + evidence;
  }

  /** Plain key of a constant, for a style. */
  public static String key(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }

  /** Where all rows of a table are. */
  public static String file(String id) {
    return "tables/" + id + ".csv and the workbook";
  }

  /** A share as a width of a bar that ends at one and a half. */
  public static String width(double fraction) {
    return Math.round(100 * Math.min(1.5, fraction) / 1.5) + "%";
  }

  /** The first letters of a hash. */
  public static String start(String hash) {
    String clean = SanitizedText.clean(hash);
    return clean.substring(0, Math.min(8, clean.length()));
  }

  /** A share in print. */
  public static String percent(double fraction) {
    return Quantity.percent(fraction, 0).toString();
  }
}
