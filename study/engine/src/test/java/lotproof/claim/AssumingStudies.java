package lotproof.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.claim.InventedKits.Unit;
import lotproof.claim.premise.PlanCoverage;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.ReducedRun;
import lotproof.study.BenchInfluences;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;

/**
 * Invented studies in which something that a figure assumes is not so: boards matched to cells,
 * runs missing, a bench that drifts with the lots. Each is a study and its readings, for the whole
 * way through {@link StudyAnalysis}.
 */
final class AssumingStudies {
  static final List<CalibrationLevel> LEVELS =
      List.of(
          new CalibrationLevel.None(),
          new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1));

  final InventedKits kits;
  final List<Unit> cells;
  final List<Unit> boards;
  final List<Lot> cellLots;
  final List<Lot> boardLots;
  final long seed;
  private final List<Run> runs = new ArrayList<>();
  private Design.Kind kind = Design.Kind.ROTATION;
  private List<Design.PlannedPair> plan = List.of();
  private Optional<Study.CheckStandard> checkStandard = Optional.empty();
  private Design.Pairing pairing = Design.Pairing.NOT_STATED;

  /** A run to be made: the units, its session, and the bench's gain error at the time. */
  record Run(Unit cell, Unit board, String session, double gain) {}

  AssumingStudies(long seed, int units, int lots, double share, double boardGainScale) {
    this(seed, units, new InventedKits(seed, lots, share), boardGainScale);
  }

  AssumingStudies(long seed, int units, InventedKits kits, double boardGainScale) {
    this.seed = seed;
    this.kits = kits;
    this.cells = new ArrayList<>(kits.units(UnitKind.CELL, units));
    List<Unit> made = kits.units(UnitKind.BOARD, units);
    this.boards = new ArrayList<>(made.stream().map(u -> scaled(u, boardGainScale)).toList());
    this.cellLots = kits.lotsOf(UnitKind.CELL, cells);
    this.boardLots = kits.lotsOf(UnitKind.BOARD, boards);
    Collections.shuffle(boards, new Random(seed));
    Collections.shuffle(cells, new Random(seed + 1));
  }

  private static Unit scaled(Unit unit, double scale) {
    return new Unit(unit.serial(), scale * unit.gain(), unit.bowGrams(), unit.hysteresisGrams());
  }

  /** Cells with large gain get boards with small gain. */
  AssumingStudies matched() {
    sortTogether(Comparator.comparingDouble(Unit::gain));
    return this;
  }

  private void sortTogether(Comparator<Unit> byGain) {
    List<Unit> up = cells.stream().sorted(byGain).toList();
    List<Unit> down = boards.stream().sorted(byGain.reversed()).toList();
    List<Integer> order = new ArrayList<>(IntStream.range(0, up.size()).boxed().toList());
    Collections.shuffle(order, new Random(seed + 2));
    for (int i = 0; i < up.size(); i++) {
      cells.set(i, up.get(order.get(i)));
      boards.set(i, down.get(order.get(i)));
    }
  }

  /** Cells lot after lot. */
  AssumingStudies lotByLot() {
    cells.sort(Comparator.comparing(u -> lotOf(cellLots, u)));
    return this;
  }

  /** A drift that takes away so much of how the gain of cell lots differs. */
  ToDoubleFunction<Unit> against(double share) {
    Map<String, Double> means =
        cells.stream()
            .collect(
                Collectors.groupingBy(
                    u -> lotOf(cellLots, u), Collectors.averagingDouble(Unit::gain)));
    double mean = cells.stream().mapToDouble(Unit::gain).average().orElseThrow();
    return cell -> -share * (means.get(lotOf(cellLots, cell)) - mean);
  }

  static String lotOf(List<Lot> lots, Unit unit) {
    return lots.stream()
        .filter(lot -> lot.serials().contains(unit.serial()))
        .map(Lot::name)
        .findFirst()
        .orElseThrow();
  }

  /** So many passes, cell i on board i + pass, in sessions of so many runs. */
  AssumingStudies passes(int passes, int ofSession, ToDoubleFunction<Unit> drift) {
    int n = cells.size();
    for (int pass = 0; pass < passes; pass++) {
      for (int i = 0; i < n; i++) {
        String session = "S" + runs.size() / ofSession;
        Unit cell = cells.get(i);
        runs.add(new Run(cell, boards.get((i + pass) % n), session, drift.applyAsDouble(cell)));
      }
    }
    kind = passes == 1 ? Design.Kind.DISJOINT_PAIRS : Design.Kind.ROTATION;
    return this;
  }

  /** What study.yaml says of the pairs. */
  AssumingStudies stating(Design.Pairing stated) {
    pairing = stated;
    return this;
  }

  /** All runs that there are now are planned. */
  AssumingStudies planned() {
    plan =
        runs.stream()
            .map(r -> new Design.PlannedPair(r.cell().serial(), r.board().serial(), 1))
            .distinct()
            .toList();
    return this;
  }

  /** Without so many runs: those with the largest gain, or the last ones of a random order. */
  AssumingStudies without(int count, boolean bySize) {
    List<Run> order = new ArrayList<>(runs);
    Collections.shuffle(order, new Random(seed + 3));
    if (bySize) {
      order.sort(Comparator.comparingDouble(r -> -Math.abs(r.cell().gain() + r.board().gain())));
    }
    runs.removeAll(order.subList(0, count));
    return this;
  }

  /** A check standard at both ends and in the middle of each session. */
  AssumingStudies withCheckStandard() {
    Unit cell = new Unit("k", 0.0005, 3, 2);
    Unit board = new Unit("kb", 0.0002, 0, 0);
    checkStandard = Optional.of(new Study.CheckStandard("k", "kb"));
    List<Run> all = new ArrayList<>();
    for (String session : runs.stream().map(Run::session).distinct().toList()) {
      List<Run> own = runs.stream().filter(r -> r.session().equals(session)).toList();
      for (int i = 0; i < own.size(); i++) {
        if (i == 0 || i == own.size() / 2) {
          all.add(new Run(cell, board, session, own.get(i).gain()));
        }
        all.add(own.get(i));
      }
      all.add(new Run(cell, board, session, own.get(own.size() - 1).gain()));
    }
    runs.clear();
    runs.addAll(all);
    return this;
  }

  Study study() {
    return study(LEVELS);
  }

  private Study study(List<CalibrationLevel> levels) {
    ClaimRequest claim =
        new ClaimRequest(
            0.95,
            0.95,
            0.5,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            levels.stream()
                .map(l -> new LevelRequest(l, OptionalDouble.empty(), Optional.empty()))
                .toList());
    return new Study(
        "Invented",
        "What can be claimed?",
        7,
        InventedKits.kit(),
        new Units(cellLots, boardLots, checkStandard),
        new Design(kind, InventedKits.LOADS, plan, Optional.empty(), List.of(), pairing),
        Study.ReferenceLine.TERMINAL,
        Map.of(),
        List.of("bench damage"),
        claim,
        new Conditions(20, 25, MassClass.F2, List.of()),
        BenchInfluences.NONE);
  }

  List<Reading> readings() {
    List<Reading> readings = new ArrayList<>();
    for (Run run : runs) {
      ReducedRun made = kits.run("r" + readings.size(), run.cell(), run.board());
      for (Reading r : made.run().readings()) {
        readings.add(
            new Reading(
                run.session(),
                Optional.empty(),
                r.run(),
                r.step(),
                r.cell(),
                r.board(),
                r.loadKilograms(),
                r.outputCounts() * (1 + run.gain()),
                Reading.Beside.NOTHING,
                r.source(),
                readings.size() + 1));
      }
    }
    return readings;
  }

  /** The claim without calibration alone. */
  LevelClaim uncalibrated() {
    return new StudyAnalysis(study(LEVELS.subList(0, 1))).claims(readings(), List.of()).get(0);
  }

  /** The same, with the shape of the errors as the only thing that is looked at. */
  LevelClaim ofShapeAlone() {
    List<ReducedRun> made = new ArrayList<>();
    for (Run run : runs) {
      made.add(kits.run("r" + made.size(), run.cell(), run.board()));
    }
    Premises premises =
        new Premises(PlanCoverage.ofRuns(made.size()), List.of(), List.of(), null, true);
    return new LevelClaims(
            study(LEVELS.subList(0, 1)), made, new SideAllowances(List.of(), List.of()), premises)
        .all(false)
        .get(0);
  }

  List<LevelClaim> claims() {
    return new StudyAnalysis(study()).claims(readings(), List.of());
  }

  /** The size of error that 95 % of the kits keep whose cell and board stand side by side here. */
  double[] truthOfThesePairs() {
    return quantiles(
        IntStream.range(0, cells.size())
            .mapToObj(i -> kits.run("f" + i, cells.get(i), boards.get(i)))
            .toList(),
        0.95);
  }

  /** Sizes of error that 95 % of future kits keep, from new lots, paired by chance. */
  static double[] truth(double share, double boardGainScale, int future) {
    return quantiles(future(new InventedKits(99, future, share), boardGainScale, future), 0.95);
  }

  /** Runs of future kits. */
  static List<ReducedRun> future(InventedKits population, double boardGainScale, int future) {
    List<Unit> cells = population.units(UnitKind.CELL, future);
    List<Unit> boards = population.units(UnitKind.BOARD, future);
    return IntStream.range(0, future)
        .mapToObj(i -> population.run("f" + i, cells.get(i), scaled(boards.get(i), boardGainScale)))
        .toList();
  }

  /** For each level the size of error that so many of the runs keep. */
  static double[] quantiles(List<ReducedRun> runs, double content) {
    ErrorOfReading errors = new ErrorOfReading(InventedKits.kit());
    return LEVELS.stream()
        .mapToDouble(
            level -> {
              double[] largest =
                  runs.stream()
                      .mapToDouble(run -> errors.curve(run, level).orElseThrow().largestGrams())
                      .sorted()
                      .toArray();
              return largest[(int) Math.ceil(content * largest.length) - 1];
            })
        .toArray();
  }
}
