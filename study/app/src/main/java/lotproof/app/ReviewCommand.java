package lotproof.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.function.UnaryOperator;
import lotproof.claim.FigureChange;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.folder.DecisionOutcome;
import lotproof.folder.StudyContents;
import lotproof.report.assembly.ReviewBlocks;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Block;
import lotproof.report.text.OutsideText;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Extreme units, their evidence, and what was decided. */
@Command(
    name = "review",
    header = "Show the units and runs that stand out, with their evidence, and write decisions.",
    description = {
      "The program excludes nothing by itself. A person decides, with a cause; each decision is a"
          + " line of decisions.csv, and an undo is one more line (docs/formats.md). A unit without"
          + " a cause stays in: a buyer may receive it. After a decision the program shows how it"
          + " moved each figure and why."
    },
    footer = {
      "  lotproof review hive-scale",
      "  lotproof review hive-scale --history C2-0343",
      "  lotproof review hive-scale --decide excluded --unit C2-0343 --cause \"bench damage\" \\",
      "      --why \"dropped, photo 12\" --who \"Mara Lind\" --when 2026-03-05",
      "  lotproof review hive-scale --decide screened --unit B3-0519 --test noise \\",
      "      --limits \"at most 0.6 g\" --who \"Mara Lind\" --when 2026-03-05",
      "  lotproof review hive-scale --undo D3 --cause \"photo shows another cell\" \\",
      "      --who \"Mara Lind\" --when 2026-03-06",
      "  lotproof review hive-scale --split C3-0169"
    })
final class ReviewCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Mixin private DecisionOptions decisions = new DecisionOptions();

  @Option(
      names = "--history",
      paramLabel = "NAME",
      description = "show all decisions about this unit or run, withdrawn ones too")
  private @Nullable String history;

  @Option(
      names = "--split",
      paramLabel = "SERIAL",
      description =
          "say what could be claimed if this unit is bad and could ship: good kits, and how many"
              + " kits are good; may be repeated")
  private List<String> split = new ArrayList<>();

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  ReviewCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    if (decisions.asked()) {
      return decide();
    }
    decisions.mustBeUnused();
    if (!split.isEmpty()) {
      StudyContents contents = StudyFolders.open(study);
      show(contents, splitClaim(contents, split));
      return Exit.DONE;
    }
    if (history != null) {
      showHistory(history);
      return Exit.DONE;
    }
    AnalysedStudy analysed = AnalysedStudy.of(io, study, UnaryOperator.identity());
    if (json) {
      io.out().print(ResultJson.of(Messages.Review.of(analysed, Exit.DONE)));
    } else {
      new Screen(io.out(), program.palette()).showSections(analysed.only(block -> true, "review"));
      Issues.printFirst(analysed.issues(), io.err());
    }
    return Exit.DONE;
  }

  private int decide() {
    StudyContents before = StudyFolders.open(study);
    Decision decision = decisions.decision(before);
    DecisionOutcome outcome = StudyFolders.existing(study).decide(decision);
    if (outcome instanceof DecisionOutcome.Refused refused) {
      explainSplit(before, decision);
      io.err().println("Nothing was written; the line numbers are those that the line would have.");
      throw new UnusableException(refused.issues());
    }
    Decision recorded = ((DecisionOutcome.Recorded) outcome).decision();
    StudyContents after = StudyFolders.open(study);
    List<DataIssue> issues = new ArrayList<>();
    List<FigureChange> changes =
        before.readings().isEmpty() ? List.of() : changes(before, after, issues);
    if (json) {
      Messages.Origin origin =
          new Messages.Origin(
              "review",
              LotproofCommand.Version.number(),
              after.study().title(),
              after.recordHash(),
              Exit.DONE);
      io.out().print(ResultJson.of(new Messages.Decided(origin, recorded, changes, issues)));
    } else {
      io.out()
          .println(
              OutsideText.clean(
                  recorded.id()
                      + " is line "
                      + recorded.line()
                      + " of decisions.csv: "
                      + recorded.target().word()
                      + " "
                      + recorded.serial()
                      + " "
                      + recorded.action().word()
                      + " ("
                      + recorded.cause()
                      + ")."));
      print(List.of(ReviewBlocks.history(about(after.decisions(), recorded.serial()))));
      print(ReviewBlocks.changes(changes));
      io.out().flush();
      Issues.print(
          issues.stream().filter(i -> i.unit().equals(recorded.serial())).toList(), io.err());
    }
    return Exit.DONE;
  }

  private List<FigureChange> changes(
      StudyContents before, StudyContents after, List<DataIssue> issues) {
    return new Progress(io)
        .during(
            "comparing the figures before and after",
            () -> {
              StudyResult was = analysed(before);
              StudyResult is = analysed(after);
              issues.addAll(is.issues());
              return FigureChange.between(
                  was.asDecided().claims(),
                  is.asDecided().claims(),
                  after.study().claim().content());
            });
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
                || decision.cause().equals(lotproof.study.Screen.CAUSE));
    if (couldShip && !contents.readings().isEmpty() && !json) {
      show(contents, splitClaim(contents, List.of(decision.serial())));
      io.out().flush();
    }
  }

  private SplitClaim splitClaim(StudyContents contents, List<String> units) {
    Set<String> cells = new LinkedHashSet<>();
    Set<String> boards = new LinkedHashSet<>();
    for (String unit : units) {
      boolean cell = DecisionOptions.kindOf(contents.study(), unit) == Decision.Target.CELL;
      (cell ? cells : boards).add(unit);
    }
    if (contents.readings().isEmpty()) {
      throw new UnusableException(study + ": the record holds no reading");
    }
    return new Progress(io)
        .during(
            "splitting the claim",
            () ->
                SplitClaim.of(
                    contents.study(), contents.readings(), contents.decisions(), cells, boards));
  }

  private void show(StudyContents contents, SplitClaim claim) {
    if (json) {
      Messages.Origin origin =
          new Messages.Origin(
              "review",
              LotproofCommand.Version.number(),
              contents.study().title(),
              contents.recordHash(),
              Exit.DONE);
      io.out().print(ResultJson.of(new Messages.Split(origin, split, claim)));
    } else {
      print(ReviewBlocks.split(contents.study(), claim));
    }
  }

  private void showHistory(String name) {
    StudyContents contents = StudyFolders.open(study);
    List<Decision> found = about(contents.decisions(), name);
    if (found.isEmpty()) {
      io.out().println(OutsideText.clean("No decision is about " + name + "."));
    } else {
      print(List.of(ReviewBlocks.history(found)));
    }
  }

  private static List<Decision> about(List<Decision> decisions, String name) {
    return decisions.stream()
        .filter(d -> d.serial().equals(name) || d.value().map(name::equals).orElse(false))
        .toList();
  }

  private void print(List<Block> blocks) {
    new Screen(io.out(), program.palette()).showBlocks(blocks);
  }
}
