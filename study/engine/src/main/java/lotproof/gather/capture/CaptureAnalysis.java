package lotproof.gather.capture;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.CaptureSamples;
import lotproof.reduce.capture.NoiseOptions;
import lotproof.study.DataIssue;
import org.jspecify.annotations.Nullable;

/** A capture from file to numbers. */
public sealed interface CaptureAnalysis {

  /** The file's name, without folders. */
  String file();

  /** What a person should know, or why nothing came of it. */
  List<DataIssue> issues();

  /**
   * It was read.
   *
   * @param file its name
   * @param layout how it was understood
   * @param clockWraps how often its clock wrapped
   * @param skipped lines that hold no sample
   * @param noise what its samples say
   * @param issues signs of trouble
   */
  record Analysed(
      String file,
      CaptureLayout layout,
      long clockWraps,
      List<SkippedLines.Skipped> skipped,
      CaptureNoise noise,
      List<DataIssue> issues)
      implements CaptureAnalysis {
    public Analysed {
      skipped = List.copyOf(skipped);
      issues = List.copyOf(issues);
    }
  }

  /** It could not be read, or an option must say something. */
  record Refused(String file, List<DataIssue> issues) implements CaptureAnalysis {
    public Refused {
      issues = List.copyOf(issues);
    }
  }

  /**
   * Reads and sums a capture.
   *
   * @param fullScale range of the converter in the units of the samples, where it is not 2^bits
   */
  static CaptureAnalysis of(
      Path path, CaptureFormat format, Optional<Double> fullScale, double confidence) {
    Path last = path.getFileName();
    String name = last == null ? path.toString() : last.toString();
    return of(name, path, format, fullScale, confidence);
  }

  /**
   * The same under a name of its own, for files that are named by their hash.
   *
   * @param name stands in issues and results
   */
  static CaptureAnalysis of(
      String name, Path path, CaptureFormat format, Optional<Double> fullScale, double confidence) {
    // the reader asks for a sink once it knows the layout, which says whether there is a clock
    AtomicReference<@Nullable CaptureSamples> samples = new AtomicReference<>();
    CaptureOutcome outcome =
        CaptureReader.read(
            name,
            path,
            format,
            layout -> {
              CaptureSamples taken =
                  new CaptureSamples(
                      options(layout, format, fullScale, confidence), layout.hasClock());
              samples.set(taken);
              return taken::add;
            });
    if (outcome instanceof CaptureOutcome.Refused refused) {
      return new Refused(name, refused.issues());
    }
    CaptureOutcome.Read read = (CaptureOutcome.Read) outcome;
    CaptureSamples sums = samples.get();
    if (sums == null) {
      throw new IllegalStateException(name + " was read without a sink");
    }
    CaptureNoise noise = sums.finish();
    List<DataIssue> issues = new ArrayList<>(read.issues());
    issues.addAll(CaptureTrouble.of(name, read, noise));
    return new Analysed(name, read.layout(), read.clockWraps(), read.skipped(), noise, issues);
  }

  private static NoiseOptions options(
      CaptureLayout layout, CaptureFormat format, Optional<Double> fullScale, double confidence) {
    NoiseOptions options =
        new NoiseOptions(
            NoiseOptions.DEFAULTS.fullScale(),
            NoiseOptions.DEFAULTS.rails(),
            format.samplesPerSecond(),
            confidence);
    if (format.bits().isPresent() && layout.unit().equals("counts")) {
      options = options.ofBits(format.bits().getAsInt(), layout.coding() == Coding.UNSIGNED);
    }
    return fullScale.isPresent() ? options.withFullScale(fullScale.get()) : options;
  }
}
