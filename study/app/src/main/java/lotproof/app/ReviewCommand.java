package lotproof.app;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import java.util.function.UnaryOperator;
import lotproof.report.data.ResultJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Extreme units, their evidence, and what was decided. */
@Command(
    name = "review",
    header = "Show the units and runs that stand out, with their evidence and what was decided.",
    description = {
      "The program excludes nothing. A person decides, in decisions.csv, with a cause (docs/formats.md)."
          + " A unit without a cause stays in: a buyer may receive it."
    },
    footer = {"  lotproof review hive-scale", "  lotproof review hive-scale --json"})
final class ReviewCommand implements Callable<Integer> {
  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

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
    AnalysedStudy analysed = AnalysedStudy.of(io, study, UnaryOperator.identity());
    if (json) {
      io.out().print(ResultJson.of(Messages.Review.of(analysed, Exit.DONE)));
    } else {
      new Screen(io.out(), program.palette()).showSections(analysed.only(block -> true, "review"));
      Issues.printFirst(analysed.issues(), io.err());
    }
    return Exit.DONE;
  }
}
