package lotproof.app.results;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.OutputFolder;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.report.assembly.LimitsSection;
import lotproof.report.data.CsvWriter;
import lotproof.report.model.Section;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Production test limits that protect the figures. */
@Command(name = LimitsCommand.NAME)
public final class LimitsCommand extends CliCommand.OnStudy {
  static final String NAME = "limits";

  @Option(names = "--figure", paramLabel = "LEVEL=GRAMS")
  private Map<String, Double> figures = new LinkedHashMap<>();

  @Option(names = "--test-loads", paramLabel = "KG", split = ",")
  private List<Double> testLoads = new ArrayList<>();

  @Option(names = "--falling")
  private boolean falling;

  @Option(names = "--uncertainty", paramLabel = "GRAMS")
  private OptionalDouble uncertainty = OptionalDouble.empty();

  @Option(names = "--changed-temperature")
  private boolean changedTemperature;

  @Option(names = "--conformity", paramLabel = "FRACTION")
  private OptionalDouble conformity = OptionalDouble.empty();

  @Option(names = "--details")
  private boolean details;

  @Mixin private final OutputFolder output = new OutputFolder();

  /** What {@code limits} computed. */
  public record Limits(Origin origin, ProductionLimits limits, List<DataIssue> issues)
      implements Message {}

  @Override
  public Integer call() {
    LimitOptions options = options(open(study).study());
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    ProductionLimits limits = ProductionLimits.of(analysed.result(), options);
    boolean protectedAll =
        !limits.levels().isEmpty()
            && limits.levels().stream().allMatch(ProductionLimits.LevelLimits::isProtected);
    int exit = protectedAll ? Exit.DONE : Exit.NO;
    Section section = LimitsSection.of(analysed.result().study(), limits);
    if (output.asked()) {
      OutputFolder.fill(
          output.checked(NAME, study),
          OutputFolder.Manifest.of(NAME, analysed.contents()),
          sink -> CsvWriter.write(section, sink));
    }
    return answer(
        exit,
        () -> new Limits(analysed.origin("limits", exit), limits, analysed.issues()),
        () -> analysed.show(io, List.of(section), details));
  }

  private LimitOptions options(Study asked) {
    ClaimCommand.mustHaveLevels(asked, "--figure", figures);
    for (double load : testLoads) {
      refuse(
          !asked.design().loadsKilograms().contains(load) || load == 0,
          "--test-loads: the study has no reading at %s kg; its loads are %s kg",
          load,
          asked.design().loadsKilograms().stream().filter(l -> l > 0).distinct().toList());
    }
    return checked(
        () ->
            new LimitOptions(
                figures,
                testLoads,
                falling,
                uncertainty,
                changedTemperature,
                conformity.orElse(asked.claim().content())));
  }
}
