package lotproof.report.chart;

import java.math.BigDecimal;
import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.util.List;
import java.util.Locale;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Scale;
import lotproof.report.text.SanitizedText;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTickUnit;
import org.jfree.chart.axis.SymbolAxis;
import org.jfree.chart.axis.TickUnits;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.data.Range;

/** Axes of all kinds, labelled the same in every country. */
final class ChartAxes {
  static final float TEXT_SIZE = 12f;

  private static final double MARGIN = 0.06;

  /** Steps from 1e-9 to 5e9 are written out. */
  private static final int PLAIN_DECADE = 9;

  private static final TickUnits TICKS = ticks();

  private ChartAxes() {}

  /** Steps of 1, 2 and 5 in every decade. */
  private static TickUnits ticks() {
    TickUnits units = new TickUnits();
    for (int decade = -PLAIN_DECADE; decade <= PLAIN_DECADE; decade++) {
      DecimalFormat format = format("0." + "0".repeat(Math.max(0, -decade)));
      format.setNegativePrefix("\u2212");
      format.setDecimalSeparatorAlwaysShown(false);
      for (int step : new int[] {1, 2, 5}) {
        units.add(new NumberTickUnit(BigDecimal.valueOf(step, -decade).doubleValue(), format));
      }
    }
    return units;
  }

  /**
   * A horizontal axis.
   *
   * @param values everything that it has to show
   */
  static ValueAxis across(Axis axis, List<Double> values) {
    if (axis.ofWords()) {
      int letters = axis.words().stream().mapToInt(String::length).sum();
      boolean upright = letters > 80;
      SymbolAxis names = words(axis, upright ? 36 : 14, 22);
      names.setVerticalTickLabels(upright);
      return names;
    }
    return numbers(axis, values);
  }

  static ValueAxis up(Axis axis, List<Double> values) {
    if (axis.ofWords()) {
      SymbolAxis names = words(axis, 14, 36);
      names.setInverted(true);
      names.setLabel(null);
      return names;
    }
    return numbers(axis, values);
  }

  private static ValueAxis numbers(Axis axis, List<Double> values) {
    if (axis.scale() == Scale.LOGARITHMIC) {
      return logarithms(axis, values);
    }
    Range range = rangeOf(axis.scale(), values);
    NumberAxis numbers = new NumberAxis(SanitizedText.clean(axis.label()));
    if (everyday(range)) {
      numbers.setStandardTickUnits(TICKS);
    } else {
      numbers.setTickUnit(new NumberTickUnit(range.getLength() / 4, format("0.0E0")), false, true);
    }
    if (axis.scale() == Scale.FRACTION) {
      numbers.setNumberFormatOverride(format("0.#\u202F%"));
    }
    numbers.setAutoRangeIncludesZero(false);
    numbers.setRange(range);
    return styled(numbers);
  }

  /** Words of at most so many letters; when there are too many, only every so many is written. */
  private static SymbolAxis words(Axis axis, int room, int letters) {
    String[] labels =
        axis.words().stream()
            .map(word -> SanitizedText.abridged(word, letters))
            .toArray(String[]::new);
    SymbolAxis names = new SymbolAxis(SanitizedText.clean(axis.title()), labels);
    names.setRange(-0.5, Math.max(labels.length, 1) - 0.5);
    names.setGridBandsVisible(false);
    int each = Math.max(1, (int) Math.ceil(labels.length / (double) room));
    names.setTickUnit(new NumberTickUnit(each), false, true);
    return styled(names);
  }

  private static LogAxis logarithms(Axis axis, List<Double> values) {
    double from = Math.pow(10, Math.floor(Math.log10(least(values, 1))));
    double to = Math.pow(10, Math.ceil(Math.log10(greatest(values, 10))));
    LogAxis numbers = new LogAxis(SanitizedText.clean(axis.label()));
    // a hair of room, so that the marks at both ends are drawn
    numbers.setRange(from * (1 - 1e-9), (to > from ? to : 10 * from) * (1 + 1e-9));
    numbers.setTickUnit(new NumberTickUnit(1), false, true);
    numbers.setMinorTickCount(9);
    numbers.setNumberFormatOverride(format(from < 1e-3 || to > 1e6 ? "0E0" : "0.###"));
    return styled(numbers);
  }

  private static <A extends ValueAxis> A styled(A axis) {
    axis.setLabelFont(ChartStyle.plain(TEXT_SIZE));
    axis.setTickLabelFont(ChartStyle.plain(TEXT_SIZE));
    axis.setLabelPaint(ChartStyle.TEXT);
    axis.setTickLabelPaint(ChartStyle.TEXT);
    axis.setAxisLinePaint(ChartStyle.QUIET);
    axis.setTickMarkPaint(ChartStyle.QUIET);
    return axis;
  }

  private static Range rangeOf(Scale scale, List<Double> values) {
    double high = greatest(values, 1);
    return switch (scale) {
      case EXACT -> least(values, 0) < high ? new Range(least(values, 0), high) : range(values);
      case FROM_ZERO -> {
        double length = high > 0 ? high * (1 + 2 * MARGIN) : 1;
        yield new Range(-length * MARGIN / 4, length);
      }
      case FRACTION -> new Range(least(values, 0) < 0.5 ? 0 : 0.5, 1.005);
      default -> range(values);
    };
  }

  /** Values with some room around them; both ends are moved apart when they are equal. */
  static Range range(List<Double> values) {
    double low = least(values, 0);
    double high = greatest(values, 1);
    double room = (high - low) * MARGIN;
    if (!(room > 0) || !Double.isFinite(room)) {
      room = Math.max(Math.abs(high) * MARGIN, Double.MIN_NORMAL * 1e6);
    }
    double from = low - room;
    double to = high + room;
    boolean wide = to - from > Math.ulp(Math.max(Math.abs(low), Math.abs(high))) * 1e3;
    return wide ? new Range(from, to) : new Range(low - 1, high + 1);
  }

  private static double least(List<Double> values, double otherwise) {
    return values.stream().mapToDouble(v -> v).min().orElse(otherwise);
  }

  private static double greatest(List<Double> values, double otherwise) {
    return values.stream().mapToDouble(v -> v).max().orElse(otherwise);
  }

  private static boolean everyday(Range range) {
    double largest = Math.max(Math.abs(range.getLowerBound()), Math.abs(range.getUpperBound()));
    double decade = Math.pow(10, PLAIN_DECADE);
    return largest < 1e6 * range.getLength() && largest < decade && largest > 10 / decade;
  }

  private static DecimalFormat format(String pattern) {
    return new DecimalFormat(pattern, DecimalFormatSymbols.getInstance(Locale.ROOT));
  }
}
