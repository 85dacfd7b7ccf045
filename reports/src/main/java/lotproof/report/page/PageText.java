package lotproof.report.page;

import java.util.List;
import java.util.Locale;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.Headline;
import lotproof.report.model.Identity;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.text.SanitizedText;

/** Words and anchors for the page's templates. Escaping is theirs; nothing here returns markup. */
public final class PageText {
  private static final int MOST_ROWS = 3000;
  private static final int MOST_CHART_NUMBERS = 400;

  private PageText() {}

  /** What the figure is, or why there is none. */
  public static String meaning(Headline.KeyFigure figure) {
    return SanitizedText.clean(
        figure instanceof Headline.NotSupported none
            ? none.of() + ": " + none.reason()
            : figure.of());
  }

  /** Where on the page a number rests; empty where it is not on the page. */
  public static String anchor(Report report, String evidence) {
    if (evidence.isEmpty() || !report.has(evidence)) {
      return "";
    }
    boolean section = report.sections().stream().anyMatch(part -> part.id().equals(evidence));
    return section ? "#part-" + evidence : "#" + evidence;
  }

  /** Where on the page the figure is explained; empty where it is not. */
  public static String anchor(Report report, Headline.KeyFigure figure) {
    return figure instanceof Headline.Supported supported
        ? anchor(report, supported.evidence())
        : "";
  }

  /** The question of the study; its title where no question was written. */
  public static String question(Identity identity) {
    return SanitizedText.clean(
        identity.question().isBlank() ? identity.title() : identity.question());
  }

  /** Plain key of a constant, for a style. */
  public static String key(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }

  /** How many rows. */
  public static String rows(Table table) {
    int rows = table.rows().size();
    return rows == 1 ? "1 row" : rows + " rows";
  }

  /** Rows that the page shows. */
  public static List<Table.Row> shownRows(Table table) {
    return table.rows().subList(0, Math.min(MOST_ROWS, table.rows().size()));
  }

  /** Whether the page shows the numbers behind a chart itself. */
  public static boolean showsNumbers(Chart chart) {
    return ChartTable.of(chart).rows().size() <= MOST_CHART_NUMBERS;
  }
}
