package lotproof.app.results;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.claim.FigureChange;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.folder.StudyContents;
import lotproof.report.assembly.ReviewBlocks;
import lotproof.report.model.Section;
import lotproof.review.ExchangedSerials;
import lotproof.review.Finding;
import lotproof.review.ReadingFinding;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Result;
import lotproof.study.Screen;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Extreme units, their evidence, and what was decided. */
@Command(name = "review")
public final class ReviewCommand extends CliCommand.OnStudy {

  private final DecisionOptions decisions = listed(new DecisionOptions());

  @Option(names = "--about", paramLabel = "NAME")
  private @Nullable String about;

  @Option(names = "--details")
  private boolean details;

  @Option(names = "--split", paramLabel = "SERIAL")
  private List<String> split = new ArrayList<>();

  /** What {@code review} found. */
  public record Review(
      Origin origin,
      List<Finding> findings,
      List<ReadingFinding> readings,
      List<ExchangedSerials> exchanged,
      List<Decision> decisions,
      List<ExcludedRun> excluded,
      List<FigureChange> changes,
      List<DataIssue> issues)
      implements Message {}

  /** A run that was taken out, and the id of the decision that did it. */
  public record ExcludedRun(String run, String cell, String board, String decision) {}

  /** A decision that {@code review} wrote, and how it changed each figure. */
  public record Decided(
      Origin origin, Decision decision, List<FigureChange> changes, List<DataIssue> issues)
      implements Message {}

  /** What {@code review --split} computed. */
  public record Split(Origin origin, List<String> units, SplitClaim claim) implements Message {}

  @Override
  public Integer call() {
    if (decisions.asked()) {
      return decide();
    }
    if (!split.isEmpty()) {
      return showSplit(open(study), split);
    }
    return showFindings();
  }

  private int showFindings() {
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    StudyResult result = analysed.result();
    List<ExcludedRun> excluded =
        result.excluded().stream()
            .map(
                e ->
                    new ExcludedRun(
                        e.run().name(), e.run().cell(), e.run().board(), e.decision().id()))
            .toList();
    return answer(
        Exit.DONE,
        () ->
            new Review(
                analysed.origin("review", Exit.DONE),
                result.findings(),
                result.readings(),
                result.asDecided().exchanged(),
                result.decisions(),
                excluded,
                result.changes(),
                analysed.issues()),
        () -> {
          Section section =
              analysed.section("review").without(List.of("findings", "finding-evidence"));
          if (about != null) {
            show(result, about);
            return;
          }
          analysed.show(io, List.of(section), details);
          if (details) {
            io.print("\n" + io.text(true).sections(ReviewBlocks.evidence(result.findings())));
          } else {
            io.say("");
            io.say("The evidence of each: --details, or of one unit or run: --about NAME");
          }
        });
  }

  /** The evidence of a unit or run, and all decisions about it. */
  private void show(StudyResult result, String name) {
    List<Finding> found = result.findings().stream().filter(f -> f.serial().equals(name)).toList();
    List<Decision> decided = about(result.decisions(), name);
    if (found.isEmpty()) {
      io.say(name + " does not stand out.");
    } else {
      io.print(io.text(true).sections(ReviewBlocks.evidence(found)));
    }
    if (decided.isEmpty()) {
      io.say("No decision is about " + name + ".");
    } else {
      io.show(List.of(ReviewBlocks.history(decided)));
    }
  }

  private int decide() {
    StudyContents before = open(study);
    Decision decision = decisions.decision(before);
    Result<Decision> outcome = folder(study).record().decide(decision);
    if (outcome.isRefused()) {
      explainSplit(before, decision);
      io.complain("Nothing was written; line numbers refer to the unwritten line.");
      throw new UnusableException(outcome.issues());
    }
    Decision recorded = outcome.get();
    StudyContents after = open(study);
    List<DataIssue> issues = new ArrayList<>();
    List<FigureChange> changes =
        before.readings().isEmpty() ? List.of() : changes(before, after, issues);
    if (json) {
      io.json(new Decided(Origin.of("review", after, Exit.DONE), recorded, changes, issues));
      return Exit.DONE;
    }
    io.sayf(
        "%s is line %d of decisions.csv: %s %s %s (%s).",
        recorded.id(),
        recorded.line(),
        recorded.target().key(),
        recorded.serial(),
        recorded.action().key(),
        recorded.cause());
    io.show(List.of(ReviewBlocks.history(about(after.decisions(), recorded.serial()))));
    io.show(ReviewBlocks.changes(changes));
    io.showAll(issues.stream().filter(i -> i.unit().equals(recorded.serial())).toList());
    return Exit.DONE;
  }

  private List<FigureChange> changes(
      StudyContents before, StudyContents after, List<DataIssue> issues) {
    List<LevelClaim> was =
        io.during(
            "computing the figures before",
            () ->
                new StudyAnalysis(before.study())
                    .claimsOfAnyShape(before.readings(), before.decisions()));
    StudyResult is = io.during("computing the figures after", () -> analysed(after));
    issues.addAll(is.issues());
    return FigureChange.between(after.study(), was, is.asDecided().claims(), is.excluded());
  }

  private static StudyResult analysed(StudyContents contents) {
    return new StudyAnalysis(contents.study()).analyse(contents.readings(), contents.decisions());
  }

  /** Says what is honest instead, when someone would take out a unit that could ship. */
  private void explainSplit(StudyContents contents, Decision decision) {
    boolean couldShip =
        decision.action() == Decision.Action.EXCLUDED
            && decision.target() != Decision.Target.RUN
            && (!contents.study().causes().contains(decision.cause())
                || decision.cause().equals(Screen.CAUSE));
    if (couldShip && !contents.readings().isEmpty() && !json) {
      showSplit(contents, List.of(decision.serial()));
    }
  }

  private int showSplit(StudyContents contents, List<String> units) {
    Set<String> cells = new LinkedHashSet<>();
    Set<String> boards = new LinkedHashSet<>();
    for (String unit : units) {
      boolean cell = DecisionOptions.kindOf(contents.study(), unit) == Decision.Target.CELL;
      (cell ? cells : boards).add(unit);
    }
    AnalysedStudy.mustHoldReadings(study, contents);
    SplitClaim claim =
        io.during(
            "splitting the claim",
            () ->
                SplitClaim.of(
                    contents.study(), contents.readings(), contents.decisions(), cells, boards));
    return answer(
        Exit.DONE,
        () -> new Split(Origin.of("review", contents, Exit.DONE), units, claim),
        () -> io.show(ReviewBlocks.split(contents.study(), claim)));
  }

  private static List<Decision> about(List<Decision> decisions, String name) {
    return decisions.stream()
        .filter(d -> d.serial().equals(name) || d.value().map(name::equals).orElse(false))
        .toList();
  }
}
