package lotproof.app.bench;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.SerialRule;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.UnitTable;
import lotproof.app.cli.UnusableException;
import lotproof.gather.tables.Mapping;
import lotproof.model.MeasuredValues;
import lotproof.model.PooledSpread;
import lotproof.model.Role;
import lotproof.report.words.SpreadWords;
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.SpreadOutcome;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.study.AssumedSpread;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;

/** What is known of the spread before a study: assumed numbers, or a pilot table. */
final class AssumedSpreadOptions {
  private static final AssumedSpread NOTHING_KNOWN =
      new AssumedSpread("assumed", 0, 0, 0, 0, 1, 0.25, 0.25);
  private static final List<Role> PILOT_ROLES =
      List.of(Role.CELL, Role.BOARD, Role.CELL_LOT, Role.BOARD_LOT);

  private final Map<PlanSetting, Double> given = new EnumMap<>(PlanSetting.class);
  private final Map<PlanSetting, OptionSpec> options = new EnumMap<>(PlanSetting.class);

  private final SettingOptions understanding = SettingOptions.ofTables();

  @Option(
      names = "--pilot",
      paramLabel = "FILE",
      description = "a table with the error of reading in grams, one row a run")
  private @Nullable Path pilot;

  @Option(
      names = "--pilot-value",
      paramLabel = "COLUMN",
      description = "its column of errors in grams (default: error)")
  private String pilotValue = "error";

  @Option(
      names = "--pilot-columns",
      paramLabel = "CELL,BOARD[,LOTS]",
      split = ",",
      description =
          "its columns of cell and board serials, and of cell and board lots if there are any"
              + " (default: cell,board)")
  private List<String> pilotColumns = List.of("cell", "board");

  @Option(
      names = "--pilot-serials",
      paramLabel = "RULE",
      description =
          "unique (default): a serial of the pilot names one unit; per-lot: serials start again in"
              + " every lot")
  private SerialRule pilotSerials = SerialRule.UNIQUE;

  AssumedSpreadOptions() {
    PlanSetting.SPREAD.forEach(setting -> options.put(setting, setting.spec()));
  }

  void addTo(CommandSpec spec) {
    options.values().forEach(spec::addOption);
    understanding.addTo(spec, "How the file of a pilot is to be understood");
  }

  /** The settings that have no default and were not given; none when there is a pilot. */
  List<PlanSetting> missing() {
    return pilot != null
        ? List.of()
        : PlanSetting.SPREAD.stream()
            .filter(setting -> setting.otherwise == null && said(setting).isEmpty())
            .toList();
  }

  private Optional<Double> said(PlanSetting setting) {
    String text = Objects.requireNonNull(options.get(setting)).getValue();
    return text == null
        ? Optional.ofNullable(given.get(setting))
        : Optional.of(PlanParsers.read(setting.option, text, PlanParsers::number));
  }

  /** Takes an answer for a setting. */
  void take(PlanSetting setting, double value) {
    given.put(setting, value);
  }

  /** Whether enough was said to assume a spread without more. */
  boolean complete() {
    return missing().isEmpty();
  }

  /** Whether anything was said. */
  boolean given() {
    return pilot != null || anyNumber();
  }

  private boolean anyNumber() {
    return PlanSetting.SPREAD.stream().anyMatch(setting -> said(setting).isPresent());
  }

  /**
   * The spread to assume.
   *
   * @param known what holds where nothing was said
   */
  AssumedSpread assumed(Optional<AssumedSpread> known) {
    Optional<AssumedSpread> start = pilot == null ? known : Optional.of(ofPilot(pilot));
    if (start.isEmpty() && !complete()) {
      throw new UnusableException(
          "say what is known of the spread: --cell-sd, --board-sd and --repeat-sd in grams, or a"
              + " pilot table with --pilot");
    }
    AssumedSpread base = start.orElse(NOTHING_KNOWN);
    String origin = base.origin() + (start.isPresent() && anyNumber() ? ", partly replaced" : "");
    return CliCommand.checked(
        () ->
            new AssumedSpread(
                origin,
                said(PlanSetting.MEAN).orElse(base.meanGrams()),
                said(PlanSetting.CELL_SD).orElse(base.cellGrams()),
                said(PlanSetting.BOARD_SD).orElse(base.boardGrams()),
                said(PlanSetting.PAIRING_SD).orElse(base.pairingGrams()),
                said(PlanSetting.REPEAT_SD).orElse(base.repeatGrams()),
                said(PlanSetting.CELL_LOT_SHARE).orElse(base.cellLotShare()),
                said(PlanSetting.BOARD_LOT_SHARE).orElse(base.boardLotShare())));
  }

  private AssumedSpread ofPilot(Path file) {
    if (!Files.isRegularFile(file)) {
      throw new UnusableException("there is no pilot table " + file);
    }
    if (pilotColumns.size() < 2 || pilotColumns.size() > PILOT_ROLES.size()) {
      throw new UnusableException("--pilot-columns takes two to four columns");
    }
    Map<Role, String> columns = new EnumMap<>(Role.class);
    for (int i = 0; i < pilotColumns.size(); i++) {
      columns.put(PILOT_ROLES.get(i), pilotColumns.get(i));
    }
    UnitTable table =
        UnitTable.read(
            file,
            understanding.onto(Mapping.none()),
            new UnitTable.Columns(
                pilotValue,
                columns,
                List.of(),
                List.of(),
                pilotSerials == SerialRule.PER_LOT,
                "--pilot-serials per-lot"));
    List<Double> errors = table.found().values();
    SpreadOutcome outcome =
        new Spread(new SpreadOptions(0.95, 0.95, Optional.empty(), false))
            .of(new MeasuredValues("error", "Error of reading", "g", errors, table.labels()))
            .outcome();
    if (outcome instanceof SpreadOutcome.NotEstimable no) {
      throw new UnusableException(file + " says nothing of the spread: " + SpreadWords.of(no));
    }
    SpreadOutcome.Estimated estimated = (SpreadOutcome.Estimated) outcome;
    Map<Role, Double> variances = new EnumMap<>(Role.class);
    for (Component component : estimated.components()) {
      variances.put(component.role(), component.variance());
    }
    String resolved =
        variances.containsKey(Role.CELL) ? "" : ", cells and boards not separable: taken as cells";
    String origin = "pilot " + file.getFileName() + " (" + errors.size() + " runs" + resolved + ")";
    return PooledSpread.of(origin, estimated.mean(), variances);
  }
}
