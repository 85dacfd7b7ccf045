package lotproof.demo;

import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import lotproof.demo.DemoSchedule.Run;
import lotproof.demo.SimulatedBench.JoinedPair;
import lotproof.demo.SimulatedBench.Warmth;
import lotproof.plan.Draws;

/** Runs the invented sessions and writes what a bench would have written. */
final class DemoBench {
  static final String HEADER =
      "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],"
          + "cell temperature [°C],board temperature [°C],remark";
  static final String CHECK_CELL = "C0-0007";
  static final String CHECK_BOARD = "B0-0003";
  private static final double SECONDS_BETWEEN_RUNS = 240;
  private static final double BOARD_WARMER_KELVIN = 1.2;

  private final SimulatedBench bench = new SimulatedBench(HiveScale.bench());
  private final DemoUnits<CellTrait> cells;
  private final DemoUnits<BoardTrait> boards;
  private final DemoTroubles troubles;
  private final Draws draws;
  private final JoinedPair checkPair;
  private final Map<List<Integer>, JoinedPair> pairs = new HashMap<>();

  DemoBench(
      DemoUnits<CellTrait> cells,
      DemoUnits<BoardTrait> boards,
      DemoTroubles troubles,
      Draws draws) {
    this.cells = cells;
    this.boards = boards;
    this.troubles = troubles;
    this.draws = draws;
    this.checkPair = bench.join(HiveScale.cells().average(), HiveScale.boards().average(), draws);
  }

  /** The file of one session. */
  String session(int session, List<Run> runs) {
    Room room = new Room(draws);
    StringBuilder file = new StringBuilder(HEADER).append('\n');
    String name = String.format(Locale.ROOT, "S%02d", session + 1);
    List<Sheet> sheets = new ArrayList<>();
    sheets.add(check(name + "-01"));
    for (Run run : runs) {
      if (run.place() == DemoSchedule.RUNS_PER_SESSION / 2) {
        sheets.add(check(String.format(Locale.ROOT, "%s-%02d", name, run.place() + 2)));
      }
      sheets.add(sheet(run));
    }
    sheets.add(check(String.format(Locale.ROOT, "%s-%02d", name, runs.size() + 3)));
    double runSeconds =
        bench.model().secondsPerStep() * HiveScale.LOADS_KILOGRAMS.size() + SECONDS_BETWEEN_RUNS;
    for (int i = 0; i < sheets.size(); i++) {
      Sheet sheet = sheets.get(i);
      if (!sheet.run().equals(troubles.missing().name())) {
        write(file, name, sheet, DemoSchedule.start(session), i * runSeconds, room);
      }
    }
    return file.toString();
  }

  /** Pairing effects as they were drawn, by the indices of cell and board. */
  Map<List<Integer>, JoinedPair> pairs() {
    return Map.copyOf(pairs);
  }

  /** What is written over the columns of one run: serials as noted, the pair as it really was. */
  private record Sheet(String run, String cell, String board, JoinedPair pair, String remark) {}

  private Sheet check(String run) {
    return new Sheet(run, CHECK_CELL, CHECK_BOARD, checkPair, "check");
  }

  private Sheet sheet(Run run) {
    int noted = run.cell();
    if (run.equals(troubles.swappedFirst())) {
      noted = troubles.swappedSecond().cell();
    } else if (run.equals(troubles.swappedSecond())) {
      noted = troubles.swappedFirst().cell();
    }
    boolean overloaded = run.cell() == troubles.overloadedCell();
    String remark =
        overloaded && run.pass() == 1
            ? "masses slipped onto the platform when the run was cleared; cell overloaded"
            : "";
    JoinedPair pair =
        pairs.computeIfAbsent(
            List.of(run.cell(), run.board()),
            key ->
                bench.join(
                    cells.traits().get(run.cell()), boards.traits().get(run.board()), draws));
    if (overloaded && run.pass() > 1) {
      pair = new JoinedPair(damaged(pair.cell()), pair.board(), pair.pairingLogGain());
    }
    return new Sheet(
        run.name(), cells.serials().get(noted), boards.serials().get(run.board()), pair, remark);
  }

  private static Traits<CellTrait> damaged(Traits<CellTrait> cell) {
    return cell.with(
            CellTrait.ZERO,
            cell.get(CellTrait.ZERO) + DemoTroubles.OVERLOAD_ZERO_SHIFT_MILLIVOLT_PER_VOLT)
        .with(
            CellTrait.LOG_SENSITIVITY,
            cell.get(CellTrait.LOG_SENSITIVITY) + DemoTroubles.OVERLOAD_LOG_SENSITIVITY_SHIFT)
        .with(
            CellTrait.HYSTERESIS,
            cell.get(CellTrait.HYSTERESIS) + DemoTroubles.OVERLOAD_HYSTERESIS_SHIFT);
  }

  private void write(
      StringBuilder file,
      String session,
      Sheet sheet,
      LocalDateTime sessionStart,
      double startSeconds,
      Room room) {
    double celsius = room.celsius(startSeconds);
    Warmth warmth =
        new Warmth(celsius, celsius + BOARD_WARMER_KELVIN, room.kelvinPerHour(startSeconds));
    double[] loads = HiveScale.LOADS_KILOGRAMS.stream().mapToDouble(d -> d).toArray();
    SimulatedRun run = bench.run(sheet.pair(), loads, warmth, draws);
    for (int step = 0; step < loads.length; step++) {
      long seconds = Math.round(startSeconds + step * bench.model().secondsPerStep());
      boolean last = step == loads.length - 1;
      file.append(
          String.format(
              Locale.ROOT,
              "%s,%s,%s,%d,%s,%s,%.0f,%.1f,%.1f,%.2f,%.2f,%s\n",
              session,
              sessionStart.plusSeconds(seconds).format(DateTimeFormatter.ISO_LOCAL_DATE_TIME),
              sheet.run(),
              step + 1,
              sheet.cell(),
              sheet.board(),
              loads[step],
              run.outputCounts()[step],
              run.noiseCounts()[step],
              run.cellCelsius()[step] + 0.03 * draws.gaussian(),
              run.boardCelsius()[step] + 0.03 * draws.gaussian(),
              last || sheet.remark().equals("check") ? sheet.remark() : ""));
    }
  }

  /** The room warms up during a session and levels off. */
  private static final class Room {
    private static final double WARMING_SECONDS = 5400;
    private final double startCelsius;
    private final double riseKelvin;

    Room(Draws draws) {
      startCelsius = draws.uniform(19.3, 21.3);
      riseKelvin = draws.uniform(0.4, 2.2);
    }

    double celsius(double seconds) {
      return startCelsius + riseKelvin * (1 - StrictMath.exp(-seconds / WARMING_SECONDS));
    }

    double kelvinPerHour(double seconds) {
      return riseKelvin * StrictMath.exp(-seconds / WARMING_SECONDS) * 3600 / WARMING_SECONDS;
    }
  }
}
