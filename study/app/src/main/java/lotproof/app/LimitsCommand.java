package lotproof.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import java.util.function.UnaryOperator;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.folder.text.Nearest;
import lotproof.report.OutputSink;
import lotproof.report.assembly.LimitsSection;
import lotproof.report.data.CsvWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Report;
import lotproof.study.Study;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Production test limits that protect the figures. */
@Command(
    name = "limits",
    header = "Say which limits of a production test protect a figure.",
    description = {
      "For the test of every finished kit, and for tests of cells and boards alone on a jig:"
          + " guarded for the tester's uncertainty, for the masses and for loads that are not"
          + " tested, with expected yield and risks. A claim for cells or boards alone gets the"
          + " tests of that kind. Answers no (1) when no limit protects one of the figures.",
      "",
      "Production limits are no safety limits, and they make no scale fit for trade."
    },
    footer = {
      "  lotproof limits hive-scale",
      "  lotproof limits hive-scale --figure one-point=40 --test-loads 50 --uncertainty 0.8",
      "  lotproof limits hive-scale --test-loads 5,50 --falling --to limits"
    })
final class LimitsCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Option(
      names = "--figure",
      paramLabel = "LEVEL=GRAMS",
      description =
          "protect this figure; without it the wanted one of study.yaml, or the safest; may be"
              + " repeated")
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

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  LimitsCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    LimitOptions options = options(StudyFolders.open(study).study());
    AnalysedStudy analysed = AnalysedStudy.of(io, study, UnaryOperator.identity());
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
    Path target = to;
    if (target != null) {
      new CsvWriter().write(report, OutputSink.folder(target));
    }
    if (json) {
      io.out()
          .print(
              ResultJson.of(
                  new Messages.Limits(
                      Messages.Origin.of("limits", analysed, exit), limits, analysed.issues())));
    } else {
      new Screen(io.out(), program.palette()).showSections(report);
      Issues.printFirst(analysed.issues(), io.err());
    }
    return exit;
  }

  private LimitOptions options(Study asked) {
    List<String> keys =
        asked.claim().levels().stream().map(request -> request.level().key()).toList();
    for (String key : figures.keySet()) {
      if (!keys.contains(key)) {
        throw new UnusableException(
            "--figure: the study asks for no calibration level \""
                + key
                + "\"; "
                + Nearest.hint(key, keys, "its levels"));
      }
    }
    for (double load : testLoads) {
      if (!asked.design().loadsKilograms().contains(load) || load == 0) {
        throw new UnusableException(
            "--test-loads: the study has no reading at "
                + load
                + " kg; its loads are "
                + asked.design().loadsKilograms().stream().filter(l -> l > 0).distinct().toList()
                + " kg");
      }
    }
    try {
      return new LimitOptions(
          figures,
          testLoads,
          falling,
          uncertainty == null ? OptionalDouble.empty() : OptionalDouble.of(uncertainty),
          changedTemperature,
          conformity == null ? asked.claim().content() : conformity);
    } catch (IllegalArgumentException e) {
      throw new UnusableException(String.valueOf(e.getMessage()));
    }
  }
}
