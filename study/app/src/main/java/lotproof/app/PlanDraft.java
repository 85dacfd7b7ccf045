package lotproof.app;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import lotproof.folder.text.UnitNames;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Meeting;
import lotproof.plan.design.UnitsAtHand;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchPlan;
import lotproof.study.BenchTimes;
import lotproof.study.CalibrationLevel;
import lotproof.study.CheckStandard;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Kit;
import lotproof.study.Lot;
import lotproof.study.MassClass;
import lotproof.study.PlannedRun;
import lotproof.study.ReferenceLine;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * A study as it was described to {@code plan}, before a design is chosen.
 *
 * @param units units at hand
 * @param level the calibration level of the claim
 * @param wantedGrams the figure that someone would like to print
 * @param assumed what is taken to be true
 * @param times what the bench takes
 * @param described everything else, with a design of loads alone
 */
record PlanDraft(
    UnitsAtHand units,
    CalibrationLevel level,
    OptionalDouble wantedGrams,
    AssumedSpread assumed,
    BenchTimes times,
    Study described) {

  /** A chosen design with its runs. */
  record Planned(DesignKind kind, Optional<Design.ReferencePartners> partners, BenchPlan plan) {}

  static PlanDraft of(PlanOptions o, SpreadOptionsOfPlan spread, PlanQuestions q) {
    String title = q.answer(o.title, "--title", "Short name of the study", "Study", t -> t, "");
    Kit kit = kit(o, q);
    List<Lot> cells = named(lots(UnitKind.CELL, o.cells, "--cells", q), o.serials);
    List<Lot> boards = named(lots(UnitKind.BOARD, o.boards, "--boards", q), o.serials);
    Optional<CheckStandard> check =
        q.answer(
            o.check,
            "--check",
            "Check standard as CELL/BOARD, or Enter for none",
            "",
            PlanInput::check,
            Optional.empty());
    List<Double> loads =
        q.answer(
            o.loads,
            "--loads",
            "Loads of a run in kg",
            quarters(kit.capacityKilograms()),
            text -> loads(text, kit.capacityKilograms()),
            List.of());
    CalibrationLevel level =
        q.answer(
            o.level,
            "--level",
            "What the buyer does before reading: none, or calibration masses in kg",
            "none",
            text -> level(text, PlanInput.massClass(o.buyerMasses, "--buyer-masses"), loads),
            new CalibrationLevel.None());
    OptionalDouble wanted =
        q.answer(
            o.wanted,
            "--wanted",
            "Figure to be printed, ± grams, or Enter for none",
            "",
            text -> PlanInput.grams(text, "--wanted"),
            OptionalDouble.empty());
    ClaimRequest claim = claim(o, q, level, wanted);
    Conditions conditions = conditions(o, q);
    askForSpread(spread, q);
    BenchTimes times = times(o, q);
    q.complete();
    AssumedSpread assumed = spread.assumed(Optional.empty());
    Study described =
        checked(
            () ->
                new Study(
                    title,
                    "Which error of reading can we promise to any buyer of any cell with any"
                        + " board?",
                    o.seed,
                    kit,
                    cells,
                    boards,
                    check,
                    new Design(
                        Design.Kind.ROTATION,
                        loads,
                        List.of(),
                        Optional.empty(),
                        PlanInput.sideTests(o.sideTests, kit.capacityKilograms(), "--side-test")),
                    ReferenceLine.TERMINAL,
                    Map.of(),
                    o.causes,
                    claim,
                    conditions));
    return new PlanDraft(
        checked(() -> new UnitsAtHand(cells, boards)), level, wanted, assumed, times, described);
  }

  private static Kit kit(PlanOptions o, PlanQuestions q) {
    String cell =
        q.answer(o.cellWords, "--cell-words", "The cell in a few words", "load cell", t -> t, "");
    String board =
        q.answer(
            o.boardWords,
            "--board-words",
            "The board in a few words",
            "converter board",
            t -> t,
            "");
    double capacity =
        q.answer(
            o.capacity,
            "--capacity",
            "Rated capacity, such as 50 kg",
            null,
            text -> positive(PlanInput.quantity(text, Unit.KILOGRAM, "--capacity"), "--capacity"),
            1.0);
    double factor =
        q.answer(
            o.factor,
            "--default-factor",
            "Factory default factor, such as 83886.08 counts/kg",
            null,
            text ->
                positive(
                    PlanInput.quantity(text, Unit.COUNTS_PER_KILOGRAM, "--default-factor"),
                    "--default-factor"),
            1.0);
    double scale =
        q.answer(
            o.scale,
            "--converter-scale",
            "Nominal scale of the converter, such as 2097152 counts/(mV/V)",
            null,
            text ->
                positive(
                    PlanInput.quantity(
                        text, Unit.COUNTS_PER_MILLIVOLT_PER_VOLT, "--converter-scale"),
                    "--converter-scale"),
            1.0);
    return checked(() -> new Kit(cell, board, capacity, factor, scale));
  }

  private static double positive(double value, String option) {
    if (!(value > 0)) {
      throw new UnusableException(option + " must be above 0, was " + value);
    }
    return value;
  }

  /** Units that are named LOT/SERIAL where serials start again; else each serial once. */
  private static List<Lot> named(List<Lot> lots, SerialRule serials) {
    if (serials == SerialRule.PER_LOT) {
      return lots.stream()
          .map(
              lot ->
                  new Lot(
                      lot.kind(),
                      lot.name(),
                      lot.serials().stream()
                          .map(serial -> UnitNames.of(lot.name(), serial))
                          .toList()))
          .toList();
    }
    Map<String, String> lotOf = new HashMap<>();
    for (Lot lot : lots) {
      for (String serial : lot.serials()) {
        String other = lotOf.putIfAbsent(serial, lot.name());
        if (other != null) {
          throw new UnusableException(
              lot.kind().word()
                  + " "
                  + serial
                  + " stands in lot "
                  + other
                  + " and in lot "
                  + lot.name()
                  + "; if serials start again in every lot, say --serials per-lot");
        }
      }
    }
    return lots;
  }

  private static List<Lot> lots(UnitKind kind, List<String> given, String option, PlanQuestions q) {
    List<String> texts =
        q.several(
            given,
            option,
            "A lot of " + kind.word() + "s, such as A=A-001..A-010 or A=10",
            text -> usable(kind, text, option));
    return PlanInput.lots(kind, texts, option);
  }

  private static boolean usable(UnitKind kind, String text, String option) {
    try {
      return !PlanInput.lots(kind, List.of(text), option).isEmpty();
    } catch (UnusableException e) {
      return false;
    }
  }

  private static String quarters(double capacity) {
    List<String> up = new ArrayList<>();
    for (double share : new double[] {0, 0.25, 0.5, 0.75, 1, 0.75, 0.5, 0.25, 0}) {
      up.add(java.math.BigDecimal.valueOf(share * capacity).stripTrailingZeros().toPlainString());
    }
    return String.join(",", up);
  }

  private static List<Double> loads(String text, double capacity) {
    List<Double> loads = PlanInput.kilograms(text, "--loads");
    double largest = loads.stream().mapToDouble(load -> load).max().orElse(0);
    boolean usable =
        loads.size() >= 2 && loads.get(0) == 0 && loads.stream().allMatch(load -> load >= 0);
    if (!usable || !(largest > 0 && largest <= capacity)) {
      throw new UnusableException(
          "--loads must begin with 0, rise, and not exceed the capacity of " + capacity + " kg");
    }
    return loads;
  }

  private static CalibrationLevel level(String text, MassClass masses, List<Double> loads) {
    CalibrationLevel level = PlanInput.level(text, masses, "--level");
    for (double point : level.pointsKilograms()) {
      if (!loads.contains(point)) {
        throw new UnusableException(
            "--level: a calibration at " + point + " kg needs that load in the run");
      }
    }
    return level;
  }

  private static ClaimRequest claim(
      PlanOptions o, PlanQuestions q, CalibrationLevel level, OptionalDouble wanted) {
    double content =
        q.answer(
            o.content,
            "--content",
            "Fraction of kits that the figure must hold for",
            "0.95",
            text -> fraction(text, "--content"),
            0.95);
    double confidence =
        q.answer(
            o.confidence,
            "--confidence",
            "Confidence",
            "0.95",
            text -> fraction(text, "--confidence"),
            0.95);
    return checked(
        () ->
            new ClaimRequest(
                content,
                confidence,
                o.rounding,
                List.of(new ClaimRequest.LevelRequest(level, wanted))));
  }

  private static double fraction(String text, String option) {
    double value = PlanInput.number(text, option);
    return checked(() -> ClaimRequest.share(value, option));
  }

  private static Conditions conditions(PlanOptions o, PlanQuestions q) {
    double[] celsius =
        q.answer(
            o.temperature,
            "--temperature",
            "Temperatures of the claim in °C, such as 18..26",
            null,
            text -> PlanInput.temperatures(text, "--temperature"),
            new double[] {20, 20});
    MassClass masses =
        q.answer(
            o.benchMasses,
            "--bench-masses",
            "Class of the bench's masses by OIML R 111, such as F2",
            null,
            text -> PlanInput.massClass(text, "--bench-masses"),
            MassClass.F2);
    return checked(() -> new Conditions(celsius[0], celsius[1], masses, List.of()));
  }

  private static void askForSpread(SpreadOptionsOfPlan spread, PlanQuestions q) {
    if (spread.complete()) {
      return;
    }
    spread.cell = sd(spread.cell, "--cell-sd", "Spread between cells, grams at the worst load", q);
    spread.board = sd(spread.board, "--board-sd", "Spread between boards, grams", q);
    spread.repeat = sd(spread.repeat, "--repeat-sd", "Spread from run to run of a pair, grams", q);
  }

  private static double sd(
      @org.jspecify.annotations.Nullable Double given,
      String option,
      String question,
      PlanQuestions q) {
    return q.answer(
        given == null ? null : given.toString(),
        option,
        question,
        null,
        text -> PlanInput.number(text, option),
        1.0);
  }

  private static BenchTimes times(PlanOptions o, PlanQuestions q) {
    double mount = minutes(o.mount, "--mount", "Minutes to mount and exercise a pair", "8", q);
    double run = minutes(o.run, "--run", "Minutes for the loads of a run", "12", q);
    double warmUp = minutes(o.warmUp, "--warm-up", "Minutes of warm-up a session", "30", q);
    double hours = minutes(o.hoursADay, "--hours-a-day", "Hours on the bench a day", "7", q);
    return checked(() -> new BenchTimes(mount, run, warmUp, hours));
  }

  private static double minutes(
      @org.jspecify.annotations.Nullable String given,
      String option,
      String question,
      String otherwise,
      PlanQuestions q) {
    return q.answer(
        given, option, question, otherwise, text -> PlanInput.number(text, option), 1.0);
  }

  static <T> T checked(Supplier<T> made) {
    try {
      return made.get();
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong value"));
    }
  }

  /** The study, with its planned pairs once a design is chosen. */
  Study study(Optional<Planned> planned) {
    Study d = described;
    Design design =
        planned
            .map(
                it ->
                    new Design(
                        it.kind().inStudy(),
                        d.design().loadsKilograms(),
                        pairs(it.plan()),
                        it.partners(),
                        d.design().sideTests(),
                        it.partners().isPresent()
                            ? Design.Pairing.NOT_STATED
                            : Design.Pairing.RANDOM))
            .orElse(d.design());
    return new Study(
        d.title(),
        d.question(),
        d.seed(),
        d.kit(),
        d.cellLots(),
        d.boardLots(),
        d.checkStandard(),
        design,
        d.referenceLine(),
        d.limits(),
        d.causes(),
        d.claim(),
        d.conditions());
  }

  private static List<Design.PlannedPair> pairs(BenchPlan plan) {
    Map<List<String>, Integer> runs = new LinkedHashMap<>();
    for (PlannedRun run : plan.runs()) {
      if (!run.isCheck()) {
        runs.merge(List.of(run.cell(), run.board()), 1, Integer::sum);
      }
    }
    List<Design.PlannedPair> pairs = new ArrayList<>();
    runs.forEach(
        (pair, count) -> pairs.add(new Design.PlannedPair(pair.get(0), pair.get(1), count)));
    return pairs;
  }

  /** Meetings by index, for whoever has the layout in names only. */
  static List<Meeting> meetings(Study study, UnitsAtHand units) {
    List<String> cells = units.serials(UnitKind.CELL);
    List<String> boards = units.serials(UnitKind.BOARD);
    List<Meeting> meetings = new ArrayList<>();
    for (Design.PlannedPair pair : study.design().pairs()) {
      int cell = cells.indexOf(pair.cell());
      int board = boards.indexOf(pair.board());
      for (int run = 0; run < pair.runs(); run++) {
        meetings.add(new Meeting(cell, board, 1 + run));
      }
    }
    return meetings;
  }
}
