package lotproof.demo;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lotproof.demo.DemoSchedule.Run;
import lotproof.plan.Draws;
import lotproof.study.BenchInfluences;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Design;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import org.apache.commons.rng.JumpableUniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;

/**
 * The invented study of demo-data: its definition, the files that the bench wrote, what people
 * decided, and the truth behind it all. The same seed gives the same study.
 *
 * @param study the definition
 * @param sessionFiles the bench's files, in order
 * @param decisions decisions about the troubles of the bench, in order
 * @param truth true values, ready to be written as YAML
 */
public record DemoStudy(
    Study study,
    List<SessionFile> sessionFiles,
    List<Decision> decisions,
    Map<String, Object> truth) {
  /**
   * Seed of the study in demo-data, chosen among sixty: with it the few lots that are drawn differ
   * about as much as their population does.
   */
  public static final long SEED = 20_260_908;

  /** Future kits behind each true figure. */
  public static final int FUTURE_KITS = 400_000;

  /**
   * One file of the bench.
   *
   * @param name its name
   * @param content its text
   */
  public record SessionFile(String name, String content) {}

  public DemoStudy {
    sessionFiles = List.copyOf(sessionFiles);
    decisions = List.copyOf(decisions);
  }

  /**
   * Makes the study.
   *
   * @param seed seed of everything random
   * @param futureKits kits behind each true figure, at least 1000
   */
  public static DemoStudy create(long seed, int futureKits) {
    if (futureKits < 1000) {
      throw new IllegalArgumentException("future kits must be at least 1000, was " + futureKits);
    }
    List<Draws> streams = streams(seed, 5);
    DemoUnits<CellTrait> cells =
        DemoUnits.draw(
            UnitKind.CELL, 'C', HiveScale.cells(), HiveScale.CELLS_BY_LOT, streams.get(0));
    DemoUnits<BoardTrait> boards =
        DemoUnits.draw(
            UnitKind.BOARD, 'B', HiveScale.boards(), HiveScale.BOARDS_BY_LOT, streams.get(1));
    DemoSchedule schedule = DemoSchedule.draw(cells.size(), streams.get(2));
    DemoTroubles troubles = DemoTroubles.choose(schedule, cells, boards);
    cells = withExtreme(cells, troubles.extremeCell());
    boards = withNoise(boards, troubles.noisyBoard());
    DemoBench bench = new DemoBench(cells, boards, troubles, streams.get(3));
    List<SessionFile> files = new ArrayList<>();
    for (int session = 0; session < schedule.sessions(); session++) {
      files.add(
          new SessionFile(
              String.format(Locale.ROOT, "bench-%02d.csv", session + 1),
              bench.session(session, schedule.ofSession(session))));
    }
    DemoTruth truth = new DemoTruth(seed, cells, boards, troubles, bench.pairs());
    return new DemoStudy(
        study(seed, cells, boards, schedule),
        files,
        decisions(cells, boards, troubles),
        truth.asMap(futureKits, streams.get(4)));
  }

  /**
   * Streams that do not overlap, so that a change in what one of them is asked for leaves the
   * others as they were.
   */
  static List<Draws> streams(long seed, int count) {
    JumpableUniformRandomProvider source =
        (JumpableUniformRandomProvider) RandomSource.XO_RO_SHI_RO_128_PP.create(seed);
    return source.jumps(count).map(Draws::new).toList();
  }

  private static DemoUnits<CellTrait> withExtreme(DemoUnits<CellTrait> cells, int cell) {
    double lotMean = cells.lotMeanOfEachUnit().get(cell).get(CellTrait.LOG_SENSITIVITY);
    double unitSd = HiveScale.cells().spread(CellTrait.LOG_SENSITIVITY).unitSd();
    return cells.with(
        cell, CellTrait.LOG_SENSITIVITY, lotMean + DemoTroubles.EXTREME_UNIT_SDS * unitSd);
  }

  private static DemoUnits<BoardTrait> withNoise(DemoUnits<BoardTrait> boards, int board) {
    double lotMean = boards.lotMeanOfEachUnit().get(board).get(BoardTrait.LOG_NOISE);
    return boards
        .with(board, BoardTrait.LOG_NOISE, lotMean + StrictMath.log(DemoTroubles.NOISE_RATIO))
        .with(board, BoardTrait.INDEPENDENT_SAMPLES, DemoTroubles.SLOW_NOISE_SAMPLES);
  }

  private static Study study(
      long seed, DemoUnits<CellTrait> cells, DemoUnits<BoardTrait> boards, DemoSchedule schedule) {
    return new Study(
        "Hive scale, 50 kg",
        "Which error of reading can we promise to any buyer of any cell with any board?",
        seed,
        HiveScale.kit(),
        new Units(
            cells.lots(),
            boards.lots(),
            Optional.of(new Study.CheckStandard(DemoBench.CHECK_CELL, DemoBench.CHECK_BOARD))),
        new Design(
            Design.Kind.ROTATION,
            HiveScale.LOADS_KILOGRAMS,
            schedule.plannedPairs(cells.serials(), boards.serials()),
            Optional.empty(),
            List.of(),
            Design.Pairing.RANDOM),
        Study.ReferenceLine.TERMINAL,
        HiveScale.limits(),
        List.of(HiveScale.BENCH_DAMAGE, HiveScale.PRODUCTION_SCREEN, "wrong wiring"),
        HiveScale.claim(),
        HiveScale.conditions(),
        BenchInfluences.NONE);
  }

  private static List<Decision> decisions(
      DemoUnits<CellTrait> cells, DemoUnits<BoardTrait> boards, DemoTroubles troubles) {
    String evidence =
        "runs name the cell of the run beside them; zero and sensitivity fit the other serial";
    return List.of(
        correction("D1", troubles.swappedFirst(), cells, evidence),
        correction("D2", troubles.swappedSecond(), cells, evidence),
        decision(
            "D3",
            Action.EXCLUDED,
            Target.CELL,
            cells.serials().get(troubles.overloadedCell()),
            HiveScale.BENCH_DAMAGE,
            "overloaded on the bench after its first run, see remark; zero moved between its runs"),
        new Decision(
            "D4",
            "2026-09-16T10:40:00",
            "quality",
            Action.SCREENED,
            Target.BOARD,
            boards.serials().get(troubles.noisyBoard()),
            Optional.of("noise"),
            Optional.of("at most 0.6 g"),
            HiveScale.PRODUCTION_SCREEN,
            "reference oscillates; noise is tested on every board before it ships",
            5),
        decision(
            "D5",
            Action.STAYS_IN,
            Target.CELL,
            cells.serials().get(troubles.extremeCell()),
            "none found",
            "sensitivity far from its lot in both runs; wiring and bench checked"));
  }

  private static Decision correction(
      String id, Run run, DemoUnits<CellTrait> cells, String evidence) {
    return new Decision(
        id,
        "2026-09-16T10:15:00",
        "bench",
        Action.CORRECTED,
        Target.RUN,
        run.name(),
        Optional.of("cell"),
        Optional.of(cells.serials().get(run.cell())),
        "serial swapped",
        evidence,
        Integer.parseInt(id.substring(1)) + 1);
  }

  private static Decision decision(
      String id, Action action, Target target, String serial, String cause, String evidence) {
    return new Decision(
        id,
        "2026-09-16T10:40:00",
        "quality",
        action,
        target,
        serial,
        Optional.empty(),
        Optional.empty(),
        cause,
        evidence,
        Integer.parseInt(id.substring(1)) + 1);
  }
}
