package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.counted;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.claim.StudyResult;
import lotproof.gather.capture.CaptureAnalysis;
import lotproof.gather.capture.ShownUnit;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.CaptureSamples;
import lotproof.reduce.capture.SeriesStability;
import lotproof.reduce.capture.Trace;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.statistics.stability.StabilityCurve;
import lotproof.study.KeptSeries;

/** What captures show of noise and averaging, as blocks for the report and for {@code noise}. */
public final class CaptureBlocks {
  private CaptureBlocks() {}

  /** How far averaging helps, from long captures that the study keeps. */
  static Section section(StudyResult result) {
    ShownUnit grams = ShownUnit.ofKit(result.study().kit(), "g").orElseThrow();
    List<SeriesStability> all = result.series();
    List<Block> blocks = new ArrayList<>();
    for (int i = 0; i < all.size(); i++) {
      if (all.get(i) instanceof SeriesStability.Known known) {
        KeptSeries series = known.series();
        blocks.add(
            stability(
                "stability-" + (i + 1),
                text(
                    "How long does averaging help on %s with %s under %s kg?",
                    series.cell(), series.board(), plain(series.loadKilograms())),
                known.curve(),
                grams,
                known.secondsPerSample().isPresent()));
      }
    }
    blocks.add(
        all.isEmpty()
            ? Block.paragraph(
                "The study keeps no long capture. Record ten minutes of one kit at rest"
                    + " under one load, every sample, and take the file in with lotproof import"
                    + " --series; the stability curve then stands here.")
            : series(all, grams));
    return new Section(
        "stability",
        "How long averaging helps",
        Prose.text(
            all.isEmpty()
                ? "Not known: no long capture."
                : counted(all.size(), "long capture") + "."),
        blocks);
  }

  private static Table series(List<SeriesStability> all, ShownUnit grams) {
    TableBuilder<SeriesStability> table =
        new TableBuilder<SeriesStability>("series", "Long captures that the study keeps")
            .note(
                "Grams by the default factor. Average is the shortest whose Allan deviation cannot"
                    + " be told from the smallest one, with the {} interval of the noise left;"
                    + " times of which a capture holds too few averages do not count. Each line"
                    + " speaks of its own kit at its own load. These captures give no reading and"
                    + " move no figure.",
                Quantity.percent(CaptureSamples.CONFIDENCE, 0))
            .missing("not known")
            .add("Cell", SERIAL, s -> s.series().cell())
            .add("Board", SERIAL, s -> s.series().board())
            .add("Load [kg]", EXACT, s -> s.series().loadKilograms())
            .add("Samples", COUNT, s -> known(s).map(k -> k.samples()))
            .add(
                "One sample [g]",
                significant(3),
                s -> known(s).map(k -> grams.of(k.noiseCounts())));
    addAveraging(
        table,
        grams,
        s -> known(s).map(SeriesStability.Known::curve),
        s -> known(s).map(k -> k.secondsPerSample()).orElse(OptionalDouble.empty()));
    return table
        .add("Signs of trouble", TEXT, CaptureBlocks::signs)
        .add("File", PLACE, s -> s.series().file())
        .secondary()
        .of(all);
  }

  private static Optional<SeriesStability.Known> known(SeriesStability series) {
    return series instanceof SeriesStability.Known known ? Optional.of(known) : Optional.empty();
  }

  private static String signs(SeriesStability series) {
    if (series instanceof SeriesStability.Known known) {
      return known.signs().isEmpty() ? "none" : String.join("; ", known.signs());
    }
    return ((SeriesStability.NotKnown) series).why();
  }

  /**
   * Adds how far averaging helps.
   *
   * @param curve the Allan deviation of the samples of a row
   * @param step seconds from one to the next; empty without a clock
   */
  public static <T> void addAveraging(
      TableBuilder<T> table,
      ShownUnit unit,
      Function<T, Optional<StabilityCurve>> curve,
      Function<T, OptionalDouble> step) {
    Function<T, Optional<StabilityCurve.Point>> best =
        row -> curve.apply(row).map(StabilityCurve::shortestNearMinimum);
    table
        .add(
            "Rate [1/s]",
            significant(4),
            row -> step.apply(row).stream().mapToObj(s -> 1 / s).findFirst())
        .secondary()
        .add(
            "Average for [s]",
            significant(3),
            row -> best.apply(row).filter(p -> step.apply(row).isPresent()).map(p -> p.seconds()))
        .add("Average of", COUNT, row -> best.apply(row).map(p -> p.factor()))
        .add(
            "Noise left [" + unit.symbol() + "]",
            significant(3),
            row -> best.apply(row).map(p -> unit.of(p.deviation())))
        .add(
            "Lower end",
            significant(3),
            row -> best.apply(row).map(p -> unit.of(p.interval().lower())))
        .secondary()
        .add(
            "Upper end",
            significant(3),
            row -> best.apply(row).map(p -> unit.of(p.interval().upper())))
        .secondary();
  }

  /**
   * All charts of a capture.
   *
   * @param id plain id that the charts' ids start with
   */
  public static List<Chart> charts(String id, CaptureAnalysis capture, ShownUnit unit) {
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
  private static Chart stability(
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
    boolean longest = !curve.knowsBeyond(best);
    return new Chart(
        new Caption(
            id,
            question,
            text(
                "Allan deviation over averaging time, with %s %% intervals: %.3g %s for one sample,"
                    + " %.3g %s (%.3g to %.3g) over %.3g %s; %s.",
                plain(100 * best.interval().confidence()),
                points.get(0).y(),
                unit.symbol(),
                unit.of(best.deviation()),
                unit.symbol(),
                unit.of(best.interval().lower()),
                unit.of(best.interval().upper()),
                best.seconds(),
                timed ? "s" : "samples",
                longest ? "longer is not known" : "no gain beyond")),
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
