package lotproof.plan.design;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lotproof.plan.Draws;
import lotproof.plan.design.Layout.Meeting;
import lotproof.study.BenchTimes;
import lotproof.study.PlannedRun;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Puts the meetings of a layout into the order of the bench.
 *
 * <p>Random, with these restrictions: passes follow one another, so that the study can end early;
 * within a pass the units of each lot are spread over its sessions as evenly as swapping finds; a
 * pair is not repeated in the session of its first run, and no unit is mounted twice running as
 * long as the pass allows it. The check standard is measured first, in the middle and last in each
 * session.
 */
public final class RunOrder {
  private static final int ROUNDS = 60;

  private final Layout layout;
  private final BenchTimes times;
  private final int[] cellLot;
  private final int[] boardLot;
  private final Draws draws;

  private RunOrder(Layout layout, BenchTimes times, long seed) {
    this.layout = layout;
    this.times = times;
    this.cellLot = layout.units().lotOf(UnitKind.CELL);
    this.boardLot = layout.units().lotOf(UnitKind.BOARD);
    this.draws = Draws.of(seed, -1);
  }

  /**
   * All runs in order.
   *
   * @param seed decides the order
   */
  public static List<PlannedRun> of(Layout layout, BenchTimes times, long seed) {
    RunOrder order = new RunOrder(layout, times, seed);
    return order.named(order.ordered());
  }

  private List<Meeting> ordered() {
    List<Meeting> order = new ArrayList<>();
    for (int pass = 1; pass <= layout.passes(); pass++) {
      List<Meeting> ofPass = new ArrayList<>(layout.ofPass(pass));
      draws.shuffle(ofPass);
      int from = order.size();
      order.addAll(ofPass);
      improve(order, from);
    }
    return order;
  }

  /** Swaps runs of one pass while that makes the order better. */
  private void improve(List<Meeting> order, int from) {
    int count = order.size() - from;
    if (count < 2) {
      return;
    }
    double cost = cost(order, from);
    for (int i = 0; i < ROUNDS * count && cost > 0; i++) {
      int a = from + draws.index(count);
      int b = from + draws.index(count);
      if (a == b) {
        continue;
      }
      Collections.swap(order, a, b);
      double changed = cost(order, from);
      if (changed <= cost) {
        cost = changed;
      } else {
        Collections.swap(order, a, b);
      }
    }
  }

  private double cost(List<Meeting> order, int from) {
    return unevenness(order, from)
        + 20.0 * repeatsTooSoon(order, from)
        + 2.0 * twiceRunning(order, from);
  }

  /** How far lots are from an even share of each session of the pass, beyond one unit. */
  private double unevenness(List<Meeting> order, int from) {
    int perSession = times.runsPerSession();
    int total = order.size() - from;
    double sum = 0;
    for (UnitKind kind : UnitKind.values()) {
      int lots = layout.units().lots(kind).size();
      int[] lotOf = kind == UnitKind.CELL ? cellLot : boardLot;
      int[] ofLot = new int[lots];
      for (int i = from; i < order.size(); i++) {
        ofLot[lotOf[order.get(i).unit(kind)]]++;
      }
      int start = from;
      while (start < order.size()) {
        int end = Math.min(order.size(), (start / perSession + 1) * perSession);
        int[] here = new int[lots];
        for (int i = start; i < end; i++) {
          here[lotOf[order.get(i).unit(kind)]]++;
        }
        for (int lot = 0; lot < lots; lot++) {
          double even = ofLot[lot] * (double) (end - start) / total;
          double off = Math.max(0, Math.abs(here[lot] - even) - 0.999_999);
          sum += off * off + 0.01 * (here[lot] - even) * (here[lot] - even);
        }
        start = end;
      }
    }
    // what cannot be avoided by whole units is small against one unit too many
    return sum;
  }

  private int repeatsTooSoon(List<Meeting> order, int from) {
    int perSession = times.runsPerSession();
    int count = 0;
    for (int i = from; i < order.size(); i++) {
      for (int j = i / perSession * perSession; j < i; j++) {
        count += order.get(j).samePair(order.get(i)) ? 1 : 0;
      }
    }
    return count;
  }

  private static int twiceRunning(List<Meeting> order, int from) {
    int count = 0;
    for (int i = Math.max(1, from); i < order.size(); i++) {
      Meeting before = order.get(i - 1);
      Meeting now = order.get(i);
      count += before.cell() == now.cell() || before.board() == now.board() ? 1 : 0;
    }
    return count;
  }

  private List<PlannedRun> named(List<Meeting> meetings) {
    Optional<Study.CheckStandard> check = layout.units().checkStandard();
    List<String> cells = layout.units().serials(UnitKind.CELL);
    List<String> boards = layout.units().serials(UnitKind.BOARD);
    List<PlannedRun> runs = new ArrayList<>();
    int perSession = times.runsPerSession();
    int sessions = times.sessionsFor(meetings.size());
    int digits = Math.max(2, String.valueOf(sessions).length());
    for (int session = 0; session < sessions; session++) {
      List<Meeting> here =
          meetings.subList(
              session * perSession, Math.min(meetings.size(), (session + 1) * perSession));
      int day = 1 + session / times.sessionsPerDay();
      String name = String.format(Locale.ROOT, "S%0" + digits + "d", session + 1);
      int before = runs.size();
      for (int i = 0; i <= here.size(); i++) {
        // with a single run of the study, first and middle are one
        if (check.isPresent() && (i == 0 || i == here.size() / 2 || i == here.size())) {
          String run = run(name, runs.size() - before);
          runs.add(new PlannedRun(day, name, run, check.get().cell(), check.get().board(), 0));
        }
        if (i < here.size()) {
          Meeting meeting = here.get(i);
          String cell = cells.get(meeting.cell());
          String board = boards.get(meeting.board());
          String run = run(name, runs.size() - before);
          runs.add(new PlannedRun(day, name, run, cell, board, meeting.pass()));
        }
      }
    }
    return runs;
  }

  private static String run(String session, int before) {
    return String.format(Locale.ROOT, "%s-%02d", session, before + 1);
  }
}
