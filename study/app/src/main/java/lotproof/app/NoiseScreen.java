package lotproof.app;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.gather.capture.CaptureAnalysis.Analysed;
import lotproof.gather.capture.ShownUnit;
import lotproof.gather.capture.SkippedLines;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.LotNoise;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.text.OutsideText;
import lotproof.statistics.stability.StabilityCurve;

/** What {@code noise} shows in a terminal. */
final class NoiseScreen {
  private static final int DIGITS = 5;
  private static final int FEW = 3;

  /** With more captures a summary stands first, and the worst are shown. */
  private static final int MANY = 40;

  private static final int SHOWN_OF_MANY = 20;

  private final PrintWriter out;
  private final Screen screen;
  private final ShownUnit unit;

  NoiseScreen(PrintWriter out, Palette palette, ShownUnit unit) {
    this.out = out;
    this.screen = new Screen(out, palette);
    this.unit = unit;
  }

  void show(List<Analysed> captures, LotNoise lot) {
    if (captures.size() <= FEW) {
      captures.forEach(this::understood);
    }
    List<Analysed> shown = captures;
    if (captures.size() > MANY) {
      screen.showIfAny(summary(captures));
      shown = worst(captures, lot);
      out.println();
      out.println(
          String.format(
              Locale.ROOT,
              "%d of %d captures have signs of trouble, %d are noisier than the others; the %d"
                  + " worst follow, noisiest first. --json lists all.",
              captures.stream().filter(c -> !c.issues().isEmpty()).count(),
              captures.size(),
              lot.excess().size(),
              shown.size()));
    }
    screen.showIfAny(numbers(shown));
    screen.showIfAny(averaging(shown));
    if (captures.size() == 1) {
      stability(captures.get(0)).ifPresent(screen::showIfAny);
    }
    screen.showIfAny(periodic(shown));
    basis(captures);
    lot(captures, lot);
    out.flush();
  }

  /**
   * Those that are noisier than the others, then those with signs, then the rest by their noise.
   */
  private static List<Analysed> worst(List<Analysed> captures, LotNoise lot) {
    Set<Integer> noisy =
        lot.excess().stream().map(LotNoise.Excess::capture).collect(Collectors.toSet());
    Comparator<Integer> first = Comparator.comparing(i -> !noisy.contains(i));
    return IntStream.range(0, captures.size())
        .boxed()
        .sorted(
            first
                .thenComparing(i -> captures.get(i).issues().isEmpty())
                .thenComparing(i -> -captures.get(i).noise().good().sd()))
        .limit(SHOWN_OF_MANY)
        .map(captures::get)
        .toList();
  }

  /** The captures together. */
  private Table summary(List<Analysed> captures) {
    String symbol = unit.symbol();
    return Screen.table(
        "summary",
        captures.size() + " captures together",
        List.of(
            Column.text("what", "What"),
            Column.significant("least", "Least", symbol, DIGITS),
            Column.significant("median", "Median", symbol, DIGITS),
            Column.significant("most", "95 % below", symbol, DIGITS),
            Column.significant("largest", "Largest", symbol, DIGITS),
            Column.text("of", "Largest of")),
        List.of(
            summary("Noise", captures, c -> c.noise().good().sd()),
            summary("Quick", captures, c -> c.noise().shortTermNoise()),
            summary("Peak to peak", captures, c -> c.noise().good().peakToPeak()),
            summary("Mean", captures, c -> c.noise().good().mean())));
  }

  private Row summary(String what, List<Analysed> captures, ToDoubleFunction<Analysed> value) {
    List<Analysed> ordered = new ArrayList<>(captures);
    ordered.sort(Comparator.comparingDouble(value));
    int last = ordered.size() - 1;
    Analysed largest = ordered.get(last);
    return Row.of(
        Cell.text(what),
        Cell.number(unit.of(value.applyAsDouble(ordered.get(0)))),
        Cell.number(unit.of(value.applyAsDouble(ordered.get(last / 2)))),
        Cell.number(unit.of(value.applyAsDouble(ordered.get((int) Math.floor(0.95 * last))))),
        Cell.number(unit.of(value.applyAsDouble(largest))),
        Cell.text(largest.file()));
  }

  private void understood(Analysed capture) {
    out.println(OutsideText.clean(capture.file() + ": " + capture.layout().words()));
    for (SkippedLines.Skipped skipped : capture.skipped()) {
      StringBuilder text = new StringBuilder("  left out: ");
      text.append(skipped.count()).append(' ').append(skipped.kind().word());
      text.append(skipped.count() == 1 ? " line" : " lines");
      for (SkippedLines.Example example : skipped.first()) {
        text.append("; line ").append(example.line()).append(" \"").append(example.start());
        text.append('"');
      }
      out.println(OutsideText.clean(text.toString()));
    }
    if (capture.clockWraps() > 0) {
      out.println("  the clock wrapped: " + capture.clockWraps());
    }
  }

  private Table numbers(List<Analysed> captures) {
    List<Row> rows = new ArrayList<>();
    for (Analysed capture : captures) {
      CaptureNoise noise = capture.noise();
      rows.add(
          Row.of(
              Cell.text(capture.file()),
              Cell.number((double) noise.all().samples()),
              Cell.number(unit.of(noise.good().mean())),
              Cell.number(unit.of(noise.good().sd())),
              Cell.number(unit.of(noise.shortTermNoise())),
              Cell.number(unit.of(noise.good().peakToPeak())),
              Cell.number(unit.of(noise.all().peakToPeak())),
              Cell.number(capture.issues().size())));
    }
    String symbol = unit.symbol();
    return new Table(
        "noise",
        "Noise",
        Table.Role.READ,
        List.of(
            Column.serial("capture", "Capture"),
            Column.count("samples", "Samples"),
            Column.significant("mean", "Mean", symbol, 8),
            Column.significant("rms", "Noise", symbol, DIGITS),
            Column.significant("quick", "Quick", symbol, DIGITS),
            Column.significant("peak", "Peak to peak", symbol, DIGITS),
            Column.significant("peak-all", "of all", symbol, DIGITS),
            Column.count("signs", "Signs")),
        rows,
        Prose.text(
            "Noise is the standard deviation; quick is the part from one sample to the next."
                + " Glitches count in the last peak to peak only, which grows with the number of"
                + " samples."));
  }

  private Table averaging(List<Analysed> captures) {
    boolean bits = captures.stream().anyMatch(c -> c.noise().resolution().isPresent());
    boolean timed = captures.stream().anyMatch(c -> c.noise().secondsPerSample().isPresent());
    List<Column> columns = new ArrayList<>(List.of(Column.serial("capture", "Capture")));
    if (bits) {
      columns.add(Column.decimal("effective", "Effective bits", "", 1));
      columns.add(Column.decimal("noise-free", "Noise-free bits", "", 1));
      columns.add(Column.decimal("observed", "by peak to peak", "", 1));
    }
    if (timed) {
      columns.add(Column.significant("rate", "Rate", "1/s", 4));
      columns.add(Column.significant("time", "Average for", "s", 3));
    }
    columns.add(Column.count("average", "Average of"));
    columns.add(Column.significant("left", "Noise left", unit.symbol(), 4));
    columns.add(Column.text("kind", "Kind there"));
    List<Row> rows = captures.stream().map(c -> averagingRow(c, bits, timed)).toList();
    return Screen.table("averaging", "How far averaging helps", columns, rows);
  }

  private Row averagingRow(Analysed capture, boolean bits, boolean timed) {
    CaptureNoise noise = capture.noise();
    List<Cell> cells = new ArrayList<>(List.of(Cell.text(capture.file())));
    Cell none = Cell.missing("-");
    if (bits) {
      cells.add(noise.resolution().map(b -> Cell.number(b.effective())).orElse(none));
      cells.add(noise.resolution().map(b -> Cell.number(b.noiseFree())).orElse(none));
      cells.add(noise.resolution().map(b -> Cell.number(b.noiseFreeObserved())).orElse(none));
    }
    Optional<StabilityCurve.Point> best =
        noise.stability().map(StabilityCurve::shortestNearMinimum);
    if (timed) {
      boolean clock = noise.secondsPerSample().isPresent();
      cells.add(clock ? Cell.number(1 / noise.secondsPerSample().getAsDouble()) : none);
      cells.add(clock ? best.map(p -> Cell.number(p.seconds())).orElse(none) : none);
    }
    cells.add(best.map(p -> Cell.number(p.factor())).orElse(none));
    cells.add(best.map(p -> Cell.number(unit.of(p.deviation()))).orElse(none));
    cells.add(Cell.text(noise.stability().map(c -> kind(c, c.shortestNearMinimum())).orElse("")));
    return new Row(cells);
  }

  private static String kind(StabilityCurve curve, StabilityCurve.Point point) {
    return curve
        .behaviourAt(curve.points().indexOf(point))
        .name()
        .toLowerCase(Locale.ROOT)
        .replace('_', ' ');
  }

  private Optional<Table> stability(Analysed capture) {
    boolean timed = capture.noise().secondsPerSample().isPresent();
    return capture
        .noise()
        .stability()
        .map(
            curve ->
                Screen.table(
                    "stability",
                    "Allan deviation (95 % intervals)",
                    List.of(
                        Column.count("average", "Average of"),
                        Column.significant("time", timed ? "Time" : "Samples", timed ? "s" : "", 4),
                        Column.significant("deviation", "Deviation", unit.symbol(), 4),
                        Column.significant("lower", "Lower", unit.symbol(), 4),
                        Column.significant("upper", "Upper", unit.symbol(), 4),
                        Column.text("kind", "By its slope")),
                    curve.points().stream().map(p -> row(curve, p)).toList()));
  }

  private Row row(StabilityCurve curve, StabilityCurve.Point point) {
    return Row.of(
        Cell.number(point.factor()),
        Cell.number(point.seconds()),
        Cell.number(unit.of(point.deviation())),
        Cell.number(unit.of(point.interval().lower())),
        Cell.number(unit.of(point.interval().upper())),
        Cell.text(kind(curve, point)));
  }

  private Table periodic(List<Analysed> captures) {
    List<Row> rows = new ArrayList<>();
    for (Analysed capture : captures) {
      for (CaptureNoise.Periodic sine : capture.noise().periodic()) {
        rows.add(
            Row.of(
                Cell.text(capture.file()),
                Cell.number(sine.cyclesPerSample()),
                sine.hertz().isPresent()
                    ? Cell.number(sine.hertz().getAsDouble())
                    : Cell.missing("no clock"),
                Cell.number(unit.of(sine.amplitude())),
                Cell.number(sine.shareOfVariance()),
                Cell.text(sine.mainsAlias())));
      }
    }
    return Screen.table(
        "periodic",
        "Sines in the noise (a frequency above half the rate looks like a lower one)",
        List.of(
            Column.serial("capture", "Capture"),
            Column.significant("cycles", "Cycles per sample", "", 4),
            Column.significant("hertz", "Frequency", "Hz", 4),
            Column.significant("amplitude", "Amplitude", unit.symbol(), 4),
            Column.fraction("share", "Of the variance", 1),
            Column.text("mains", "Could be mains")),
        rows);
  }

  private void basis(List<Analysed> captures) {
    out.println();
    Optional<CaptureNoise.BitsLeft> bits =
        captures.stream().flatMap(c -> c.noise().resolution().stream()).findFirst();
    if (bits.isPresent()) {
      out.println(
          String.format(
              Locale.ROOT,
              "Bits are of a full scale of %.10g: effective bits by the rms noise, noise-free bits"
                  + " by 6.6 times it%n(99.9 %% of normal noise), or by the observed peak to peak,"
                  + " which grows with the number of samples.",
              bits.get().fullScale()));
    } else {
      out.println("No bits: give --bits for the converter's width, or --full-scale.");
    }
  }

  private void lot(List<Analysed> captures, LotNoise lot) {
    if (lot.ratesDiffer()) {
      out.println("The captures have different rates: their noise compares badly.");
    }
    List<LotNoise.Excess> excesses = new ArrayList<>(lot.excess());
    excesses.sort(Comparator.comparingDouble(excess -> -excess.noiseRatio()));
    int shown = excesses.size() > MANY ? SHOWN_OF_MANY : excesses.size();
    for (LotNoise.Excess excess : excesses.subList(0, shown)) {
      out.println(
          OutsideText.clean(
              String.format(
                  Locale.ROOT,
                  "%s: %.3g times the usual noise of %d captures, %.3g times from sample to sample"
                      + " (hint: %s)",
                  captures.get(excess.capture()).file(),
                  excess.noiseRatio(),
                  lot.compared(),
                  excess.shortTermRatio(),
                  excess.hint())));
    }
    if (excesses.size() > shown) {
      out.println("... and " + (excesses.size() - shown) + " more; --json lists them all");
    }
  }
}
