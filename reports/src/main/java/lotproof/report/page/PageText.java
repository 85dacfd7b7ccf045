package lotproof.report.page;

import java.util.List;
import java.util.Locale;
import lotproof.report.model.Block.CalloutKind;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.ExplanationTree.Place;
import lotproof.report.model.Headline;
import lotproof.report.model.Identity;
import lotproof.report.model.Quantity;
import lotproof.report.model.Report;
import lotproof.report.model.Span;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.CellText;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;
import lotproof.report.text.ProseText;

/** Words and numbers for the page's templates. Escaping is theirs; nothing here returns markup. */
public final class PageText {
  private static final int MOST_ROWS = 3000;
  private static final int MOST_CHART_NUMBERS = 400;

  private PageText() {}

  /** Outside text without what no page should carry. */
  public static String clean(String text) {
    return OutsideText.clean(text);
  }

  /** A piece of a sentence. */
  public static String span(Span span) {
    return span instanceof Quantity quantity
        ? NumberText.of(quantity)
        : OutsideText.clean(((Span.Words) span).text());
  }

  /** A number with its unit. */
  public static String quantity(Quantity quantity) {
    return NumberText.of(quantity);
  }

  /** The figure in print. */
  public static String figure(Headline.KeyFigure figure) {
    return ProseText.of(figure);
  }

  /** What the figure is, or why there is none. */
  public static String of(Headline.KeyFigure figure) {
    if (figure instanceof Headline.NotSupported none) {
      return clean(none.of() + ": " + none.reason());
    }
    return clean(figure.of());
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

  /** The values of a chart's marks, for the page's script. */
  public static String values(Chart chart) {
    return ChartJson.of(chart);
  }

  /** The question of the study; its title where no question was written. */
  public static String question(Identity identity) {
    return clean(identity.question().isBlank() ? identity.title() : identity.question());
  }

  /** Heading over the things to know. */
  public static String thingsToKnow(Headline headline) {
    return switch (headline.thingsToKnow().size()) {
      case 1 -> "One thing to know";
      case 2 -> "Two things to know";
      case 3 -> "Three things to know";
      default -> "Things to know";
    };
  }

  /** Plain key of a constant, for a style. */
  public static String key(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }

  /** What a callout is, in words. */
  public static String word(CalloutKind kind) {
    return kind == CalloutKind.CAUTION ? "Caution" : "Found";
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

  /** Why there is nothing. */
  public static String missing(Cell.Missing missing) {
    return missing.reason().isBlank() ? "none" : clean(missing.reason());
  }

  /** A number, rounded as its column asks. */
  public static String number(Cell cell, Column column) {
    return CellText.of(cell, column);
  }

  /** A number at full precision, to sort by. */
  public static String exact(Cell cell) {
    return NumberText.exact(cell.number().orElseThrow());
  }

  /** Words in a cell. */
  public static String words(Cell cell) {
    if (cell instanceof Cell.Text text) {
      return clean(text.text());
    }
    throw new IllegalArgumentException("no words in " + cell);
  }

  /** A place in a file. */
  public static String place(Place place) {
    return clean(place.file()) + ", row " + place.row();
  }
}
