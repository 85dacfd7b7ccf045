package lotproof.demo;

import java.util.List;
import java.util.stream.IntStream;
import lotproof.demo.DemoSchedule.Run;

/**
 * What went wrong on the invented bench, and which units it concerns. No unit has two troubles.
 *
 * @param noisyBoard index of the board whose reference oscillates
 * @param overloadedCell index of the cell that was overloaded after its first run
 * @param extremeCell index of the cell that is extreme without a cause
 * @param swappedFirst the first of two runs whose cell serials were exchanged
 * @param swappedSecond the second, which follows it
 * @param missing the planned run that was never made
 */
record DemoTroubles(
    int noisyBoard,
    int overloadedCell,
    int extremeCell,
    Run swappedFirst,
    Run swappedSecond,
    Run missing) {
  static final double NOISE_RATIO = 8;
  static final double SLOW_NOISE_SAMPLES = 0.1;
  static final double EXTREME_UNIT_SDS = 3.3;
  static final double OVERLOAD_ZERO_SHIFT_MILLIVOLT_PER_VOLT = 0.16;
  static final double OVERLOAD_LOG_SENSITIVITY_SHIFT = -0.002;
  static final double OVERLOAD_HYSTERESIS_SHIFT = 0.0003;

  static DemoTroubles choose(
      DemoSchedule schedule, DemoUnits<CellTrait> cells, DemoUnits<BoardTrait> boards) {
    int overloaded = firstCell(schedule, cells.size(), 14);
    int extreme = firstCell(schedule, cells.size(), overloaded + 7);
    int noisy = boards.size() / 2 + 3;
    for (Run run : schedule.runs()) {
      Run next = follower(schedule, run);
      boolean free =
          run.pass() == 2
              && next.session() == run.session()
              && apart(cells, run.cell(), next.cell())
              && List.of(run, next).stream()
                  .noneMatch(
                      r ->
                          r.cell() == overloaded
                              || r.cell() == extreme
                              || r.board() == noisy
                              || schedule.isCellRepeated(r.cell()));
      if (free) {
        Run missing =
            missing(schedule, List.of(run.cell(), next.cell(), overloaded, extreme), noisy);
        return new DemoTroubles(noisy, overloaded, extreme, run, next, missing);
      }
    }
    throw new IllegalStateException("this seed has no two runs that can be exchanged");
  }

  /** Two cells that anyone can tell apart, so that the exchange can be found. */
  private static boolean apart(DemoUnits<CellTrait> cells, int one, int other) {
    double difference =
        cells.traits().get(one).get(CellTrait.LOG_SENSITIVITY)
            - cells.traits().get(other).get(CellTrait.LOG_SENSITIVITY);
    return Math.abs(difference) > 0.008;
  }

  private static Run follower(DemoSchedule schedule, Run run) {
    int next = schedule.runs().indexOf(run) + 1;
    return schedule.runs().get(Math.min(next, schedule.runs().size() - 1));
  }

  private static int firstCell(DemoSchedule schedule, int count, int from) {
    return IntStream.range(from, count)
        .filter(cell -> !schedule.isCellRepeated(cell))
        .findFirst()
        .orElseThrow(() -> new IllegalStateException("this seed repeats every cell"));
  }

  private static Run missing(DemoSchedule schedule, List<Integer> taken, int noisyBoard) {
    return schedule.runs().stream()
        .filter(run -> run.pass() == 2 && run.place() == DemoSchedule.RUNS_PER_SESSION - 1)
        .filter(run -> !taken.contains(run.cell()) && run.board() != noisyBoard)
        .filter(run -> !schedule.isCellRepeated(run.cell()))
        .findFirst()
        .orElseThrow(() -> new IllegalStateException("this seed has no run that can be missing"));
  }
}
