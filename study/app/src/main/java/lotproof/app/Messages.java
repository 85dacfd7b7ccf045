package lotproof.app;

import java.util.List;
import lotproof.claim.DraftReport;
import lotproof.claim.FigureChange;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.folder.Difference;
import lotproof.gather.capture.CaptureAnalysis;
import lotproof.gather.capture.ShownUnit;
import lotproof.gather.capture.SkippedLines;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.layout.Question;
import lotproof.gather.tables.Fact;
import lotproof.plan.rehearse.DesignComparison;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.plan.rehearse.RehearsalResult;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.LotNoise;
import lotproof.review.Finding;
import lotproof.review.ReadingFinding;
import lotproof.review.StudyProgress;
import lotproof.spread.CharacteristicSpread;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchTimes;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Provenance;
import lotproof.study.WatchLine;

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
      String file,
      String outcome,
      int readings,
      int recognised,
      List<Fact> understood,
      List<ColumnUse> columns,
      List<OpenQuestion> questions,
      List<DifferingReading> differences,
      List<DataIssue> issues) {}

  /** What a file leaves open. */
  record OpenQuestion(String text, List<Question.Choice> choices) {}

  /** A reading for which a file says something else than the record. */
  record DifferingReading(
      String run,
      int step,
      Provenance recorded,
      Provenance received,
      List<Difference.Change> changes) {
    static DifferingReading of(Difference difference) {
      return new DifferingReading(
          difference.received().run(),
          difference.received().step(),
          difference.recorded().source(),
          difference.received().source(),
          difference.changes());
    }
  }

  /** What {@code status} found. */
  record Status(
      Origin origin,
      int readings,
      int decisions,
      StudyProgress progress,
      StatusFindings findings,
      List<DataIssue> issues) {}

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
          result.comparison().claims(),
          analysed.issues(),
          result.cautions(),
          result.notCovered());
    }

    /** The curves of all runs are long and stand in the full result. */
    private static List<LevelClaim> withoutCurves(List<LevelClaim> claims) {
      return claims.stream().map(LevelClaim::withoutCurves).toList();
    }
  }

  /** What {@code claim --check} found in a draft. */
  record Draft(Origin origin, DraftReport report) {
    static Draft of(AnalysedStudy analysed, DraftReport report, int exit) {
      return new Draft(Origin.of("claim", analysed, exit), report);
    }
  }

  /** How far units differ, as the command says it. */
  record Spread(Origin origin, List<CharacteristicSpread> spreads, List<DataIssue> issues) {}

  /** What {@code review} found. */
  record Review(
      Origin origin,
      List<Finding> findings,
      List<ReadingFinding> readings,
      List<Decision> decisions,
      List<ExcludedRun> excluded,
      List<FigureChange> changes,
      List<DataIssue> issues) {
    static Review of(AnalysedStudy analysed, int exit) {
      StudyResult result = analysed.result();
      return new Review(
          Origin.of("review", analysed, exit),
          result.findings(),
          result.readings(),
          result.decisions(),
          result.excluded().stream()
              .map(
                  e ->
                      new ExcludedRun(
                          e.run().name(), e.run().cell(), e.run().board(), e.decision().id()))
              .toList(),
          result.changes(),
          analysed.issues());
    }
  }

  /**
   * How a report that was written earlier stands.
   *
   * @param origin what it was held against
   * @param holds whether every file is what the record gives today
   * @param reasons why not, as far as the origin of the report tells
   * @param files each file
   */
  record Verified(
      Origin origin, boolean holds, List<String> reasons, List<Verification.CheckedFile> files) {}

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

  /**
   * A decision that {@code review} wrote.
   *
   * @param decision the new last line of decisions.csv
   * @param changes how it changed each figure
   */
  record Decided(
      Origin origin, Decision decision, List<FigureChange> changes, List<DataIssue> issues) {}

  /** What {@code review --split} computed. */
  record Split(Origin origin, List<String> units, SplitClaim claim) {}

  /** What {@code limits} computed. */
  record Limits(Origin origin, ProductionLimits limits, List<DataIssue> issues) {}

  /**
   * What {@code watch} found.
   *
   * @param checked the check of this call; none when the history is shown or a claim is issued
   * @param history all checks so far
   * @param versions all versions of the claim
   */
  record Watched(
      Origin origin,
      List<LaterLotCheck> checked,
      List<WatchLine> history,
      List<ClaimVersion> versions) {}

  /**
   * What {@code plan} compared and wrote.
   *
   * @param seed decides everything random in the plan
   * @param assumed what was taken to be true
   * @param times what the bench takes
   * @param question what is to be supported
   * @param comparison what each design can support, and the advice
   * @param chosen key of the planned design
   * @param written files that were written, in the study folder
   */
  record Plan(
      String command,
      String version,
      int exit,
      long seed,
      AssumedSpread assumed,
      BenchTimes times,
      PlannedClaim question,
      DesignComparison comparison,
      String chosen,
      List<String> written) {}

  /**
   * What {@code plan --side-sheets} wrote.
   *
   * @param seed decides which kits, and their order
   * @param written files that were written, in the study folder
   */
  record SideSheets(String command, String version, int exit, long seed, List<String> written) {}

  /**
   * How a planned study would end.
   *
   * @param level the calibration level
   * @param runs planned runs of the study's units
   * @param seed decides all draws
   * @param assumed what was taken to be true at the worst load
   * @param points loads of a run that were rehearsed, rising and falling apart; 1 where the others
   *     were taken to follow the worst
   * @param question what is to be supported
   * @param result what came of all rehearsals
   */
  record Rehearsed(
      Origin origin,
      String level,
      int runs,
      long seed,
      AssumedSpread assumed,
      int points,
      PlannedClaim question,
      RehearsalResult result) {}
}
