package lotproof.app;

import java.util.List;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.gather.ColumnUse;
import lotproof.gather.capture.CaptureAnalysis;
import lotproof.gather.capture.ShownUnit;
import lotproof.gather.capture.SkippedLines;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.LotNoise;
import lotproof.review.Finding;
import lotproof.review.StudyProgress;
import lotproof.spread.CharacteristicSpread;
import lotproof.study.DataIssue;
import lotproof.study.Decision;

/** What commands print with {@code --json}; docs/messages.schema.json describes it. */
final class Messages {
  private Messages() {}

  /**
   * Where a message comes from.
   *
   * @param command the command
   * @param version version of the program
   * @param title title of the study, or name of the file
   * @param hash hash of what was read
   * @param exit the exit code
   */
  record Origin(String command, String version, String title, String hash, int exit) {
    static Origin of(String command, AnalysedStudy analysed, int exit) {
      return new Origin(
          command,
          LotproofCommand.Version.number(),
          analysed.contents().study().title(),
          analysed.contents().recordHash(),
          exit);
    }
  }

  /** What {@code import} did with each file. */
  record Import(String command, String version, int exit, List<ImportedFile> files) {}

  /** What {@code import} did with one file. */
  record ImportedFile(
      String file, String outcome, int readings, List<ColumnUse> columns, List<DataIssue> issues) {}

  /** What {@code status} found. */
  record Status(
      Origin origin, int readings, int decisions, StudyProgress progress, List<DataIssue> issues) {}

  /** What {@code claim} found. */
  record Claim(
      Origin origin,
      double content,
      double confidence,
      List<LevelClaim> asDecided,
      List<LevelClaim> withoutExclusions,
      List<DataIssue> issues,
      List<String> cautions,
      List<String> notCovered) {
    static Claim of(AnalysedStudy analysed, int exit) {
      StudyResult result = analysed.result();
      return new Claim(
          Origin.of("claim", analysed, exit),
          result.study().claim().content(),
          result.study().claim().confidence(),
          withoutCurves(result.asDecided().claims()),
          withoutCurves(result.withoutExclusions().claims()),
          analysed.issues(),
          result.cautions(),
          result.notCovered());
    }

    /** The curves of all runs are long and stand in the full result. */
    private static List<LevelClaim> withoutCurves(List<LevelClaim> claims) {
      return claims.stream()
          .map(c -> new LevelClaim(c.level(), c.outcome(), c.wanted(), c.sentence(), List.of()))
          .toList();
    }
  }

  /** How far units differ, as the command says it. */
  record Spread(Origin origin, List<CharacteristicSpread> spreads, List<DataIssue> issues) {}

  /** What {@code review} found. */
  record Review(
      Origin origin,
      List<Finding> findings,
      List<Decision> decisions,
      List<ExcludedRun> excluded,
      List<DataIssue> issues) {
    static Review of(AnalysedStudy analysed, int exit) {
      StudyResult result = analysed.result();
      return new Review(
          Origin.of("review", analysed, exit),
          result.findings(),
          result.decisions(),
          result.excluded().stream()
              .map(
                  e ->
                      new ExcludedRun(
                          e.run().name(), e.run().cell(), e.run().board(), e.decision().id()))
              .toList(),
          analysed.issues());
    }
  }

  /**
   * A run that was taken out.
   *
   * @param run its name
   * @param cell its cell
   * @param board its board
   * @param decision the decision that did it
   */
  record ExcludedRun(String run, String cell, String board, String decision) {}

  /**
   * What {@code noise} found.
   *
   * @param unit unit of the samples and of all their numbers
   * @param shownUnit unit that was asked for
   * @param samplesPerShownUnit divide by it to have numbers in that unit
   */
  record Noise(
      String command,
      String version,
      int exit,
      String unit,
      String shownUnit,
      double samplesPerShownUnit,
      List<Capture> captures,
      LotNoise lot,
      List<DataIssue> issues) {
    static Noise of(
        int exit,
        ShownUnit shown,
        List<CaptureAnalysis.Analysed> captures,
        LotNoise lot,
        List<DataIssue> issues) {
      return new Noise(
          "noise",
          LotproofCommand.Version.number(),
          exit,
          captures.isEmpty() ? shown.symbol() : captures.get(0).layout().unit(),
          shown.symbol(),
          shown.samplesPerUnit(),
          captures.stream().map(Capture::of).toList(),
          lot,
          issues);
    }
  }

  /** One capture as {@code noise} saw it. */
  record Capture(
      String file,
      String understood,
      long clockWraps,
      List<SkippedLines.Skipped> skipped,
      CaptureNoise noise) {
    /** The trace is for charts. */
    static Capture of(CaptureAnalysis.Analysed a) {
      return new Capture(
          a.file(), a.layout().words(), a.clockWraps(), a.skipped(), a.noise().withoutTrace());
    }
  }
}
