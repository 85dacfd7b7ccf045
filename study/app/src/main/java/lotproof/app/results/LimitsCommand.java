package lotproof.app.results;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.report.OutputSink;
import lotproof.report.assembly.LimitsSection;
import lotproof.report.data.CsvWriter;
import lotproof.report.model.Report;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Production test limits that protect the figures. */
@Command(
    name = "limits",
    header = "Say which limits of a production test protect a figure.",
    description = {
      "For the test of every finished kit, and for tests of cells and boards alone on a jig:"
          + " guarded for the tester's uncertainty, for the masses and for loads that are not"
          + " tested, with expected yield and risks. A claim for cells or boards alone gets the"
          + " tests of that kind. Exit code 1 if no limit protects one of the figures.",
      "",
      "Production limits are no safety limits, and they make no scale fit for trade."
    },
    footer = {
      "  lotproof limits hive-scale",
      "  lotproof limits hive-scale --figure one-point=40 --test-loads 50 --uncertainty 0.8",
      "  lotproof limits hive-scale --test-loads 5,50 --falling --to limits"
    })
public final class LimitsCommand extends CliCommand.OnStudy {

  @Option(
      names = "--figure",
      paramLabel = "LEVEL=GRAMS",
      description =
          "protect this figure (default: the wanted one of study.yaml, or the printable figure);"
              + " may be repeated")
  private Map<String, Double> figures = new LinkedHashMap<>();

  @Option(
      names = "--test-loads",
      paramLabel = "KG",
      split = ",",
      description =
          "loads that production puts on, rising; without it all steps of the study, falling ones"
              + " too")
  private List<Double> testLoads = new ArrayList<>();

  @Option(names = "--falling", description = "production reads the test loads on the way down too")
  private boolean falling;

  @Option(
      names = "--uncertainty",
      paramLabel = "GRAMS",
      description =
          "standard uncertainty of one reading of the tester; without it the repeatability of the"
              + " study's bench")
  private @Nullable Double uncertainty;

  @Option(
      names = "--changed-temperature",
      description =
          "production calibrates each kit at one temperature and reads it at another, as the study"
              + " did for its temperature correction; without it a test at one temperature")
  private boolean changedTemperature;

  @Option(
      names = "--conformity",
      paramLabel = "FRACTION",
      description =
          "probability with which a kit that just passes keeps the figure (default: the content of"
              + " the study)")
  private @Nullable Double conformity;

  @Option(names = "--to", paramLabel = "DIR", description = "also write the tables as CSV there")
  private @Nullable Path to;

  /** What {@code limits} computed. */
  public record Limits(Origin origin, ProductionLimits limits, List<DataIssue> issues) {}

  public LimitsCommand(CliContext io) {
    super(io);
  }

  @Override
  public Integer call() {
    LimitOptions options = options(open(study).study());
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    ProductionLimits limits = ProductionLimits.of(analysed.result(), options);
    boolean protectedAll =
        !limits.levels().isEmpty()
            && limits.levels().stream().allMatch(ProductionLimits.LevelLimits::isProtected);
    int exit = protectedAll ? Exit.DONE : Exit.NO;
    Report report =
        new Report(
            analysed.report().identity(),
            analysed.report().headline(),
            List.of(LimitsSection.of(analysed.result().study(), limits)));
    if (to != null) {
      new CsvWriter().write(report, OutputSink.folder(to));
    }
    if (json) {
      io.json(new Limits(analysed.origin("limits", exit), limits, analysed.issues()));
    } else {
      io.showSections(report);
      io.showFirst(analysed.issues());
    }
    return exit;
  }

  private LimitOptions options(Study asked) {
    ClaimCommand.mustHaveLevels(asked, "--figure", figures);
    for (double load : testLoads) {
      if (!asked.design().loadsKilograms().contains(load) || load == 0) {
        throw new UnusableException(
            "--test-loads: the study has no reading at %s kg; its loads are %s kg",
            load, asked.design().loadsKilograms().stream().filter(l -> l > 0).distinct().toList());
      }
    }
    return checked(
        () ->
            new LimitOptions(
                figures,
                testLoads,
                falling,
                uncertainty == null ? OptionalDouble.empty() : OptionalDouble.of(uncertainty),
                changedTemperature,
                conformity == null ? asked.claim().content() : conformity));
  }
}
