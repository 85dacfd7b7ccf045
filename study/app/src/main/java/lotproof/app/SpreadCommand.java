package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.function.UnaryOperator;
import lotproof.folder.ReceivedFile;
import lotproof.gather.ResultTable;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.report.assembly.SpreadReport;
import lotproof.report.data.ResultJson;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.SpreadOutcome;
import lotproof.study.Limits;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** How far units differ, and why: of a study, or of any table of results. */
@Command(
    name = "spread",
    header = "Show how far units differ, and why.",
    description = {
      "For a study folder: every characteristic. For a CSV or xlsx file: one column of numbers,"
          + " with the columns that name cells, boards and lots, as far as there are any. No study"
          + " folder is needed for that."
    },
    footer = {
      "  lotproof spread hive-scale",
      "  lotproof spread results.csv --value sensitivity --cell cell --board board",
      "  lotproof spread results.csv --value gain --board serial --board-lot lot --unit mV/V",
      "  lotproof spread results.csv --value zero --cell cell --covariate temp --block operator"
    })
final class SpreadCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(
      index = "0",
      paramLabel = "STUDY|FILE",
      description = "a study folder, or a table of results with a header line")
  private Path source = Path.of("");

  @ArgGroup(exclusive = false, heading = "%nFor a table of results:%n")
  private TableOptions table = new TableOptions();

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  SpreadCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  /** Options that a table of results needs and a study does not. */
  static final class TableOptions {
    @Option(
        names = "--value",
        paramLabel = "COLUMN",
        description = "the column of numbers (needed)")
    private String value = "";

    @Option(names = "--cell", paramLabel = "COLUMN", description = "serials of the cells")
    private String cell = "";

    @Option(names = "--board", paramLabel = "COLUMN", description = "serials of the boards")
    private String board = "";

    @Option(names = "--cell-lot", paramLabel = "COLUMN", description = "lots of the cells")
    private String cellLot = "";

    @Option(names = "--board-lot", paramLabel = "COLUMN", description = "lots of the boards")
    private String boardLot = "";

    @Option(
        names = "--serials",
        paramLabel = "RULE",
        description =
            "unique (default): a serial names one unit; per-lot: serials start again in every lot")
    private SerialRule serials = SerialRule.UNIQUE;

    @Option(
        names = "--covariate",
        paramLabel = "COLUMN",
        description =
            "a column of numbers, such as a temperature, whose influence is taken out; may be"
                + " repeated")
    private List<String> covariates = new ArrayList<>();

    @Option(
        names = "--block",
        paramLabel = "COLUMN",
        description =
            "a column of labels, such as day or operator, whose influence is taken out; may be"
                + " repeated")
    private List<String> blocks = new ArrayList<>();

    @Option(names = "--unit", paramLabel = "UNIT", description = "unit of measure, shown as it is")
    private String unit = "";

    @Option(names = "--content", description = "fraction of future kits, such as 0.95 (default)")
    private double content = SpreadOptions.DEFAULTS.content();

    @Option(names = "--confidence", description = "confidence, such as 0.95 (default)")
    private double confidence = SpreadOptions.DEFAULTS.confidence();

    @Option(names = "--lower", paramLabel = "LIMIT", description = "lower specification limit")
    private @Nullable Double lower;

    @Option(names = "--upper", paramLabel = "LIMIT", description = "upper specification limit")
    private @Nullable Double upper;

    private Map<Role, String> labels() {
      Map<Role, String> columns = new EnumMap<>(Role.class);
      putNamed(columns, Role.CELL, cell);
      putNamed(columns, Role.BOARD, board);
      putNamed(columns, Role.CELL_LOT, cellLot);
      putNamed(columns, Role.BOARD_LOT, boardLot);
      return columns;
    }

    private static void putNamed(Map<Role, String> columns, Role role, String column) {
      if (!column.isEmpty()) {
        columns.put(role, column);
      }
    }

    /** All columns of labels, each once. */
    private List<String> labelColumns() {
      Set<String> columns = new LinkedHashSet<>(labels().values());
      columns.addAll(blocks);
      return List.copyOf(columns);
    }

    private List<KnownInfluence> influences(ResultTable.Outcome.Found found) {
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
      try {
        Optional<Limits> limits =
            lower == null && upper == null
                ? Optional.empty()
                : Optional.of(new Limits(optional(lower), optional(upper)));
        return new SpreadOptions(content, confidence, limits, true);
      } catch (IllegalArgumentException e) {
        throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong option"));
      }
    }

    private static OptionalDouble optional(@Nullable Double value) {
      return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
    }
  }

  @Override
  public Integer call() {
    return Files.isDirectory(source) ? ofStudy() : ofTable();
  }

  private int ofStudy() {
    if (table.namesColumns()) {
      throw new UnusableException(
          "columns are named for a table of results; "
              + source
              + " is a folder (a study names its influences under spread in study.yaml)");
    }
    AnalysedStudy analysed = AnalysedStudy.of(io, source, UnaryOperator.identity());
    if (json) {
      io.out()
          .print(
              ResultJson.of(
                  new Messages.Spread(
                      Messages.Origin.of("spread", analysed, Exit.DONE),
                      analysed.result().asDecided().spreads(),
                      analysed.issues())));
    } else {
      new Screen(io.out(), program.palette()).showSections(analysed.only(block -> true, "spread"));
      Issues.printFirst(analysed.issues(), io.err());
    }
    return Exit.DONE;
  }

  private int ofTable() {
    if (!Files.isRegularFile(source)) {
      throw new UnusableException("there is no file or study folder " + source);
    }
    if (table.value.isEmpty()) {
      throw new UnusableException("name the column of numbers with --value");
    }
    SpreadOptions options = table.options();
    ReceivedFile file = received();
    Map<Role, String> columns = table.labels();
    ResultTable.Outcome outcome =
        ResultTable.read(file, Readers.all(), table.value, table.labelColumns(), table.covariates);
    if (outcome instanceof ResultTable.Outcome.Refused refused) {
      throw new UnusableException(refused.issues());
    }
    ResultTable.Outcome.Found found = (ResultTable.Outcome.Found) outcome;
    MeasuredValues values =
        new MeasuredValues(
            "value",
            table.value,
            table.unit,
            found.values(),
            UnitColumns.labels(file.name(), found, columns, table.serials, "--serials per-lot"),
            table.influences(found));
    CharacteristicSpread spread =
        new Progress(io).during("fitting", () -> new Spread(options).of(values));
    Optional<SpreadOutcome.NotEstimable> no =
        spread.outcome() instanceof SpreadOutcome.NotEstimable reason
            ? Optional.of(reason)
            : Optional.empty();
    int exit = no.isPresent() ? Exit.NO : Exit.DONE;
    String version = LotproofCommand.Version.number();
    if (json) {
      Messages.Origin origin =
          new Messages.Origin("spread", version, file.name(), file.sha256(), exit);
      io.out().print(ResultJson.of(new Messages.Spread(origin, List.of(spread), found.warnings())));
    } else {
      new Screen(io.out(), program.palette())
          .showSections(SpreadReport.of(file.name(), file.sha256(), version, spread));
      Issues.print(found.warnings(), io.err());
      no.ifPresent(reason -> io.err().println("no spread: " + reason.reason()));
    }
    return exit;
  }

  private ReceivedFile received() {
    try {
      return ReceivedFile.of(String.valueOf(source.getFileName()), Files.readAllBytes(source));
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + source, e);
    }
  }
}
