package lotproof.report.chart;

import java.awt.geom.Rectangle2D;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.XYPlot;

/**
 * Where the values of a chart lie on its drawing: all axes are straight scales, so that four edges
 * and the values there say everything. A reader's place can be turned into values, and back.
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
        across.isInverted() ? across.getUpperBound() : across.getLowerBound(),
        across.isInverted() ? across.getLowerBound() : across.getUpperBound(),
        up.isInverted() ? up.getUpperBound() : up.getLowerBound(),
        up.isInverted() ? up.getLowerBound() : up.getUpperBound());
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
