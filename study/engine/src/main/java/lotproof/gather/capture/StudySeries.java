package lotproof.gather.capture;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lotproof.folder.Appended;
import lotproof.folder.IncomingReadings;
import lotproof.folder.ReadingChecks;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.tables.Fact;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.SeriesStability;
import lotproof.statistics.stability.StabilityCurve;
import lotproof.study.CaptureNote;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.KeptSeries;
import lotproof.study.Reading;
import lotproof.study.Result;

/**
 * The time series that a study holds, and how far averaging helps in each.
 *
 * <p>They are the series that series.csv names, in its order. A study without any may still hold
 * captures that became readings; then the one with the most samples speaks, the first of several.
 * At most {@value #MOST} series of together at most {@value #MOST_MEBIBYTES} MiB are read, so that
 * a report takes no longer for captures than for the rest; of the others it is said that they were
 * not read.
 */
public final class StudySeries {
  /** How many series a report reads. */
  public static final int MOST = 4;

  /** Up to so many mebibytes of them. */
  public static final int MOST_MEBIBYTES = 16;

  /** With fewer samples hardly a point of the curve is known to better than half of itself. */
  private static final int LEAST_SAMPLES = 100;

  private StudySeries() {}

  /** Every capture that a study keeps: those behind readings, and series. */
  public static List<KeptSeries> captures(StudyContents contents) {
    return Stream.concat(
            contents.readings().stream().flatMap(reading -> behind(reading).stream()),
            contents.series().stream())
        .toList();
  }

  /** Reads the series of a study. */
  public static List<SeriesStability> of(StudyFolder folder, StudyContents contents) {
    List<KeptSeries> all =
        contents.series().isEmpty()
            ? longestBehindReadings(contents.readings()).stream().toList()
            : contents.series();
    List<SeriesStability> found = new ArrayList<>();
    long left = (long) MOST_MEBIBYTES << 20;
    for (KeptSeries series : all) {
      Path path = folder.capture(series.file(), series.sha256());
      long size = path.toFile().length();
      if (found.size() >= MOST || size > left) {
        String why =
            "not read: a report reads %s series of up to %s MiB".formatted(MOST, MOST_MEBIBYTES);
        found.add(new SeriesStability.NotKnown(series, why));
      } else {
        found.add(of(series, path));
        left -= size;
      }
    }
    return found;
  }

  /**
   * Looks at a long capture that is to be kept beside the readings, and says what keeping it would
   * do. It needs a clock or a rate, samples in counts, and at least {@value #LEAST_SAMPLES} of
   * them.
   */
  public static Preview inspect(
      StudyFolder study,
      Path file,
      String cell,
      String board,
      double loadKilograms,
      CaptureFormat format) {
    Result<StudyContents> opening = study.open();
    Result<ReceivedFile> receipt = Importer.receive(file);
    if (opening.isRefused() || receipt.isRefused()) {
      return Preview.refused(opening.isRefused() ? opening.issues() : receipt.issues());
    }
    ReceivedFile received = receipt.get();
    String name = received.name();
    KeptSeries series =
        new KeptSeries(cell, board, loadKilograms, format.words(), name, received.sha256());
    if (opening.get().series().stream().anyMatch(it -> it.sha256().equals(series.sha256()))) {
      IncomingReadings there =
          IncomingReadings.known(
              0, name, "the record keeps this capture as a series already; nothing was changed");
      return Preview.of(there.outcome(), List.of(), there::outcome);
    }
    try {
      Result<CaptureAnalysis> analysis = CaptureImport.analysed(name, file, format);
      List<DataIssue> issues = new ArrayList<>(analysis.issues());
      analysis.value().ifPresent(good -> issues.addAll(whyNot(good, series)));
      issues.addAll(ReadingChecks.ofSeries(opening.get().study(), List.of(series)));
      Result<Appended> outcome = Result.of(new Appended(0, 0, false), issues);
      return Preview.of(
          outcome,
          analysis.value().map(StudySeries::facts).orElse(List.of()),
          () -> outcome.then(added -> study.record().keepSeries(received, series)));
    } catch (IOException e) {
      return Preview.refused(
          List.of(DataIssue.error(Code.FILE_UNREADABLE, name, "the file cannot be read")));
    }
  }

  private static List<DataIssue> whyNot(CaptureAnalysis good, KeptSeries series) {
    List<DataIssue> issues = new ArrayList<>();
    if (good.noise().secondsPerSample().isEmpty()) {
      String message = "the capture has no clock; give its rate in samples per second with --rate";
      issues.add(DataIssue.error(Code.CAPTURE_UNCLEAR, good.file(), message));
    }
    if (good.noise().all().samples() < LEAST_SAMPLES) {
      String message =
          ("the capture has %s samples; it takes %s to show how far averaging"
                  + " helps, and ten minutes are better")
              .formatted(good.noise().all().samples(), LEAST_SAMPLES);
      issues.add(DataIssue.error(Code.OUT_OF_RANGE, good.file(), message));
    } else if (of(series, good) instanceof SeriesStability.NotKnown not) {
      issues.add(DataIssue.error(Code.OUT_OF_RANGE, good.file(), not.why()));
    }
    if (CaptureFormat.ofWords(series.readAs()).isEmpty()) {
      String message = "a column name with a comma and a blank cannot be kept; give its number";
      issues.add(DataIssue.error(Code.CAPTURE_UNCLEAR, good.file(), message));
    }
    return issues;
  }

  private static List<Fact> facts(CaptureAnalysis good) {
    List<Fact> facts = new ArrayList<>();
    facts.add(new Fact("capture " + good.file(), good.layout().words()));
    facts.add(new Fact("samples", Long.toString(good.noise().all().samples())));
    good.noise()
        .seconds()
        .ifPresent(s -> facts.add(new Fact("length", String.format(Locale.ROOT, "%.4g s", s))));
    return facts;
  }

  private static Optional<KeptSeries> longestBehindReadings(List<Reading> readings) {
    Comparator<Reading> bySamples =
        Comparator.comparingLong(reading -> note(reading).map(CaptureNote::samples).orElse(0L));
    return readings.stream()
        .filter(reading -> note(reading).isPresent())
        .max(bySamples.thenComparingInt(reading -> -reading.recordLine()))
        .flatMap(StudySeries::behind);
  }

  private static Optional<CaptureNote> note(Reading reading) {
    return CaptureNote.in(reading.beside().remark());
  }

  private static Optional<KeptSeries> behind(Reading reading) {
    return note(reading)
        .map(
            note ->
                new KeptSeries(
                    reading.cell(),
                    reading.board(),
                    reading.loadKilograms(),
                    note.told(),
                    reading.source().file(),
                    reading.source().sha256()));
  }

  private static SeriesStability of(KeptSeries series, Path path) {
    Optional<CaptureFormat> format = CaptureFormat.ofWords(series.readAs());
    if (format.isEmpty()) {
      return new SeriesStability.NotKnown(
          series, "\"" + series.readAs() + "\" does not say how the file is to be read");
    }
    if (!Files.isRegularFile(path)) {
      return new SeriesStability.NotKnown(series, "its original is not under captures/");
    }
    Result<CaptureAnalysis> analysis =
        CaptureAnalysis.of(series.file(), path, format.get(), OptionalDouble.empty());
    return analysis
        .value()
        .map(good -> of(series, good))
        .orElseGet(() -> new SeriesStability.NotKnown(series, analysis.issues().get(0).message()));
  }

  /** What an analysis says about a series. */
  private static SeriesStability of(KeptSeries series, CaptureAnalysis good) {
    CaptureNoise noise = good.noise();
    Optional<StabilityCurve> curve =
        noise
            .stability()
            .filter(c -> c.points().stream().filter(p -> p.deviation() > 0).count() > 1);
    if (curve.isEmpty()) {
      return new SeriesStability.NotKnown(
          series,
          noise.all().samples()
              + " samples, all equal or too few, do not show how far averaging helps");
    }
    return new SeriesStability.Known(
        series,
        noise.all().samples(),
        noise.secondsPerSample(),
        noise.good().sd(),
        curve.get(),
        good.issues().stream().map(DataIssue::message).toList());
  }
}
