package lotproof.report.chart;

import java.awt.geom.Rectangle2D;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.XYPlot;

/**
 * Where the values of a chart lie on its drawing: all axes are straight scales, of logarithms to
 * base ten where the axis is logarithmic, so that four edges and the values there say everything. A
 * reader's place can be turned into values, and back.
 *
 * @param left edge of the plot in drawing units
 * @param top edge of the plot in drawing units
 * @param right edge of the plot in drawing units
 * @param bottom edge of the plot in drawing units
 * @param atLeft value of the horizontal axis at the left edge
 * @param atRight value of the horizontal axis at the right edge
 * @param atBottom value of the vertical axis at the bottom edge
 * @param atTop value of the vertical axis at the top edge
 */
record ChartFrame(
    double left,
    double top,
    double right,
    double bottom,
    double atLeft,
    double atRight,
    double atBottom,
    double atTop) {

  static ChartFrame of(XYPlot plot, Rectangle2D area) {
    ValueAxis across = plot.getDomainAxis();
    ValueAxis up = plot.getRangeAxis();
    return new ChartFrame(
        area.getMinX(),
        area.getMinY(),
        area.getMaxX(),
        area.getMaxY(),
        first(across),
        last(across),
        first(up),
        last(up));
  }

  private static double first(ValueAxis axis) {
    return place(axis, axis.isInverted() ? axis.getUpperBound() : axis.getLowerBound());
  }

  private static double last(ValueAxis axis) {
    return place(axis, axis.isInverted() ? axis.getLowerBound() : axis.getUpperBound());
  }

  private static double place(ValueAxis axis, double value) {
    return axis instanceof LogAxis ? Math.log10(value) : value;
  }

  /** The edges and their values, parted by blanks, in the order of the components. */
  String text() {
    return String.join(
        " ",
        ChartDrawing.coordinate(left),
        ChartDrawing.coordinate(top),
        ChartDrawing.coordinate(right),
        ChartDrawing.coordinate(bottom),
        Double.toString(atLeft),
        Double.toString(atRight),
        Double.toString(atBottom),
        Double.toString(atTop));
  }
}
