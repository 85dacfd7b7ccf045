package lotproof.claim.upkeep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Measures how often a lot like those studied is called different, how often a shift is seen that
 * the check says it sees, and how often a production limit keeps its promise. Runs with {@code mvn
 * -pl study/engine -am test -Dsurefire.excludedGroups= -Dsurefire.groups=guarantee}; writes
 * target/guarantees-upkeep.md, from which docs/guarantees.md is made.
 */
@Tag("guarantee")
class UpkeepGuaranteeTest {
  private static final long SEED = 20261125;
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 1000);
  private static final int UNITS = 50;
  private static final int REPEATS = 20;
  private static final double CONTENT = 0.95;
  private static final double ALPHA = LaterLotCalculator.FALSE_ALARM_FRACTION;
  private static final Path REPORT = Path.of("target", "guarantees-upkeep.md");

  @BeforeAll
  static void startReport() throws IOException {
    Files.createDirectories(REPORT.getParent());
    Files.writeString(REPORT, "");
  }

  private static void report(String format, Object... values) throws IOException {
    Files.writeString(
        REPORT,
        String.format(Locale.ROOT, format, values) + "\n",
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND);
  }

  /** Variances of one population: lots hold a share of those of cells and boards. */
  private record Population(int lots, double lotShare) {
    private static final double CELL = 1;
    private static final double BOARD = 0.5;
    private static final double PAIR = 0.1;
    private static final double READING = 0.2;

    double lot(double sd) {
      return lots > 1 ? sd * Math.sqrt(lotShare) : 0;
    }

    double unit(double sd) {
      return lots > 1 ? sd * Math.sqrt(1 - lotShare) : sd;
    }
  }

  /** A rotation of two passes and some repeats, with one number a run. */
  private static MeasuredValues study(Population population, Random random) {
    double[] cells = units(population, Population.CELL, random);
    double[] boards = units(population, Population.BOARD, random);
    List<Integer> shuffled = new ArrayList<>(IntStream.range(0, UNITS).boxed().toList());
    Collections.shuffle(shuffled, random);
    List<Double> values = new ArrayList<>();
    List<String> cellNames = new ArrayList<>();
    List<String> boardNames = new ArrayList<>();
    List<String> cellLots = new ArrayList<>();
    List<String> boardLots = new ArrayList<>();
    for (int pass = 0; pass < 2; pass++) {
      for (int i = 0; i < UNITS; i++) {
        int board = shuffled.get((i + pass) % UNITS);
        double pair = Population.PAIR * random.nextGaussian();
        int runs = pass == 0 && i < REPEATS ? 2 : 1;
        for (int run = 0; run < runs; run++) {
          values.add(cells[i] + boards[board] + pair + Population.READING * random.nextGaussian());
          cellNames.add("C" + i);
          boardNames.add("B" + board);
          cellLots.add("CL" + i % population.lots());
          boardLots.add("BL" + board % population.lots());
        }
      }
    }
    return new MeasuredValues(
        "error",
        "Error",
        "g",
        values,
        Map.of(
            Role.CELL, cellNames,
            Role.BOARD, boardNames,
            Role.CELL_LOT, cellLots,
            Role.BOARD_LOT, boardLots));
  }

  private static double[] units(Population population, double sd, Random random) {
    double[] lots =
        IntStream.range(0, population.lots())
            .mapToDouble(l -> population.lot(sd) * random.nextGaussian())
            .toArray();
    return IntStream.range(0, UNITS)
        .mapToDouble(i -> lots[i % population.lots()] + population.unit(sd) * random.nextGaussian())
        .toArray();
  }

  /** Kits of one later lot of each kind. */
  private static double[] later(Population population, int kits, boolean lots, Random random) {
    double lot =
        lots
            ? population.lot(Population.CELL) * random.nextGaussian()
                + population.lot(Population.BOARD) * random.nextGaussian()
            : 0;
    return IntStream.range(0, kits)
        .mapToDouble(
            i ->
                lot
                    + population.unit(Population.CELL) * random.nextGaussian()
                    + population.unit(Population.BOARD) * random.nextGaussian()
                    + Math.hypot(Population.PAIR, Population.READING) * random.nextGaussian())
        .toArray();
  }

  private static Set<Component> excluded(FactorPlan plan, Set<Component> partner) {
    return plan.roles().stream()
        .map(Role::component)
        .filter(partner::contains)
        .collect(java.util.stream.Collectors.toSet());
  }

  private static double[] sizes(double[] values) {
    return Arrays.stream(values).map(Math::abs).toArray();
  }

  @ParameterizedTest
  @CsvSource({
    "1, 0, 3, KIT",
    "1, 0, 5, KIT",
    "1, 0, 10, KIT",
    "5, 0, 5, KIT",
    "5, 0.25, 5, KIT",
    "5, 0.5, 5, KIT",
    "5, 0.25, 10, KIT",
    "10, 0.25, 5, KIT",
    "10, 0.5, 10, KIT",
    "3, 0.25, 5, KIT",
    "1, 0, 5, CELL",
    "1, 0, 10, BOARD",
    "5, 0.25, 5, CELL",
    "5, 0.25, 10, BOARD"
  })
  void aLotLikeThoseStudiedIsSeldomCalledDifferent(
      int lots, double share, int kits, ClaimRequest.Subject subject) throws IOException {
    Set<Component> partner =
        switch (subject) {
          case KIT -> Set.of();
          case CELL -> Set.of(Role.BOARD.component(), Role.BOARD_LOT.component());
          case BOARD -> Set.of(Role.CELL.component(), Role.CELL_LOT.component());
        };
    Population population = new Population(lots, share);
    Random random = new Random(SEED + 100L * lots + Math.round(1000 * share) + kits);
    int alarms = 0;
    int held = 0;
    int shiftsSeen = 0;
    int studies = 0;
    double shift = 0;
    for (int s = 0; s < STUDIES; s++) {
      MeasuredValues values = study(population, random);
      FactorPlan plan = FactorPlan.of(values);
      if (!(plan.fit(values) instanceof ComponentsFit fit)) {
        continue;
      }
      studies++;
      LaterLotRules rules = new LaterLotRules(fit, partner, ALPHA / LaterLotRules.RULES, true);
      double figure =
          FutureUnitLimits.of(fit, excluded(plan, partner), CONTENT, 0.95).symmetricHalfWidth();
      double[] same = later(population, kits, true, random);
      WatchLine.Verdict verdict = rules.judge(same, sizes(same), figure, CONTENT).verdict();
      alarms += verdict == WatchLine.Verdict.CLAIM_HOLDS ? 0 : 1;
      held += verdict == WatchLine.Verdict.HOLD_THE_LOT ? 1 : 0;
      double seen = rules.seenShift(kits);
      shift += seen;
      double[] shifted =
          Arrays.stream(later(population, kits, false, random))
              .map(v -> v + fit.mean() + seen)
              .toArray();
      boolean found =
          Math.abs(Arrays.stream(shifted).average().orElseThrow() - fit.mean())
              > rules.meanLimit(kits);
      shiftsSeen += found ? 1 : 0;
    }
    report(
        "| %s | %d | %.2f | %d | %.3f | %.3f | %.2f | %.3f |",
        subject.key(),
        lots,
        share,
        kits,
        alarms / (double) studies,
        held / (double) studies,
        shift / studies,
        shiftsSeen / (double) studies);
    double error = 3 * Math.sqrt(ALPHA * (1 - ALPHA) / studies);
    assertThat(alarms / (double) studies).as("seed " + SEED).isLessThanOrEqualTo(ALPHA + error);
    assertThat(shiftsSeen / (double) studies)
        .as("seed " + SEED)
        .isCloseTo(0.8, within(0.02 + 3 * Math.sqrt(0.16 / studies)));
  }

  private static final double[] LOADS = {5, 20, 35, 50};
  private static final double FIGURE = 14;
  private static final double TESTER = 0.6;

  /** One kit: slope, bow. */
  private record Kit(double slope, double bow) {
    double at(double load) {
      double share = load / 50;
      return share * slope + 4 * share * (1 - share) * bow;
    }
  }

  private static final double NOISE = 0.5;

  private static ErrorCurve curve(String cell, String board, int run, Kit kit, Random random) {
    List<ErrorCurve.Point> points =
        Arrays.stream(LOADS)
            .mapToObj(
                x ->
                    new ErrorCurve.Point(
                        x, Direction.RISING, kit.at(x) + NOISE * random.nextGaussian()))
            .toList();
    return new ErrorCurve("R" + run, cell, board, points);
  }

  private static ProductionReadings curves(Random random) {
    double[][] cells = pairs(6, 2.5, random);
    double[][] boards = pairs(3, 0.5, random);
    List<ErrorCurve> curves = new ArrayList<>();
    for (int pass = 0; pass < 2; pass++) {
      for (int i = 0; i < UNITS; i++) {
        int b = (i + pass) % UNITS;
        Kit kit = new Kit(cells[i][0] + boards[b][0], cells[i][1] + boards[b][1]);
        int runs = pass == 0 && i < REPEATS ? 2 : 1;
        for (int run = 0; run < runs; run++) {
          curves.add(curve("C" + i, "B" + b, curves.size(), kit, random));
        }
      }
    }
    return ProductionReadings.of(
        ErrorsInClaimForm.of(curves, new ClaimForm.Symmetric()), points(curves), Optional.empty());
  }

  private static double[][] pairs(double one, double other, Random random) {
    return IntStream.range(0, UNITS)
        .mapToObj(i -> new double[] {one * random.nextGaussian(), other * random.nextGaussian()})
        .toArray(double[][]::new);
  }

  private static List<PointLimit> points(List<ErrorCurve> curves) {
    List<PointLimit> points = new ArrayList<>();
    for (int p = 0; p < LOADS.length; p++) {
      int at = p;
      MeasuredValues values =
          new MeasuredValues(
              "error",
              "Error",
              "g",
              curves.stream().map(c -> c.points().get(at).errorGrams()).toList(),
              Map.of(
                  Role.CELL, curves.stream().map(ErrorCurve::cell).toList(),
                  Role.BOARD, curves.stream().map(ErrorCurve::board).toList()));
      FactorPlan plan = FactorPlan.of(values);
      ComponentsFit fit = (ComponentsFit) plan.fit(values);
      List<Role> roles = new ArrayList<>(plan.roles());
      roles.add(Role.RESIDUAL);
      double[] sds = Arrays.stream(fit.variances()).map(Math::sqrt).toArray();
      points.add(
          new PointLimit(
              LOADS[p],
              Direction.RISING,
              fit.mean(),
              Math.sqrt(Arrays.stream(fit.variances()).sum()),
              1,
              1,
              1,
              IntStream.range(0, sds.length)
                  .mapToObj(k -> new Contribution(roles.get(k), roles.get(k).title(), sds[k]))
                  .toList()));
    }
    return points;
  }

  /**
   * Production as studied, and shifted so far that many kits stand at the limit: where the load
   * with the largest errors is tested, the limit has to protect there too. Where it is only
   * foretold, a far shift breaks the promise, which the words of the limit except; a row that
   * stopped doing so would mean that those words can be made stronger.
   */
  @ParameterizedTest
  @CsvSource({
    "50, 0, true",
    "50, 9, true",
    "50, 13, true",
    "20, 0, true",
    "20, 13, false",
    "20;50, 13, true"
  })
  void kitsThatPassKeepTheFigure(String loads, double shift, boolean promised) throws IOException {
    Random random = new Random(SEED + loads.hashCode() + Math.round(shift));
    List<Double> tested = Arrays.stream(loads.split(";")).map(Double::valueOf).toList();
    LimitOptions options =
        new LimitOptions(Map.of(), tested, false, OptionalDouble.of(TESTER), false, CONTENT);
    int studies = Math.max(100, STUDIES / 5);
    int kept = 0;
    int judged = 0;
    double least = 1;
    double mean = 0;
    double passing = 0;
    for (int s = 0; s < studies; s++) {
      ProductionTest test =
          FinishedTestCalculator.of(
              new PlannedTest(curves(random), options, FIGURE, 0), 0.95, true);
      if (!(test instanceof ProductionTest.Finished protects)) {
        continue;
      }
      int passed = 0;
      int within = 0;
      int made = 20_000;
      for (int k = 0; k < made; k++) {
        Kit kit =
            new Kit(
                shift + Math.hypot(6, 3) * random.nextGaussian(),
                Math.hypot(2.5, 0.5) * random.nextGaussian());
        boolean passes =
            tested.stream()
                .allMatch(
                    x ->
                        Math.abs(kit.at(x) + TESTER * random.nextGaussian())
                            <= protects.acceptGrams());
        if (passes) {
          passed++;
          within +=
              Arrays.stream(LOADS)
                      .allMatch(x -> Math.abs(kit.at(x) + NOISE * random.nextGaussian()) <= FIGURE)
                  ? 1
                  : 0;
        }
      }
      if (passed > 0) {
        double share = within / (double) passed;
        judged++;
        kept += share >= CONTENT ? 1 : 0;
        least = Math.min(least, share);
        mean += share;
        passing += passed / (double) made;
      }
    }
    report(
        "| %s | %.0f | %d of %d | %.3f | %.4f | %.4f | %.3f |",
        loads.replace(";", " and "),
        shift,
        judged,
        studies,
        kept / (double) Math.max(1, judged),
        mean / Math.max(1, judged),
        least,
        passing / Math.max(1, judged));
    assertThat(judged).isGreaterThan(0);
    assertThat(kept / (double) judged >= 0.95).as("seed " + SEED).isEqualTo(promised);
  }
}
