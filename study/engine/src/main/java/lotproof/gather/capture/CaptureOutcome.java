package lotproof.gather.capture;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of reading a capture. */
public sealed interface CaptureOutcome {

  /**
   * All its samples went to the sink.
   *
   * @param layout how it was understood
   * @param samples how many
   * @param clockWraps how often the clock wrapped
   * @param skipped lines that hold no sample
   * @param issues what a person should know
   */
  record Read(
      CaptureLayout layout,
      long samples,
      long clockWraps,
      List<SkippedLines.Skipped> skipped,
      List<DataIssue> issues)
      implements CaptureOutcome {
    public Read {
      skipped = List.copyOf(skipped);
      issues = List.copyOf(issues);
    }
  }

  /** It is no capture, or leaves something open that an option must say. */
  record Refused(List<DataIssue> issues) implements CaptureOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
