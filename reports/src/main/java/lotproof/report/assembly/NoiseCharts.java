package lotproof.report.assembly;

import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import lotproof.gather.capture.CaptureAnalysis;
import lotproof.gather.capture.ShownUnit;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.Trace;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.statistics.stability.StabilityCurve;

/** Charts of one capture. */
public final class NoiseCharts {
  private NoiseCharts() {}

  /**
   * All charts of a capture.
   *
   * @param id plain id that the charts' ids start with
   */
  public static List<Chart> of(String id, CaptureAnalysis capture, ShownUnit unit) {
    List<Chart> charts = new ArrayList<>();
    charts.add(trace(id, capture, unit));
    capture
        .noise()
        .stability()
        .filter(curve -> curve.points().stream().filter(p -> p.deviation() > 0).count() > 1)
        .map(
            curve ->
                stability(
                    id + "-stability",
                    "How long does averaging help in " + capture.file() + "?",
                    curve,
                    unit,
                    capture.noise().secondsPerSample().isPresent()))
        .ifPresent(charts::add);
    return charts;
  }

  private static Chart trace(String id, CaptureAnalysis capture, ShownUnit unit) {
    CaptureNoise noise = capture.noise();
    double step = noise.secondsPerSample().orElse(1);
    List<Point> points = new ArrayList<>();
    for (Trace.Part part : capture.trace()) {
      double first = part.firstSample() * step;
      points.add(new Point(first, unit.of(part.minimum())));
      if (part.samples() > 1) {
        points.add(new Point(first + part.samples() * step / 2, unit.of(part.maximum())));
      }
    }
    boolean timed = noise.secondsPerSample().isPresent();
    return new Chart(
        new Caption(
            id + "-trace",
            "What did the samples of " + capture.file() + " do over time?",
            text(
                "Smallest and largest samples of successive stretches; %d samples in all.",
                noise.all().samples())),
        new Axis(timed ? "Time" : "Sample", timed ? "s" : "", Scale.EXACT),
        new Axis("Output", unit.symbol()),
        List.of(new Series("smallest and largest of each stretch", Look.LINE, points)),
        List.of());
  }

  /**
   * The Allan deviation over averaging time.
   *
   * @param curve two or more of its deviations above 0
   * @param unit unit to show; the curve is in units of the samples
   * @param timed whether its times are seconds, not samples
   */
  static Chart stability(
      String id, String question, StabilityCurve curve, ShownUnit unit, boolean timed) {
    List<Point> points = new ArrayList<>();
    List<Point> lower = new ArrayList<>();
    List<Point> upper = new ArrayList<>();
    for (StabilityCurve.Point at : curve.points()) {
      if (at.deviation() > 0) {
        points.add(new Point(at.seconds(), unit.of(at.deviation())));
      }
      if (at.deviation() > 0 && at.interval().lower() > 0) {
        lower.add(new Point(at.seconds(), unit.of(at.interval().lower())));
        upper.add(new Point(at.seconds(), unit.of(at.interval().upper())));
      }
    }
    StabilityCurve.Point best = curve.shortestNearMinimum();
    boolean longest = best.equals(curve.points().get(curve.points().size() - 1));
    return new Chart(
        new Caption(
            id,
            question,
            text(
                "Allan deviation over averaging time, with %s %% intervals: %.3g %s for one sample,"
                    + " %.3g %s over %.3g %s; %s.",
                plain(100 * best.interval().confidence()),
                points.get(0).y(),
                unit.symbol(),
                unit.of(best.deviation()),
                unit.symbol(),
                best.seconds(),
                timed ? "s" : "samples",
                longest ? "longer was not tried" : "no gain beyond")),
        new Axis(
            timed ? "Averaging time" : "Samples averaged", timed ? "s" : "", Scale.LOGARITHMIC),
        new Axis("Allan deviation", unit.symbol(), Scale.LOGARITHMIC),
        List.of(
            new Series("Allan deviation", Look.DOTTED_LINE, points),
            new Series("interval", Look.EDGE, lower),
            new Series("interval", Look.EDGE, upper)),
        longest ? List.of() : List.of(new Mark("no gain beyond here", best.seconds(), true)));
  }
}
