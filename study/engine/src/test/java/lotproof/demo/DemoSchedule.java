package lotproof.demo;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.IntStream;
import lotproof.plan.Draws;
import lotproof.study.Design.PlannedPair;

/**
 * Who is measured with whom, when.
 *
 * <p>First pass: every cell once, every board once. Second pass: each cell with the next board.
 * Then repeats of some pairs on other days. Within a pass the order is random.
 *
 * @param runs all planned runs in bench order, without the check runs
 */
record DemoSchedule(List<Run> runs) {
  static final int RUNS_PER_SESSION = 10;
  static final int REPEATS = 20;

  /**
   * One planned run.
   *
   * @param session index of the session
   * @param place place in the session, from 0
   * @param cell index of the cell
   * @param board index of the board
   * @param pass 1 or 2; 3 for a repeat
   */
  record Run(int session, int place, int cell, int board, int pass) {
    /** The name of the run in the files. Check runs stand before, in the middle of and after. */
    String name() {
      int withChecks = place < RUNS_PER_SESSION / 2 ? place + 2 : place + 3;
      return String.format(Locale.ROOT, "S%02d-%02d", session + 1, withChecks);
    }
  }

  static DemoSchedule draw(int units, Draws draws) {
    List<Integer> cellRing = shuffled(units, draws);
    List<Integer> boardRing = shuffled(units, draws);
    List<int[]> first = new ArrayList<>();
    List<int[]> second = new ArrayList<>();
    for (int i = 0; i < units; i++) {
      first.add(new int[] {cellRing.get(i), boardRing.get(i), 1});
      second.add(new int[] {cellRing.get(i), boardRing.get((i + 1) % units), 2});
    }
    List<int[]> repeats = new ArrayList<>(first);
    repeats.addAll(second);
    draws.shuffle(repeats);
    draws.shuffle(first);
    draws.shuffle(second);
    List<int[]> order = new ArrayList<>(first);
    order.addAll(second);
    repeats.stream().limit(REPEATS).forEach(r -> order.add(new int[] {r[0], r[1], 3}));
    List<Run> runs = new ArrayList<>();
    for (int i = 0; i < order.size(); i++) {
      int[] run = order.get(i);
      runs.add(new Run(i / RUNS_PER_SESSION, i % RUNS_PER_SESSION, run[0], run[1], run[2]));
    }
    return new DemoSchedule(Collections.unmodifiableList(runs));
  }

  private static List<Integer> shuffled(int units, Draws draws) {
    List<Integer> order = new ArrayList<>(IntStream.range(0, units).boxed().toList());
    draws.shuffle(order);
    return order;
  }

  int sessions() {
    return runs.size() / RUNS_PER_SESSION;
  }

  List<Run> ofSession(int session) {
    return runs.stream().filter(run -> run.session() == session).toList();
  }

  /** Whether a pair with this cell is measured a second time. */
  boolean isCellRepeated(int cell) {
    return runs.stream().anyMatch(run -> run.pass() == 3 && run.cell() == cell);
  }

  /** The planned pairs with the number of their runs, in order of their first run. */
  List<PlannedPair> plannedPairs(List<String> cellSerials, List<String> boardSerials) {
    Map<List<Integer>, Integer> counts = new LinkedHashMap<>();
    for (Run run : runs) {
      counts.merge(List.of(run.cell(), run.board()), 1, Integer::sum);
    }
    return counts.keySet().stream()
        .map(
            pair ->
                new PlannedPair(
                    cellSerials.get(pair.get(0)),
                    boardSerials.get(pair.get(1)),
                    Objects.requireNonNull(counts.get(pair))))
        .toList();
  }

  /** Sessions are held on working days, one in the morning and one after lunch. */
  static LocalDateTime start(int session) {
    int day = session / 2;
    int weekend = day >= 5 ? 2 : 0;
    LocalDateTime firstMorning = LocalDateTime.of(2026, 9, 7, 8, 30);
    return firstMorning.plusDays(day + weekend).plusHours(session % 2 == 0 ? 0 : 5);
  }
}
