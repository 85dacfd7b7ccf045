package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.plain;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lotproof.claim.StudyResult;
import lotproof.gather.capture.ShownUnit;
import lotproof.reduce.capture.CaptureSamples;
import lotproof.reduce.capture.SeriesStability;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.statistics.stability.StabilityCurve;
import lotproof.study.KeptSeries;

/** How far averaging helps, from long captures that the study keeps. */
final class StabilitySection {
  private static final int DIGITS = 3;

  private final ShownUnit grams;

  private StabilitySection(StudyResult result) {
    this.grams = ShownUnit.ofKit(result.study().kit(), "g").orElseThrow();
  }

  static Section of(StudyResult result) {
    return new StabilitySection(result).section(result.series());
  }

  private Section section(List<SeriesStability> all) {
    List<Block> blocks = new ArrayList<>();
    for (int i = 0; i < all.size(); i++) {
      if (all.get(i) instanceof SeriesStability.Known known) {
        blocks.add(new Block.Paragraph(sentence(known)));
        blocks.add(
            NoiseCharts.stability(
                "stability-" + (i + 1),
                "How long does averaging help on " + kit(known.series()) + "?",
                known.curve(),
                grams,
                known.secondsPerSample().isPresent()));
      }
    }
    blocks.add(
        all.isEmpty()
            ? Block.paragraph(
                "Not known: the study keeps no long capture. Record ten minutes of one kit at rest"
                    + " under one load, every sample, and take the file in with lotproof import"
                    + " --series; the stability curve then stands here.")
            : table(all));
    return new Section("stability", "How long does averaging help?", Prose.none(), blocks);
  }

  private static String kit(KeptSeries series) {
    return series.cell() + " with " + series.board();
  }

  private Prose sentence(SeriesStability.Known known) {
    StabilityCurve.Point best = known.curve().shortestNearMinimum();
    boolean timed = known.secondsPerSample().isPresent();
    boolean longest = best.equals(known.curve().points().get(known.curve().points().size() - 1));
    return Prose.of(
        "{} under {} kg: single samples scatter by {}; averages over {} by {}"
            + (longest ? ", and longer ones were not tried." : ", no gain beyond."),
        kit(known.series()),
        plain(known.series().loadKilograms()),
        Quantity.significant(grams.of(known.noiseCounts()), "g", DIGITS),
        timed
            ? Quantity.significant(best.seconds(), "s", DIGITS)
            : Quantity.significant(best.factor(), "samples", DIGITS),
        Quantity.significant(grams.of(best.deviation()), "g", DIGITS));
  }

  private Table table(List<SeriesStability> all) {
    return new TableBuilder<SeriesStability>("series", "Long captures that the study keeps")
        .note(
            "Grams by the default factor. Average is the shortest whose Allan deviation cannot"
                + " be told from the smallest one: its {} interval reaches down to it. Each"
                + " line speaks of its own kit at its own load. These captures give no reading"
                + " and move no figure.",
            Quantity.percent(CaptureSamples.CONFIDENCE, 0))
        .add("Cell", SERIAL, s -> s.series().cell())
        .add("Board", SERIAL, s -> s.series().board())
        .add("Load [kg]", significant(4), s -> s.series().loadKilograms())
        .add("Samples", COUNT, s -> known(s, k -> k.samples()))
        .missing("no clock")
        .add(
            "Rate [1/s]",
            significant(4),
            s -> known(s, k -> timed(k, 1 / k.secondsPerSample().orElse(1))))
        .add("One sample [g]", significant(DIGITS), s -> known(s, k -> grams.of(k.noiseCounts())))
        .add("Average of", COUNT, s -> known(s, k -> best(k).factor()))
        .add(
            "Average for [s]", significant(DIGITS), s -> known(s, k -> timed(k, best(k).seconds())))
        .add(
            "Noise left [g]",
            significant(DIGITS),
            s -> known(s, k -> grams.of(best(k).deviation())))
        .add(
            "Signs of trouble",
            TEXT,
            s ->
                s instanceof SeriesStability.Known is
                    ? is.signs().isEmpty() ? "none" : String.join("; ", is.signs())
                    : ((SeriesStability.NotKnown) s).why())
        .add("File", PLACE, s -> s.series().file())
        .of(all);
  }

  private static Object known(
      SeriesStability series, Function<SeriesStability.Known, Object> value) {
    return series instanceof SeriesStability.Known known
        ? value.apply(known)
        : Cell.missing("not known");
  }

  private static StabilityCurve.Point best(SeriesStability.Known known) {
    return known.curve().shortestNearMinimum();
  }

  private static Optional<Double> timed(SeriesStability.Known known, double value) {
    return known.secondsPerSample().isPresent() ? Optional.of(value) : Optional.empty();
  }
}
