package lotproof.gather.capture;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lotproof.folder.AppendOutcome;
import lotproof.folder.OpenOutcome;
import lotproof.folder.ReceivedFile;
import lotproof.folder.SeriesChecks;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.capture.CaptureAnalysis.Analysed;
import lotproof.gather.tables.Fact;
import lotproof.reduce.capture.SeriesStability;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.KeptSeries;

/**
 * A long capture into a study, kept beside the readings: it gives no reading and moves no figure,
 * and lets the report say how far averaging helps. It needs a clock or a rate, samples in counts,
 * and at least {@value #LEAST_SAMPLES} of them.
 */
public final class SeriesImport {
  /** With fewer samples hardly a point of the curve is known to better than half of itself. */
  static final int LEAST_SAMPLES = 100;

  private SeriesImport() {}

  /**
   * A series that was looked at; nothing of it is kept yet.
   *
   * @param facts how the file was understood
   * @param issues what a person should know; with an error among them it cannot be kept
   * @param sha256 hash of its bytes; empty when it could not be read
   * @param received the file, where it can be kept
   * @param series its line, where it can be kept
   */
  public record Looked(
      List<Fact> facts,
      List<DataIssue> issues,
      String sha256,
      Optional<ReceivedFile> received,
      Optional<KeptSeries> series) {
    public Looked {
      facts = List.copyOf(facts);
      issues = List.copyOf(issues);
    }

    /** What keeping it would answer at this moment. */
    public AppendOutcome outcome(StudyFolder study) {
      OpenOutcome opening = study.open();
      if (opening instanceof OpenOutcome.Refused no) {
        return new AppendOutcome.Refused(no.issues());
      }
      StudyContents contents = ((OpenOutcome.Opened) opening).contents();
      Optional<KeptSeries> there =
          contents.series().stream().filter(each -> each.sha256().equals(sha256)).findFirst();
      if (there.isPresent()) {
        return new AppendOutcome.AlreadyThere(there.get().file(), 0);
      }
      List<DataIssue> all = new ArrayList<>(issues);
      series.ifPresent(it -> all.addAll(SeriesChecks.check(contents.study(), List.of(it))));
      return series.isEmpty() || all.stream().anyMatch(DataIssue::isError)
          ? new AppendOutcome.Refused(all)
          : new AppendOutcome.Appended(0, 0, all);
    }

    /** Keeps it. */
    public AppendOutcome keep(StudyFolder study) {
      return received.isPresent() && series.isPresent()
          ? study.keepSeries(received.get(), series.get())
          : new AppendOutcome.Refused(issues);
    }
  }

  /** Looks at a file. */
  public static Looked look(
      Path file, String cell, String board, double loadKilograms, CaptureFormat format) {
    String name = String.valueOf(file.getFileName());
    try {
      if (Files.size(file) > CaptureImport.LARGEST_BYTES) {
        return refused(name, Code.FILE_UNREADABLE, "the capture is larger than 64 MiB");
      }
      ReceivedFile received = ReceivedFile.owning(name, Files.readAllBytes(file));
      KeptSeries series =
          new KeptSeries(
              cell, board, loadKilograms, CaptureSettings.words(format), name, received.sha256());
      CaptureAnalysis analysis = CaptureAnalysis.of(file, format, Optional.empty(), 0.95);
      List<DataIssue> issues = new ArrayList<>();
      analysis.issues().forEach(issue -> issues.add(CaptureImport.graver(issue)));
      List<Fact> facts = new ArrayList<>();
      if (analysis instanceof Analysed good) {
        issues.addAll(whyNot(good, series));
        facts.addAll(facts(good));
      }
      boolean sound = issues.stream().noneMatch(DataIssue::isError);
      return new Looked(
          facts,
          issues,
          received.sha256(),
          sound ? Optional.of(received) : Optional.empty(),
          sound ? Optional.of(series) : Optional.empty());
    } catch (IOException e) {
      return refused(name, Code.FILE_UNREADABLE, "the file cannot be read");
    }
  }

  private static Looked refused(String name, Code code, String message) {
    return new Looked(
        List.of(), List.of(error(name, code, message)), "", Optional.empty(), Optional.empty());
  }

  private static List<DataIssue> whyNot(Analysed good, KeptSeries series) {
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
          "the capture has "
              + good.noise().all().samples()
              + " samples; it takes "
              + LEAST_SAMPLES
              + " to show how far averaging helps, and ten minutes are better";
      issues.add(error(good.file(), Code.OUT_OF_RANGE, message));
    } else if (StudySeries.of(series, good) instanceof SeriesStability.NotKnown not) {
      issues.add(error(good.file(), Code.OUT_OF_RANGE, not.why()));
    }
    if (CaptureSettings.ofWords(series.readAs()).isEmpty()) {
      String message = "a column name with a comma and a blank cannot be kept; give its number";
      issues.add(error(good.file(), Code.CAPTURE_UNCLEAR, message));
    }
    return issues;
  }

  private static List<Fact> facts(Analysed good) {
    List<Fact> facts = new ArrayList<>();
    facts.add(new Fact("capture " + good.file(), good.layout().words()));
    facts.add(new Fact("samples", Long.toString(good.noise().all().samples())));
    good.noise()
        .seconds()
        .ifPresent(
            seconds ->
                facts.add(new Fact("length", String.format(Locale.ROOT, "%.4g s", seconds))));
    return facts;
  }

  private static DataIssue error(String file, Code code, String message) {
    return DataIssue.error(code, file, 0, "", "", message);
  }
}
