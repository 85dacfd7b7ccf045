package lotproof.plan.design;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.plan.Draws;
import lotproof.study.Design;
import lotproof.study.UnitKind;
import lotproof.study.Units;

/**
 * Who meets whom, pass by pass.
 *
 * <p>Cells and boards stand in two random rings, and the design says which places of the rings
 * meet. Lots are mixed: many rings are drawn and the one is kept in which the lots of cells meet
 * the lots of boards most evenly. The first pass is made of pairs that share no unit as far as
 * there are units, so that a study that ends early is still a study of independent kits.
 */
public record Layout(Units units, List<Meeting> meetings) {
  private static final int RINGS_TRIED = 200;
  private static final int MOST_REPEATS = 20;
  private static final double REPEATED_SHARE = 0.4;
  private static final int FEWEST_REPEATS = 10;

  /** Runs of the reference pair itself, whose error enters every kit. */
  public static final int REFERENCE_RUNS = 8;

  /** A cell and a board that meet for one run. */
  public record Meeting(int cell, int board, int pass) {
    int unit(UnitKind kind) {
      return kind == UnitKind.CELL ? cell : board;
    }

    boolean samePair(Meeting other) {
      return cell == other.cell && board == other.board;
    }
  }

  public Layout {
    meetings = List.copyOf(meetings);
  }

  /**
   * Lays a design out.
   *
   * @param kind any but the reference partner; see {@link #onReferences}
   * @param seed decides the rings
   */
  public static Layout of(DesignKind kind, Units units, long seed) {
    if (kind == DesignKind.REFERENCE_PARTNER) {
      throw new IllegalArgumentException("a reference partner is no layout of kits");
    }
    Draws draws = Draws.of(seed, List.of(DesignKind.values()).indexOf(kind));
    return IntStream.range(0, RINGS_TRIED)
        .mapToObj(i -> new Layout(units, drawn(kind, units, draws)))
        .min(Comparator.comparingDouble(Layout::unevenness))
        .orElseThrow();
  }

  /** The planned pairs of a study. */
  public static Layout of(Units units, List<Design.PlannedPair> pairs) {
    List<String> cells = units.serials(UnitKind.CELL);
    List<String> boards = units.serials(UnitKind.BOARD);
    List<Meeting> meetings = new ArrayList<>();
    for (Design.PlannedPair pair : pairs) {
      for (int pass = 1; pass <= pair.runs(); pass++) {
        meetings.add(new Meeting(cells.indexOf(pair.cell()), boards.indexOf(pair.board()), pass));
      }
    }
    return new Layout(units, meetings);
  }

  /**
   * Every cell on the reference board, every board on the reference cell, and the two references
   * with each other now and then. The layout's units hold the references last.
   *
   * @throws IllegalArgumentException when a reference is a unit of a lot
   */
  public static Layout onReferences(Units units, Design.ReferencePartners partners) {
    Units all = units.with(partners);
    int cells = units.serials(UnitKind.CELL).size();
    int boards = units.serials(UnitKind.BOARD).size();
    List<Meeting> meetings = new ArrayList<>();
    for (int cell = 0; cell < cells; cell++) {
      meetings.add(new Meeting(cell, boards, 1));
    }
    for (int board = 0; board < boards; board++) {
      meetings.add(new Meeting(cells, board, 1));
    }
    for (int run = 0; run < REFERENCE_RUNS; run++) {
      meetings.add(new Meeting(cells, boards, 1));
    }
    return new Layout(all, meetings);
  }

  private static List<Meeting> drawn(DesignKind kind, Units units, Draws draws) {
    List<Integer> cells = ring(units, UnitKind.CELL, draws);
    List<Integer> boards = ring(units, UnitKind.BOARD, draws);
    List<Meeting> meetings =
        switch (kind) {
          case BLOCKS -> blocks(cells, boards);
          case FULL_CROSSING -> crossing(cells, boards);
          default -> rotation(cells, boards, kind.partners());
        };
    if (kind.hasRepeats()) {
      meetings.addAll(repeats(meetings, kind.partners() + 1, draws));
    }
    return meetings;
  }

  /** All units in random order, dealt lot by lot so that neighbours come from different lots. */
  private static List<Integer> ring(Units units, UnitKind kind, Draws draws) {
    int[] lotOf = units.lotOf(kind);
    List<Integer> order = new ArrayList<>(IntStream.range(0, lotOf.length).boxed().toList());
    draws.shuffle(order);
    int[] seen = new int[units.lots(kind).size()];
    double[] place = new double[lotOf.length];
    for (int unit : order) {
      int lot = lotOf[unit];
      int size = units.lots(kind).get(lot).serials().size();
      // the units of each lot lie evenly along the ring, from a random start
      place[unit] = (seen[lot]++ + draws.uniform(0, 1)) / size;
    }
    order.sort(Comparator.comparingDouble(unit -> place[unit]));
    return order;
  }

  private static List<Meeting> rotation(List<Integer> cells, List<Integer> boards, int partners) {
    int length =
        partners == 1
            ? Math.min(cells.size(), boards.size())
            : Math.max(cells.size(), boards.size());
    List<Meeting> meetings = new ArrayList<>();
    Set<List<Integer>> met = new HashSet<>();
    int passes = Math.min(partners, Math.min(cells.size(), boards.size()));
    for (int pass = 0; pass < passes; pass++) {
      for (int i = 0; i < length; i++) {
        int cell = cells.get(i % cells.size());
        // with unequal numbers the rings can bring two together again: the next board is taken
        for (int step = 0; step < boards.size(); step++) {
          int board = boards.get((i + pass + step) % boards.size());
          if (met.add(List.of(cell, board))) {
            meetings.add(new Meeting(cell, board, pass + 1));
            break;
          }
        }
      }
    }
    return meetings;
  }

  private static List<Meeting> blocks(List<Integer> cells, List<Integer> boards) {
    int count = Math.max(1, Math.min(cells.size(), boards.size()) / 2);
    return IntStream.range(0, count)
        .mapToObj(block -> latin(dealt(cells, count, block), dealt(boards, count, block)))
        .flatMap(List::stream)
        .sorted(Comparator.comparingInt(Meeting::pass))
        .toList();
  }

  /** Every so many-th of a ring. */
  private static List<Integer> dealt(List<Integer> ring, int every, int first) {
    return IntStream.range(0, ring.size())
        .filter(i -> i % every == first)
        .mapToObj(ring::get)
        .toList();
  }

  /** Few units of each kind, in about as many runs as a rotation of two passes takes. */
  private static List<Meeting> crossing(List<Integer> cells, List<Integer> boards) {
    int more = Math.max(cells.size(), boards.size());
    int fewer = Math.min(cells.size(), boards.size());
    int size = Math.max(2, Math.min((int) Math.floor(Math.sqrt(2.0 * more)), fewer));
    return latin(spaced(cells, size), spaced(boards, size));
  }

  private static List<Integer> spaced(List<Integer> ring, int count) {
    return IntStream.range(0, count).mapToObj(i -> ring.get(i * ring.size() / count)).toList();
  }

  /** Every cell with every board, in passes that share no unit as far as there are units. */
  private static List<Meeting> latin(List<Integer> cells, List<Integer> boards) {
    List<Meeting> meetings = new ArrayList<>();
    int passes = Math.max(cells.size(), boards.size());
    for (int pass = 0; pass < passes; pass++) {
      for (int i = 0; i < Math.min(cells.size(), boards.size()); i++) {
        boolean moreCells = cells.size() >= boards.size();
        int cell = cells.get(moreCells ? (i + pass) % cells.size() : i);
        int board = boards.get(moreCells ? i : (i + pass) % boards.size());
        meetings.add(new Meeting(cell, board, pass + 1));
      }
    }
    return meetings;
  }

  private static List<Meeting> repeats(List<Meeting> meetings, int pass, Draws draws) {
    int pairs = meetings.size();
    int wanted = Math.max(FEWEST_REPEATS, (int) Math.round(REPEATED_SHARE * pairs));
    int count = Math.min(pairs, Math.min(MOST_REPEATS, wanted));
    List<Meeting> chosen = new ArrayList<>(meetings);
    draws.shuffle(chosen);
    // no unit is repeated with two partners while others have none
    Set<Integer> cells = new HashSet<>();
    Set<Integer> boards = new HashSet<>();
    List<Meeting> fresh = new ArrayList<>();
    List<Meeting> others = new ArrayList<>();
    for (Meeting meeting : chosen) {
      boolean free = !cells.contains(meeting.cell()) && !boards.contains(meeting.board());
      (free ? fresh : others).add(meeting);
      if (free) {
        cells.add(meeting.cell());
        boards.add(meeting.board());
      }
    }
    return Stream.concat(fresh.stream(), others.stream())
        .limit(count)
        .map(meeting -> new Meeting(meeting.cell(), meeting.board(), pass))
        .toList();
  }

  /** Sum over lots of cells and of boards of (meetings - even share)² / even share. */
  double unevenness() {
    int[] cellLot = units.lotOf(UnitKind.CELL);
    int[] boardLot = units.lotOf(UnitKind.BOARD);
    int cellLots = units.cellLots().size();
    int boardLots = units.boardLots().size();
    double[][] met = new double[cellLots][boardLots];
    double[] ofCells = new double[cellLots];
    double[] ofBoards = new double[boardLots];
    for (Meeting meeting : meetings) {
      met[cellLot[meeting.cell()]][boardLot[meeting.board()]]++;
      ofCells[cellLot[meeting.cell()]]++;
      ofBoards[boardLot[meeting.board()]]++;
    }
    double sum = 0;
    for (int c = 0; c < cellLots; c++) {
      for (int b = 0; b < boardLots; b++) {
        double even = ofCells[c] * ofBoards[b] / meetings.size();
        sum += even > 0 ? (met[c][b] - even) * (met[c][b] - even) / even : 0;
      }
    }
    return sum;
  }

  /** Number of passes. */
  public int passes() {
    return meetings.stream().mapToInt(Meeting::pass).max().orElse(0);
  }

  /** Meetings of one pass, in no particular order. */
  public List<Meeting> ofPass(int pass) {
    return meetings.stream().filter(meeting -> meeting.pass() == pass).toList();
  }

  /** Different units of a kind that take part. */
  public int used(UnitKind kind) {
    return (int) meetings.stream().map(meeting -> meeting.unit(kind)).distinct().count();
  }
}
