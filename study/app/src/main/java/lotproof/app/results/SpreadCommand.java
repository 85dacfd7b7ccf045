package lotproof.app.results;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.UnitTable;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.gather.layout.ResultTable;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.report.assembly.StudyReport;
import lotproof.report.words.SpreadWords;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.SpreadOutcome;
import lotproof.study.Characteristic.Limits;
import lotproof.study.DataIssue;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** How far units differ, and why: of a study, or of any table of results. */
@Command(name = "spread")
public final class SpreadCommand extends CliCommand.WithJson {

  @Parameters(index = "0", paramLabel = "STUDY|FILE")
  private Path source = Path.of("");

  @ArgGroup(exclusive = false, heading = "%nFor a table of results:%n")
  private TableOptions table = new TableOptions();

  @Option(names = "--details")
  private boolean details;

  private final SettingOptions understanding =
      listed(new SettingOptions("How the file of a table is to be understood"))
          .addSettings(SettingOptions.OF_TABLES, Setting::key);

  /** How far units differ. */
  public record Spreads(Origin origin, List<CharacteristicSpread> spreads, List<DataIssue> issues)
      implements Message {}

  /** Options that a table of results needs and a study does not. */
  static final class TableOptions {
    @Option(names = "--value", paramLabel = "COLUMN")
    private String value = "";

    @Option(names = "--cell", paramLabel = "COLUMN")
    private String cell = "";

    @Option(names = "--board", paramLabel = "COLUMN")
    private String board = "";

    @Option(names = "--cell-lot", paramLabel = "COLUMN")
    private String cellLot = "";

    @Option(names = "--board-lot", paramLabel = "COLUMN")
    private String boardLot = "";

    @Option(names = "--serials", paramLabel = "RULE")
    private SerialRule serials = SerialRule.UNIQUE;

    @Option(names = "--accept", paramLabel = "CODE", split = ",")
    private List<DataIssue.Code> accepted = List.of();

    @Option(names = "--covariate", paramLabel = "COLUMN")
    private List<String> covariates = new ArrayList<>();

    @Option(names = "--block", paramLabel = "COLUMN")
    private List<String> blocks = new ArrayList<>();

    @Option(names = "--unit", paramLabel = "UNIT")
    private String unit = "";

    @Option(names = "--content")
    private double content = SpreadOptions.DEFAULTS.content();

    @Option(names = "--confidence")
    private double confidence = SpreadOptions.DEFAULTS.confidence();

    @Option(names = "--lower", paramLabel = "LIMIT")
    private OptionalDouble lower = OptionalDouble.empty();

    @Option(names = "--upper", paramLabel = "LIMIT")
    private OptionalDouble upper = OptionalDouble.empty();

    private Map<Role, String> labels() {
      Map<Role, String> all =
          Map.of(
              Role.CELL, cell, Role.BOARD, board, Role.CELL_LOT, cellLot, Role.BOARD_LOT, boardLot);
      Map<Role, String> named = new EnumMap<>(all);
      named.values().removeIf(String::isEmpty);
      return named;
    }

    private List<KnownInfluence> influences(ResultTable found) {
      List<KnownInfluence> influences = new ArrayList<>();
      for (String column : covariates) {
        influences.add(
            new KnownInfluence.Covariate(
                column, "", found.numbers().getOrDefault(column, List.of())));
      }
      for (String column : blocks) {
        influences.add(
            new KnownInfluence.Block(column, found.labels().getOrDefault(column, List.of())));
      }
      return influences;
    }

    private boolean namesColumns() {
      return !value.isEmpty() || !labels().isEmpty() || !covariates.isEmpty() || !blocks.isEmpty();
    }

    private SpreadOptions options() {
      return checked(
          () ->
              new SpreadOptions(
                  content,
                  confidence,
                  lower.isEmpty() && upper.isEmpty()
                      ? Optional.empty()
                      : Optional.of(new Limits(lower, upper)),
                  true));
    }
  }

  @Override
  public Integer call() {
    return Files.isDirectory(source) ? ofStudy() : ofTable();
  }

  private int ofStudy() {
    refuse(
        table.namesColumns(),
        "columns are named for a table of results; %s is a folder (a study names its influences"
            + " under spread in study.yaml)",
        source);
    AnalysedStudy analysed = AnalysedStudy.of(io, source);
    return answer(
        Exit.DONE,
        () ->
            new Spreads(
                analysed.origin("spread", Exit.DONE),
                analysed.result().asDecided().spreads(),
                analysed.issues()),
        () -> analysed.show(io, List.of(analysed.section("spread")), details));
  }

  private int ofTable() {
    refuse(!Files.isRegularFile(source), "there is no file or study folder " + source);
    SpreadOptions options = table.options();
    UnitTable read =
        UnitTable.read(
            source,
            understanding.onto(Mapping.none()),
            new UnitTable.Columns(
                table.value,
                table.labels(),
                table.blocks,
                table.covariates,
                table.serials == SerialRule.PER_LOT,
                table.accepted.contains(DataIssue.Code.DUPLICATE_READING),
                ""));
    MeasuredValues values =
        new MeasuredValues(
            "value",
            read.found().value(),
            table.unit,
            read.found().values(),
            read.labels(),
            table.influences(read.found()));
    CharacteristicSpread spread =
        io.during(
            "fitting " + values.values().size() + " values", () -> new Spread(options).of(values));
    Optional<String> no =
        spread.outcome() instanceof SpreadOutcome.NotEstimable reason
            ? Optional.of(SpreadWords.of(reason))
            : Optional.empty();
    int exit = no.isPresent() ? Exit.NO : Exit.DONE;
    String name = read.file().name();
    String hash = read.file().sha256();
    Origin origin = new Origin("spread", Origin.programVersion(), name, hash, exit);
    return answer(
        exit,
        () -> new Spreads(origin, List.of(spread), read.issues()),
        () -> {
          io.sayf("%s: %d values.", name, values.values().size());
          io.show(List.of(StudyReport.ofTable(spread)), details);
          io.showAll(read.issues());
          no.ifPresent(reason -> io.complain("no spread: " + reason));
        });
  }
}
