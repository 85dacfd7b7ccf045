package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.gather.ResultTable;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.Component;
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.SpreadOutcome;
import lotproof.study.AssumedSpread;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What is known of the spread before a study: assumed numbers, or a pilot table. */
final class SpreadOptionsOfPlan {
  /** Share of the total that a spread of repeats gets when a pilot shows none. */
  private static final double LEAST_REPEAT_SHARE = 1e-3;

  @Option(
      names = "--mean",
      paramLabel = "G",
      description = "mean error of all kits at the worst load, in grams (default 0)")
  @Nullable Double mean;

  @Option(names = "--cell-sd", paramLabel = "G", description = "spread between cells, grams")
  @Nullable Double cell;

  @Option(names = "--board-sd", paramLabel = "G", description = "spread between boards, grams")
  @Nullable Double board;

  @Option(names = "--pairing-sd", paramLabel = "G", description = "spread of pairing (default 0)")
  @Nullable Double pairing;

  @Option(
      names = "--repeat-sd",
      paramLabel = "G",
      description = "spread from one run of a pair to the next, grams")
  @Nullable Double repeat;

  @Option(
      names = "--cell-lot-share",
      paramLabel = "F",
      description = "part of the cells' variance that is between lots, 0..1 (default 0.25)")
  @Nullable Double cellLotShare;

  @Option(
      names = "--board-lot-share",
      paramLabel = "F",
      description = "part of the boards' variance that is between lots, 0..1 (default 0.25)")
  @Nullable Double boardLotShare;

  @Option(
      names = "--pilot",
      paramLabel = "FILE",
      description = "a table with the error of reading in grams, one row a run")
  @Nullable Path pilot;

  @Option(
      names = "--pilot-value",
      paramLabel = "COLUMN",
      description = "its column of errors in grams (default: error)")
  String pilotValue = "error";

  @Option(
      names = "--pilot-columns",
      paramLabel = "CELL,BOARD[,LOTS]",
      split = ",",
      description =
          "its columns of cell and board serials, and of cell and board lots if there are any"
              + " (default: cell,board)")
  List<String> pilotColumns = List.of("cell", "board");

  @Option(
      names = "--pilot-serials",
      paramLabel = "RULE",
      description =
          "unique (default): a serial of the pilot names one unit; per-lot: serials start again in"
              + " every lot")
  SerialRule pilotSerials = SerialRule.UNIQUE;

  /** Whether anything was said. */
  boolean given() {
    return pilot != null
        || Stream.of(mean, cell, board, pairing, repeat, cellLotShare, boardLotShare)
            .anyMatch(Objects::nonNull);
  }

  /** Whether enough was said to assume a spread without more. */
  boolean complete() {
    return pilot != null || (cell != null && board != null && repeat != null);
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
    AssumedSpread base =
        start.orElseGet(() -> new AssumedSpread("assumed", 0, 0, 0, 0, 1, 0.25, 0.25));
    boolean changed =
        Stream.of(mean, cell, board, pairing, repeat, cellLotShare, boardLotShare)
            .anyMatch(Objects::nonNull);
    String origin =
        start.isEmpty() ? "assumed" : base.origin() + (changed ? ", partly replaced" : "");
    try {
      return new AssumedSpread(
          origin,
          or(mean, base.meanGrams()),
          or(cell, base.cellGrams()),
          or(board, base.boardGrams()),
          or(pairing, base.pairingGrams()),
          or(repeat, base.repeatGrams()),
          or(cellLotShare, base.cellLotShare()),
          or(boardLotShare, base.boardLotShare()));
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong spread"));
    }
  }

  private static double or(@Nullable Double given, double otherwise) {
    return given == null ? otherwise : given;
  }

  private AssumedSpread ofPilot(Path file) {
    if (!Files.isRegularFile(file)) {
      throw new UnusableException("there is no pilot table " + file);
    }
    if (pilotColumns.size() < 2 || pilotColumns.size() > 4) {
      throw new UnusableException("--pilot-columns takes two to four columns");
    }
    List<Role> roles = List.of(Role.CELL, Role.BOARD, Role.CELL_LOT, Role.BOARD_LOT);
    ResultTable.Outcome outcome;
    try {
      outcome =
          ResultTable.read(
              ReceivedFile.of(String.valueOf(file.getFileName()), Files.readAllBytes(file)),
              Readers.all(),
              pilotValue,
              new ArrayList<>(pilotColumns),
              List.of());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + file, e);
    }
    if (outcome instanceof ResultTable.Outcome.Refused refused) {
      throw new UnusableException(refused.issues());
    }
    ResultTable.Outcome.Found found = (ResultTable.Outcome.Found) outcome;
    Map<Role, String> columns = new EnumMap<>(Role.class);
    for (int i = 0; i < pilotColumns.size(); i++) {
      columns.put(roles.get(i), pilotColumns.get(i));
    }
    Map<Role, List<String>> labels =
        UnitColumns.labels(
            String.valueOf(file.getFileName()),
            found,
            columns,
            pilotSerials,
            "--pilot-serials per-lot");
    MeasuredValues values =
        new MeasuredValues("error", "Error of reading", "g", found.values(), labels);
    SpreadOutcome spread =
        new Spread(new SpreadOptions(0.95, 0.95, Optional.empty(), false)).of(values).outcome();
    if (spread instanceof SpreadOutcome.NotEstimable no) {
      throw new UnusableException(file + " says nothing of the spread: " + no.reason());
    }
    SpreadOutcome.Estimated estimated = (SpreadOutcome.Estimated) spread;
    Map<Role, Double> variances = new EnumMap<>(Role.class);
    for (Component component : estimated.components()) {
      variances.put(component.role(), component.variance());
    }
    return ofVariances(
        "pilot "
            + file.getFileName()
            + " ("
            + found.values().size()
            + " runs"
            + (variances.containsKey(Role.CELL) ? ")" : ", kits not told apart: taken as cells)"),
        estimated.mean(),
        variances);
  }

  /** A spread from estimated variances; what was not told apart counts as cells. */
  static AssumedSpread ofVariances(String origin, double mean, Map<Role, Double> variances) {
    double cellLot = variances.getOrDefault(Role.CELL_LOT, 0.0);
    double boardLot = variances.getOrDefault(Role.BOARD_LOT, 0.0);
    double residual = variances.getOrDefault(Role.RESIDUAL, 0.0);
    boolean noUnits =
        !variances.containsKey(Role.CELL)
            && !variances.containsKey(Role.BOARD)
            && !variances.containsKey(Role.KIT);
    double cell =
        variances.getOrDefault(Role.CELL, 0.0)
            + variances.getOrDefault(Role.KIT, 0.0)
            + (noUnits ? residual : 0)
            + cellLot;
    double board = variances.getOrDefault(Role.BOARD, 0.0) + boardLot;
    double pairing = variances.getOrDefault(Role.PAIR, 0.0);
    double total = cell + board + pairing + residual;
    double repeat = Math.max(noUnits ? 0 : residual, LEAST_REPEAT_SHARE * total);
    return new AssumedSpread(
        origin,
        mean,
        Math.sqrt(cell),
        Math.sqrt(board),
        Math.sqrt(pairing),
        Math.sqrt(repeat),
        cell > 0 ? cellLot / cell : 0,
        board > 0 ? boardLot / board : 0);
  }
}
