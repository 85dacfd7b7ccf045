package lotproof.app.bench;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.app.cli.CliContext;
import lotproof.gather.capture.CaptureAnalysis;
import lotproof.gather.capture.ShownUnit;
import lotproof.gather.capture.SkippedLines;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.CaptureNoise.BitsLeft;
import lotproof.reduce.capture.LotNoise;
import lotproof.report.assembly.CaptureBlocks;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.statistics.stability.StabilityCurve;

/** What {@code noise} shows in a terminal. */
record NoiseScreen(CliContext io, ShownUnit unit) {
  private static final int DIGITS = 5;
  private static final int MEAN_DIGITS = 8;
  private static final int FEW = 3;

  /** With more captures a summary stands first, and the worst are shown. */
  private static final int MANY = 40;

  private static final int SHOWN_OF_MANY = 20;

  void show(List<CaptureAnalysis> captures, LotNoise lot) {
    if (captures.size() <= FEW) {
      captures.forEach(this::understood);
    }
    List<CaptureAnalysis> shown = captures;
    if (captures.size() > MANY) {
      io.show(summary(captures));
      shown = worst(captures, lot);
      io.say("");
      io.sayf(
          "%d of %d captures have signs of trouble, %d are noisier than the others; the %d worst"
              + " follow, noisiest first. --json lists all.",
          captures.stream().filter(c -> !c.issues().isEmpty()).count(),
          captures.size(),
          lot.excess().size(),
          shown.size());
    }
    io.show(numbers(shown));
    io.show(averaging(shown));
    if (captures.size() == 1) {
      boolean timed = captures.get(0).noise().secondsPerSample().isPresent();
      captures.get(0).noise().stability().ifPresent(curve -> io.show(stability(curve, timed)));
    }
    io.show(periodic(shown));
    basis(captures);
    lot(captures, lot);
  }

  /** Those noisier than the others, then those with signs of trouble, then the rest by noise. */
  private static List<CaptureAnalysis> worst(List<CaptureAnalysis> captures, LotNoise lot) {
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

  private record Summary(String what, LotNoise.Summary numbers) {}

  private Table summary(List<CaptureAnalysis> captures) {
    TableBuilder<Summary> table = new TableBuilder<>(captures.size() + " captures together");
    table.add("What", TEXT, Summary::what);
    amount(table, "Least", DIGITS, s -> s.numbers.least());
    amount(table, "Median", DIGITS, s -> s.numbers.median());
    amount(table, "95 % below", DIGITS, s -> s.numbers.mostly());
    amount(table, "Largest", DIGITS, s -> s.numbers.largest());
    List<CaptureNoise> noises = captures.stream().map(CaptureAnalysis::noise).toList();
    return table
        .add("Largest of", TEXT, s -> captures.get(s.numbers.largestCapture()).file())
        .of(
            List.of(
                new Summary("Noise", LotNoise.Summary.of(noises, n -> n.good().sd())),
                new Summary(
                    "Sample-to-sample noise",
                    LotNoise.Summary.of(noises, CaptureNoise::shortTermNoise)),
                new Summary(
                    "Peak to peak", LotNoise.Summary.of(noises, n -> n.good().peakToPeak())),
                new Summary("Mean", LotNoise.Summary.of(noises, n -> n.good().mean()))));
  }

  /** Adds a column in the unit that is shown. */
  private <T> void amount(
      TableBuilder<T> table, String title, int digits, ToDoubleFunction<T> samples) {
    table.add(
        title + " [" + unit.symbol() + "]",
        significant(digits),
        item -> unit.of(samples.applyAsDouble(item)));
  }

  private void understood(CaptureAnalysis capture) {
    io.say(capture.file() + ": " + capture.layout().words());
    for (SkippedLines skipped : capture.skipped()) {
      io.sayf(
          "  left out: %d %s %s%s",
          skipped.count(),
          skipped.kind().word(),
          skipped.count() == 1 ? "line" : "lines",
          skipped.first().stream()
              .map(example -> "; line " + example.line() + " \"" + example.start() + "\"")
              .collect(Collectors.joining()));
    }
    if (capture.clockWraps() > 0) {
      io.say("  the clock wrapped: " + capture.clockWraps());
    }
  }

  private Table numbers(List<CaptureAnalysis> captures) {
    TableBuilder<CaptureAnalysis> table = new TableBuilder<>("Noise");
    table.add("Capture", SERIAL, CaptureAnalysis::file);
    table.add("Samples", COUNT, c -> c.noise().all().samples());
    amount(table, "Mean", MEAN_DIGITS, c -> c.noise().good().mean());
    amount(table, "Noise", DIGITS, c -> c.noise().good().sd());
    amount(table, "Sample to sample", DIGITS, c -> c.noise().shortTermNoise());
    amount(table, "Peak to peak", DIGITS, c -> c.noise().good().peakToPeak());
    amount(table, "Peak to peak of all", DIGITS, c -> c.noise().all().peakToPeak());
    return table
        .add("Signs", COUNT, c -> c.issues().size())
        .note(
            "Noise is the standard deviation; sample to sample is its part between neighbouring"
                + " samples. Glitches count in the last peak to peak only, which grows with the"
                + " number of samples.")
        .of(captures);
  }

  private Table averaging(List<CaptureAnalysis> captures) {
    boolean bits = captures.stream().anyMatch(c -> c.noise().resolution().isPresent());
    TableBuilder<CaptureAnalysis> table = new TableBuilder<>("How far averaging helps");
    table.add("Capture", SERIAL, CaptureAnalysis::file);
    if (bits) {
      addBits(table, "Effective bits", BitsLeft::effective);
      addBits(table, "Noise-free bits", BitsLeft::noiseFree);
      addBits(table, "Bits by peak to peak", BitsLeft::noiseFreeObserved);
      table.secondary();
    }
    CaptureBlocks.addAveraging(
        table.missing("-"), unit, c -> c.noise().stability(), c -> c.noise().secondsPerSample());
    return table
        .add(
            "Kind there",
            TEXT,
            c -> c.noise().stability().map(curve -> kind(curve, curve.shortestNearMinimum())))
        .note(
            "Average of is the shortest whose Allan deviation cannot be told from the smallest,"
                + " with the 95 % interval of the noise left; times of which a capture holds too"
                + " few averages do not count. White where the slope cannot be told from it.")
        .of(captures);
  }

  private static void addBits(
      TableBuilder<CaptureAnalysis> table, String title, Function<BitsLeft, Double> bits) {
    table.missing("-").add(title, decimals(1), c -> c.noise().resolution().map(bits));
  }

  private static String kind(StabilityCurve curve, StabilityCurve.Point point) {
    return curve
        .behaviourAt(curve.points().indexOf(point))
        .name()
        .toLowerCase(Locale.ROOT)
        .replace('_', ' ');
  }

  private Table stability(StabilityCurve curve, boolean timed) {
    TableBuilder<StabilityCurve.Point> table =
        new TableBuilder<>("Allan deviation (95 % intervals)");
    table.add("Average of", COUNT, StabilityCurve.Point::factor);
    table.add(timed ? "Time [s]" : "Samples", significant(4), StabilityCurve.Point::seconds);
    amount(table, "Deviation", 4, StabilityCurve.Point::deviation);
    amount(table, "Lower", 4, p -> p.interval().lower());
    amount(table, "Upper", 4, p -> p.interval().upper());
    return table.add("By its slope", TEXT, p -> kind(curve, p)).of(curve.points());
  }

  private record Sine(String file, CaptureNoise.Periodic found) {}

  private Table periodic(List<CaptureAnalysis> captures) {
    TableBuilder<Sine> table =
        new TableBuilder<>(
            "Periodic components (a frequency above half the rate looks like a lower one)");
    table.add("Capture", SERIAL, Sine::file);
    table.add("Cycles per sample", significant(4), s -> s.found.cyclesPerSample());
    table.missing("-").add("Frequency [Hz]", significant(4), s -> s.found.hertz());
    amount(table, "Amplitude", 4, s -> s.found.amplitude());
    table.add("Share of variance", percent(1), s -> s.found.shareOfVariance());
    return table
        .add("Could be mains", TEXT, s -> s.found.mainsAlias())
        .of(
            captures.stream()
                .flatMap(c -> c.noise().periodic().stream().map(found -> new Sine(c.file(), found)))
                .toList());
  }

  private void basis(List<CaptureAnalysis> captures) {
    io.say("");
    Optional<BitsLeft> bits =
        captures.stream().flatMap(c -> c.noise().resolution().stream()).findFirst();
    if (bits.isPresent()) {
      io.sayf(
          "Bits are of a full scale of %.10g: effective bits by the rms noise, noise-free bits by"
              + " 6.6 times it (99.9 %% of normal noise), or by the observed peak to peak, which"
              + " grows with the number of samples.",
          bits.get().fullScale());
    } else {
      io.say("No bits: give --bits for the converter's width, or --full-scale.");
    }
  }

  private void lot(List<CaptureAnalysis> captures, LotNoise lot) {
    if (lot.ratesDiffer()) {
      io.say("The captures have different rates: their noise compares badly.");
    }
    List<LotNoise.Excess> excesses =
        lot.excess().stream()
            .sorted(Comparator.comparingDouble(excess -> -excess.noiseRatio()))
            .toList();
    int shown = excesses.size() > MANY ? SHOWN_OF_MANY : excesses.size();
    for (LotNoise.Excess excess : excesses.subList(0, shown)) {
      io.sayf(
          "%s: %.3g times the usual noise of %d captures, %.3g times from sample to sample"
              + " (hint: %s)",
          captures.get(excess.capture()).file(),
          excess.noiseRatio(),
          lot.compared(),
          excess.shortTermRatio(),
          excess.hint());
    }
    if (excesses.size() > shown) {
      io.say("... and " + (excesses.size() - shown) + " more; --json lists them all");
    }
  }
}
