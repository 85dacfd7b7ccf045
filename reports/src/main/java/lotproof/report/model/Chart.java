package lotproof.report.model;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** A chart as data. Writers draw it; none of them computes anything from it. */
public sealed interface Chart {

  /** What the chart asks and what it shows. */
  Caption caption();

  /**
   * What a chart asks and what it shows.
   *
   * @param id plain id, unique in the report
   * @param question the question that the chart answers, in words; its title
   * @param answer what it shows, in words, for those who cannot see it
   */
  record Caption(String id, String question, String answer) {
    public Caption {
      Check.id(id, "chart id");
      Check.text(question, "chart question");
      Check.text(answer, "chart answer");
    }
  }

  /**
   * An axis.
   *
   * @param title what it measures
   * @param unit unit; empty for pure numbers
   */
  record Axis(String title, String unit) {
    public Axis {
      Check.text(title, "axis title");
    }

    /** Title with its unit. */
    public String label() {
      return unit.isEmpty() ? title : title + " [" + unit + "]";
    }
  }

  /**
   * A point.
   *
   * @param x finite
   * @param y finite
   */
  record Point(double x, double y) {
    public Point {
      Check.finite(x, "x");
      Check.finite(y, "y");
    }
  }

  /**
   * An interval.
   *
   * @param lower lower end, finite
   * @param upper upper end, not below the lower
   */
  record Interval(double lower, double upper) {
    public Interval {
      Check.finite(lower, "lower end");
      Check.finite(upper, "upper end");
      if (!(lower <= upper)) {
        throw new IllegalArgumentException("lower end " + lower + " is above upper " + upper);
      }
    }
  }

  /**
   * A line across a chart at one value.
   *
   * @param label what it marks
   * @param value where
   */
  record Mark(String label, double value) {
    public Mark {
      Check.text(label, "label of a mark");
      Check.finite(value, "value of a mark");
    }
  }

  /**
   * Error over load, a curve for each kit, with the band of the claim.
   *
   * @param caption what it asks and shows
   * @param load horizontal axis
   * @param error vertical axis
   * @param curves one for each kit or run
   * @param band the claim over load, from the least to the greatest load; may be empty
   * @param bandLabel what the band is; may be empty
   */
  record ErrorCurves(
      Caption caption,
      Axis load,
      Axis error,
      List<Curve> curves,
      List<BandPoint> band,
      String bandLabel)
      implements Chart {
    public ErrorCurves {
      curves = List.copyOf(curves);
      band = List.copyOf(band);
    }
  }

  /**
   * A curve.
   *
   * @param name what it belongs to
   * @param points in the order they are joined
   * @param emphasised whether it is to stand out, such as the kit that sets the figure
   */
  record Curve(String name, List<Point> points, boolean emphasised) {
    public Curve {
      points = List.copyOf(points);
    }
  }

  /**
   * A band at one place of the horizontal axis.
   *
   * @param x where
   * @param extent from where to where
   */
  record BandPoint(double x, Interval extent) {
    public BandPoint {
      Check.finite(x, "x");
    }
  }

  /**
   * The units of each lot, one dot for each.
   *
   * @param caption what it asks and shows
   * @param value vertical axis
   * @param lots lots in study order
   * @param limits lines such as specification or tolerance limits
   */
  record UnitSpread(Caption caption, Axis value, List<LotValues> lots, List<Mark> limits)
      implements Chart {
    public UnitSpread {
      lots = List.copyOf(lots);
      limits = List.copyOf(limits);
      Check.distinct(lots.stream().map(LotValues::lot).toList(), "lots");
    }
  }

  /**
   * The units of a lot.
   *
   * @param lot its name
   * @param units its units
   */
  record LotValues(String lot, List<UnitValue> units) {
    public LotValues {
      units = List.copyOf(units);
    }
  }

  /**
   * A unit's value.
   *
   * @param serial its serial
   * @param value its value
   * @param excluded whether a person has excluded it; it is still drawn
   */
  record UnitValue(String serial, double value, boolean excluded) {
    public UnitValue {
      Check.finite(value, "value of " + serial);
    }
  }

  /**
   * How much each component contributes, with its interval.
   *
   * @param caption what it asks and shows
   * @param value horizontal axis, such as standard deviation
   * @param shares components, in the order they are shown
   */
  record VariationShares(Caption caption, Axis value, List<Share> shares) implements Chart {
    public VariationShares {
      shares = List.copyOf(shares);
      Check.distinct(shares.stream().map(Share::component).toList(), "components");
    }
  }

  /**
   * A component.
   *
   * @param component its name
   * @param value its estimate
   * @param interval its interval, if there is one
   * @param atBoundary whether the estimate is 0 because it could not be told from nothing
   */
  record Share(String component, double value, Optional<Interval> interval, boolean atBoundary) {
    public Share {
      Check.finite(value, "value of " + component);
    }
  }

  /**
   * The figure at each calibration level.
   *
   * @param caption what it asks and shows
   * @param figure horizontal axis
   * @param style how figures are rounded where they are written beside the marks
   * @param levels levels in the order of what the buyer does
   */
  record LevelFigures(Caption caption, Axis figure, NumberStyle style, List<LevelFigure> levels)
      implements Chart {
    public LevelFigures {
      levels = List.copyOf(levels);
      Check.distinct(levels.stream().map(LevelFigure::level).toList(), "levels");
    }
  }

  /**
   * The figure at one calibration level.
   *
   * @param level the level in words
   * @param safest smallest figure that the study supports, if it supports one
   * @param withoutExclusions the same with every excluded unit put back, if there is one
   * @param wanted the figure that someone would like to print, if any
   */
  record LevelFigure(
      String level,
      OptionalDouble safest,
      OptionalDouble withoutExclusions,
      OptionalDouble wanted) {}

  /**
   * Something followed over the order of runs, such as the check standard.
   *
   * @param caption what it asks and shows
   * @param order horizontal axis
   * @param value vertical axis
   * @param series what is followed
   * @param limits lines such as the mean and limits
   */
  record RunOrder(Caption caption, Axis order, Axis value, List<Curve> series, List<Mark> limits)
      implements Chart {
    public RunOrder {
      series = List.copyOf(series);
      limits = List.copyOf(limits);
    }
  }

  /**
   * Observed values over the quantiles that a distribution would give.
   *
   * @param caption what it asks and shows
   * @param expected horizontal axis
   * @param observed vertical axis
   * @param units the units
   * @param line the straight line of the distribution, if one was fitted
   */
  record QuantilePlot(
      Caption caption,
      Axis expected,
      Axis observed,
      List<UnitQuantile> units,
      Optional<StraightLine> line)
      implements Chart {
    public QuantilePlot {
      units = List.copyOf(units);
    }
  }

  /**
   * A unit in a quantile plot.
   *
   * @param serial its serial
   * @param expected quantile of the distribution
   * @param observed its value
   */
  record UnitQuantile(String serial, double expected, double observed) {
    public UnitQuantile {
      Check.finite(expected, "expected quantile of " + serial);
      Check.finite(observed, "observed value of " + serial);
    }
  }

  /**
   * A straight line.
   *
   * @param intercept value at 0
   * @param slope rise for each 1
   */
  record StraightLine(double intercept, double slope) {
    public StraightLine {
      Check.finite(intercept, "intercept");
      Check.finite(slope, "slope");
    }
  }

  /**
   * What is left of each pair after cell and board are taken out.
   *
   * @param caption what it asks and shows
   * @param residual what the colours measure
   * @param cells serials of the cells, from left to right
   * @param boards serials of the boards, from top to bottom
   * @param pairs pairs that were measured
   */
  record ResidualMap(
      Caption caption,
      Axis residual,
      List<String> cells,
      List<String> boards,
      List<PairResidual> pairs)
      implements Chart {
    public ResidualMap {
      cells = List.copyOf(cells);
      boards = List.copyOf(boards);
      pairs = List.copyOf(pairs);
      Check.distinct(cells, "cells");
      Check.distinct(boards, "boards");
      for (PairResidual pair : pairs) {
        if (!cells.contains(pair.cell()) || !boards.contains(pair.board())) {
          throw new IllegalArgumentException(
              "pair " + pair.cell() + " on " + pair.board() + " is not on the map");
        }
      }
    }
  }

  /**
   * A pair's residual.
   *
   * @param cell serial of the cell
   * @param board serial of the board
   * @param residual what is left
   */
  record PairResidual(String cell, String board, double residual) {
    public PairResidual {
      Check.finite(residual, "residual of " + cell + " on " + board);
    }
  }

  /**
   * How sure one can be of each figure.
   *
   * @param caption what it asks and shows
   * @param figure horizontal axis
   * @param confidence vertical axis, fractions in 0..1
   * @param curves one for each calibration level
   * @param figures figures to mark, such as the wanted one
   * @param wanted confidence that was asked for, if any
   */
  record ConfidenceCurve(
      Caption caption,
      Axis figure,
      Axis confidence,
      List<Curve> curves,
      List<Mark> figures,
      Optional<Mark> wanted)
      implements Chart {
    public ConfidenceCurve {
      curves = List.copyOf(curves);
      figures = List.copyOf(figures);
    }
  }

  /**
   * Deviation of averages over averaging time, both axes logarithmic, with the band of intervals.
   *
   * @param caption what it asks and shows
   * @param time horizontal axis
   * @param deviation vertical axis
   * @param points the curve, all above 0
   * @param band intervals at the same times; may be empty
   * @param best averaging time worth marking, if any
   */
  record NoiseStability(
      Caption caption,
      Axis time,
      Axis deviation,
      List<Point> points,
      List<BandPoint> band,
      Optional<Mark> best)
      implements Chart {
    public NoiseStability {
      points = List.copyOf(points);
      band = List.copyOf(band);
      if (points.stream().anyMatch(p -> !(p.x() > 0 && p.y() > 0))) {
        throw new IllegalArgumentException("logarithmic axes need points above 0");
      }
    }
  }
}
