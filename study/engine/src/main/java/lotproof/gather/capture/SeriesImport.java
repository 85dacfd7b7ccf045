package lotproof.gather.capture;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import lotproof.folder.Appended;
import lotproof.folder.IncomingReadings;
import lotproof.folder.ReceivedFile;
import lotproof.folder.SeriesChecks;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.tables.Fact;
import lotproof.reduce.capture.SeriesStability;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.KeptSeries;
import lotproof.study.Result;

/**
 * A long capture into a study, kept beside the readings: it gives no reading and moves no figure,
 * and lets the report say how far averaging helps. It needs a clock or a rate, samples in counts,
 * and at least {@value #LEAST_SAMPLES} of them.
 */
public final class SeriesImport {
  /** With fewer samples hardly a point of the curve is known to better than half of itself. */
  static final int LEAST_SAMPLES = 100;

  private SeriesImport() {}

  /** Looks at a file and says what keeping it would do. */
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
    if (received.size() > CaptureImport.LARGEST_BYTES) {
      String message = "the capture is larger than 64 MiB";
      return Preview.refused(List.of(error(name, Code.FILE_UNREADABLE, message)));
    }
    KeptSeries series =
        new KeptSeries(cell, board, loadKilograms, format.words(), name, received.sha256());
    if (opening.get().series().stream().anyMatch(it -> it.sha256().equals(series.sha256()))) {
      IncomingReadings there =
          IncomingReadings.known(
              0, name, "the record keeps this capture as a series already; nothing was changed");
      return Preview.of(there.outcome(), List.of(), there::outcome);
    }
    Result<CaptureAnalysis> analysis =
        CaptureAnalysis.of(name, file, format, OptionalDouble.empty());
    List<DataIssue> issues = new ArrayList<>();
    analysis.issues().forEach(issue -> issues.add(CaptureImport.escalated(issue)));
    analysis.value().ifPresent(good -> issues.addAll(whyNot(good, series)));
    issues.addAll(SeriesChecks.check(opening.get().study(), List.of(series)));
    Result<Appended> outcome = Result.of(new Appended(0, 0, false), issues);
    return Preview.of(
        outcome,
        analysis.value().map(SeriesImport::facts).orElse(List.of()),
        () -> {
          Result<Appended> kept =
              outcome.isRefused() ? outcome : study.record().keepSeries(received, series);
          return kept.isRefused() ? kept : outcome;
        });
  }

  private static List<DataIssue> whyNot(CaptureAnalysis good, KeptSeries series) {
    List<DataIssue> issues = new ArrayList<>();
    String unit = good.layout().unit();
    if (!unit.equals("counts")) {
      String message = "the samples are in " + unit + "; a study keeps counts";
      issues.add(error(good.file(), Code.UNIT_OF_MEASURE_UNKNOWN, message));
    }
    if (good.noise().secondsPerSample().isEmpty()) {
      String message = "the capture has no clock; give its rate in samples per second with --rate";
      issues.add(error(good.file(), Code.CAPTURE_UNCLEAR, message));
    }
    if (good.noise().all().samples() < LEAST_SAMPLES) {
      String message =
          ("the capture has %s samples; it takes %s to show how far averaging"
                  + " helps, and ten minutes are better")
              .formatted(good.noise().all().samples(), LEAST_SAMPLES);
      issues.add(error(good.file(), Code.OUT_OF_RANGE, message));
    } else if (StudySeries.of(series, good) instanceof SeriesStability.NotKnown not) {
      issues.add(error(good.file(), Code.OUT_OF_RANGE, not.why()));
    }
    if (CaptureFormat.ofWords(series.readAs()).isEmpty()) {
      String message = "a column name with a comma and a blank cannot be kept; give its number";
      issues.add(error(good.file(), Code.CAPTURE_UNCLEAR, message));
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

  private static DataIssue error(String file, Code code, String message) {
    return DataIssue.error(code, file, message);
  }
}
