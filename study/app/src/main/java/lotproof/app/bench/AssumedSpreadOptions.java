package lotproof.app.bench;

import static lotproof.app.cli.CliCommand.refuse;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
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
import lotproof.study.Assumed;
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
    return PlanSetting.SPREAD.stream().anyMatch(it -> answers.given(it.name).isPresent());
  }

  /** What to assume at a level; where nothing was said, what is known. */
  Assumed assumed(CalibrationLevel level, Optional<Assumed> known) {
    Optional<Assumed> start = pilot == null ? known : Optional.of(ofPilot(pilot, level));
    refuse(
        start.isEmpty() && !complete() && !answers.asks(),
        "say what is known of the spread: --cell-sd, --board-sd and --repeat-sd, in grams or as a"
            + " data sheet says it, or a pilot table with --pilot");
    Optional<SaidSpread> cells = said(PlanSetting.CELL_SD, start.isEmpty());
    Optional<SaidSpread> boards = said(PlanSetting.BOARD_SD, start.isEmpty());
    Optional<SaidSpread> repeats = said(PlanSetting.REPEAT_SD, start.isEmpty());
    if (Stream.of(cells, boards).flatMap(Optional::stream).anyMatch(SaidSpread::percent)) {
      return characteristics(needed(cells), needed(boards), needed(repeats));
    }
    refuse(
        answers.given(PlanSetting.COMBINED_ERROR.name).isPresent(),
        "--combined-error goes with --cell-sd and --board-sd in %; in grams they hold all error");
    if (start.isPresent() && start.get() instanceof Assumed.DataSheet sheet) {
      refuse(anyNumber(), "the plan assumes characteristics in %; say all of them anew");
      return sheet;
    }
    Assumed.AtLevel base =
        start
            .map(Assumed.AtLevel.class::cast)
            .orElseGet(
                () -> new Assumed.AtLevel("assumed", level.label(), 0, 0, 0, 0, 1, 0.25, 0.25));
    String origin = base.origin() + (start.isPresent() && anyNumber() ? ", partly replaced" : "");
    return CliCommand.checked(
        () ->
            new Assumed.AtLevel(
                origin,
                level.label(),
                answers.number(PlanSetting.MEAN).orElse(base.meanGrams()),
                grams(PlanSetting.CELL_SD, cells, base.cellGrams()),
                grams(PlanSetting.BOARD_SD, boards, base.boardGrams()),
                grams(
                    PlanSetting.PAIRING_SD,
                    said(PlanSetting.PAIRING_SD, false),
                    base.pairingGrams()),
                grams(PlanSetting.REPEAT_SD, repeats, base.repeatGrams()),
                share(PlanSetting.CELL_LOT_SHARE, base.cellLotShare()),
                share(PlanSetting.BOARD_LOT_SHARE, base.boardLotShare())));
  }

  /** What a data sheet says, of which a calibration leaves the combined error and the repeats. */
  private Assumed.DataSheet characteristics(
      SaidSpread cells, SaidSpread boards, SaidSpread repeats) {
    refuse(
        answers.number(PlanSetting.MEAN).isPresent()
            || said(PlanSetting.PAIRING_SD, false).isPresent(),
        "--mean and --pairing-sd are in grams at one calibration level; with --cell-sd and"
            + " --board-sd in % they cannot be carried to another");
    refuse(
        !answers.asks() && answers.given(PlanSetting.COMBINED_ERROR.name).isEmpty(),
        "in % of the sensitivity, --combined-error is needed too, such as \"±0.05 %\" of capacity:"
            + " it is what a calibration leaves");
    SaidSpread combined = answers.read(PlanSetting.COMBINED_ERROR, SaidSpread::of);
    return CliCommand.checked(
        () ->
            new Assumed.DataSheet(
                "assumed",
                cells.percentage(PlanSetting.CELL_SD),
                boards.percentage(PlanSetting.BOARD_SD),
                combined.percentage(PlanSetting.COMBINED_ERROR),
                repeats.grams(PlanSetting.REPEAT_SD),
                share(PlanSetting.CELL_LOT_SHARE, 0.25),
                share(PlanSetting.BOARD_LOT_SHARE, 0.25)));
  }

  private static double grams(PlanSetting setting, Optional<SaidSpread> said, double otherwise) {
    return said.map(spread -> spread.grams(setting)).orElse(otherwise);
  }

  private static SaidSpread needed(Optional<SaidSpread> said) {
    return said.orElseThrow(
        () ->
            new UnusableException("in %, all of --cell-sd, --board-sd and --repeat-sd are needed"));
  }

  private double share(PlanSetting setting, double otherwise) {
    return answers.number(setting).orElse(otherwise);
  }

  /** What was given; else what is asked for, where all is needed. */
  private Optional<SaidSpread> said(PlanSetting setting, boolean all) {
    return all && answers.isMissing(setting)
        ? Optional.of(answers.read(setting, SaidSpread::of))
        : answers
            .given(setting.name)
            .map(text -> PlanAnswers.read(setting.name, text, SaidSpread::of));
  }

  private Assumed.AtLevel ofPilot(Path file, CalibrationLevel level) {
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
