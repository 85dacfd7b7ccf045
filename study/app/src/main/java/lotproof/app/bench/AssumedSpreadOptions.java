package lotproof.app.bench;

import static lotproof.app.cli.CliCommand.refuse;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.UnitTable;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.app.cli.UnusableException;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.model.MeasuredValues;
import lotproof.model.PooledSpread;
import lotproof.model.Role;
import lotproof.report.words.SpreadWords;
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.SpreadOutcome;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.study.AssumedSpread;
import lotproof.study.CalibrationLevel;
import lotproof.study.DataIssue;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What is known of the spread before a study: assumed numbers, or a pilot table. */
final class AssumedSpreadOptions extends SettingOptions {
  private static final List<Role> PILOT_ROLES =
      List.of(Role.CELL, Role.BOARD, Role.CELL_LOT, Role.BOARD_LOT);

  private final PlanAnswers answers;

  @Option(names = "--pilot", paramLabel = "FILE")
  private @Nullable Path pilot;

  @Option(names = "--pilot-value", paramLabel = "COLUMN")
  private String pilotValue = "error";

  @Option(names = "--pilot-columns", paramLabel = "CELL,BOARD[,LOTS]", split = ",")
  private List<String> pilotColumns = List.of("cell", "board");

  @Option(names = "--pilot-serials", paramLabel = "RULE")
  private SerialRule pilotSerials = SerialRule.UNIQUE;

  @Option(names = "--pilot-accept", paramLabel = "CODE", split = ",")
  private List<DataIssue.Code> pilotAccepted = List.of();

  AssumedSpreadOptions(PlanAnswers answers) {
    super("How the file of a pilot is to be understood");
    addSettings(OF_TABLES, Setting::key);
    this.answers = answers;
  }

  boolean hasPilot() {
    return pilot != null;
  }

  /** Whether enough was said to assume a spread without more. */
  boolean complete() {
    return hasPilot() || PlanSetting.SPREAD.stream().noneMatch(answers::isMissing);
  }

  /** Whether anything was said. */
  boolean isSaid() {
    return hasPilot() || anyNumber();
  }

  private boolean anyNumber() {
    return PlanSetting.SPREAD.stream().anyMatch(setting -> answers.number(setting).isPresent());
  }

  /** The spread to assume at a level, where nothing was said the known one. */
  AssumedSpread assumed(CalibrationLevel level, Optional<AssumedSpread> known) {
    Optional<AssumedSpread> start = pilot == null ? known : Optional.of(ofPilot(pilot, level));
    refuse(
        start.isEmpty() && !complete() && !answers.asks(),
        "say what is known of the spread: --cell-sd, --board-sd and --repeat-sd in grams, or a"
            + " pilot table with --pilot");
    AssumedSpread base =
        start.orElseGet(
            () -> new AssumedSpread("assumed", level.label(), 0, 0, 0, 0, 1, 0.25, 0.25));
    String origin = base.origin() + (start.isPresent() && anyNumber() ? ", partly replaced" : "");
    boolean all = start.isEmpty();
    return CliCommand.checked(
        () ->
            new AssumedSpread(
                origin,
                level.label(),
                number(PlanSetting.MEAN, all, base.meanGrams()),
                number(PlanSetting.CELL_SD, all, base.cellGrams()),
                number(PlanSetting.BOARD_SD, all, base.boardGrams()),
                number(PlanSetting.PAIRING_SD, all, base.pairingGrams()),
                number(PlanSetting.REPEAT_SD, all, base.repeatGrams()),
                number(PlanSetting.CELL_LOT_SHARE, all, base.cellLotShare()),
                number(PlanSetting.BOARD_LOT_SHARE, all, base.boardLotShare())));
  }

  /** What was given; else what is asked for, where all is needed that has no default. */
  private double number(PlanSetting setting, boolean all, double otherwise) {
    return all && answers.isMissing(setting)
        ? answers.read(setting, PlanDraft::number)
        : answers.number(setting).orElse(otherwise);
  }

  private AssumedSpread ofPilot(Path file, CalibrationLevel level) {
    refuse(!Files.isRegularFile(file), "there is no pilot table " + file);
    refuse(
        pilotColumns.size() < 2 || pilotColumns.size() > PILOT_ROLES.size(),
        "--pilot-columns takes two to four columns");
    Map<Role, String> columns = new EnumMap<>(Role.class);
    for (int i = 0; i < pilotColumns.size(); i++) {
      columns.put(PILOT_ROLES.get(i), pilotColumns.get(i));
    }
    UnitTable table =
        UnitTable.read(
            file,
            onto(Mapping.none()),
            new UnitTable.Columns(
                pilotValue,
                columns,
                List.of(),
                List.of(),
                pilotSerials == SerialRule.PER_LOT,
                pilotAccepted.contains(DataIssue.Code.DUPLICATE_READING),
                "pilot-"));
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
    String copies =
        table.issues().stream()
            .filter(issue -> issue.code() == DataIssue.Code.DUPLICATE_READING)
            .map(issue -> "; line " + issue.line() + ": " + issue.message())
            .collect(Collectors.joining());
    String origin =
        "pilot %s (%d runs%s%s)".formatted(file.getFileName(), errors.size(), resolved, copies);
    return PooledSpread.of(origin, level, estimated.mean(), variances);
  }
}
