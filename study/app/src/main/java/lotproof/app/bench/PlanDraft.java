package lotproof.app.bench;

import static lotproof.app.cli.CliCommand.checked;
import static lotproof.app.cli.CliCommand.refuse;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.app.cli.UnusableException;
import lotproof.claim.evidence.GuardBands;
import lotproof.folder.text.UnitNames;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchInfluences;
import lotproof.study.BenchTimes;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Kit;
import lotproof.study.Lot;
import lotproof.study.MassClass;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;

/**
 * A study as it was described to {@code plan}, before a design is chosen.
 *
 * @param assumed what is taken to be true
 * @param times what the bench takes
 * @param described everything else, with a design of loads alone
 */
record PlanDraft(AssumedSpread assumed, BenchTimes times, Study described) {

  static PlanDraft of(PlanOptions options, AssumedSpreadOptions spread, PlanAnswers answers) {
    String title = answers.read(PlanSetting.TITLE, text -> text);
    Kit kit = kit(answers);
    List<Lot> cells = lots(UnitKind.CELL, PlanSetting.CELLS, options.serials, answers);
    List<Lot> boards = lots(UnitKind.BOARD, PlanSetting.BOARDS, options.serials, answers);
    double capacity = kit.capacityKilograms();
    Optional<Study.CheckStandard> check = answers.read(PlanSetting.CHECK, PlanParsers::check);
    List<Double> loads =
        answers.read(
            PlanSetting.LOADS, quarters(capacity), text -> PlanParsers.loads(text, capacity));
    MassClass buyers =
        PlanParsers.read("--buyer-masses", options.buyerMasses, PlanParsers::massClass);
    CalibrationLevel level =
        answers.read(PlanSetting.LEVEL, text -> PlanParsers.level(text, buyers, loads));
    OptionalDouble wanted = answers.read(PlanSetting.WANTED, PlanParsers::grams);
    double content = answers.read(PlanSetting.CONTENT, PlanDraft::fraction);
    double confidence = answers.read(PlanSetting.CONFIDENCE, PlanDraft::fraction);
    List<LevelRequest> asked = List.of(new LevelRequest(level, wanted));
    ClaimRequest claim =
        checked(
            () ->
                new ClaimRequest(
                    content,
                    confidence,
                    options.rounding,
                    new ClaimForm.Symmetric(),
                    ClaimRequest.Subject.KIT,
                    OptionalDouble.empty(),
                    asked));
    List<Double> celsius = answers.read(PlanSetting.TEMPERATURE, PlanParsers::temperatures);
    MassClass masses = answers.read(PlanSetting.BENCH_MASSES, PlanParsers::massClass);
    Conditions conditions =
        checked(() -> new Conditions(celsius.get(0), celsius.get(1), masses, List.of()));
    AssumedSpread assumed = spread.assumed(Optional.empty());
    BenchTimes times = times(answers);
    List<SideTest> sideTests = sideTests(options.sideTests, capacity);
    Study described =
        checked(
            () ->
                new Study(
                    title,
                    "Which error of reading can we promise to any buyer of any cell with any"
                        + " board?",
                    options.seed,
                    kit,
                    new Units(cells, boards, check).twoOrMore(),
                    new Design(
                        Design.Kind.ROTATION,
                        loads,
                        List.of(),
                        Optional.empty(),
                        sideTests,
                        Design.Pairing.NOT_STATED),
                    Study.ReferenceLine.TERMINAL,
                    Map.of(),
                    options.causes,
                    claim,
                    conditions,
                    BenchInfluences.NONE));
    return new PlanDraft(assumed, times, described);
  }

  /** What the draft is to support. */
  PlannedClaim question() {
    return question(described, described.claim().levels().get(0), OptionalDouble.empty());
  }

  /**
   * What a study is to support at a level.
   *
   * @param ofRecord what the record adds to its bounds; without one it is what the masses add
   */
  static PlannedClaim question(Study study, LevelRequest asked, OptionalDouble ofRecord) {
    double guardGrams =
        ofRecord.isPresent()
            ? ofRecord.getAsDouble()
            : GuardBands.ofMasses(study, asked.level())
                .orElseThrow(
                    () ->
                        new UnusableException(
                            "OIML R 111 has no limit of error for the loads and classes named, so"
                                + " the masses' error cannot be bounded"))
                .totalGrams();
    ClaimRequest claim = study.claim();
    return checked(
        () ->
            new PlannedClaim(
                claim.content(),
                claim.confidence(),
                guardGrams,
                claim.roundingGrams(),
                asked.wantedGrams()));
  }

  private static Kit kit(PlanAnswers answers) {
    String cell = answers.read(PlanSetting.CELL_WORDS, text -> text);
    String board = answers.read(PlanSetting.BOARD_WORDS, text -> text);
    double capacity =
        answers.read(PlanSetting.CAPACITY, text -> PlanParsers.quantity(text, Unit.KILOGRAM));
    double factor =
        answers.read(
            PlanSetting.FACTOR, text -> PlanParsers.quantity(text, Unit.COUNTS_PER_KILOGRAM));
    double scale =
        answers.read(
            PlanSetting.SCALE,
            text -> PlanParsers.quantity(text, Unit.COUNTS_PER_MILLIVOLT_PER_VOLT));
    return checked(() -> new Kit(cell, board, capacity, factor, scale, OptionalInt.empty()));
  }

  /** Lots; units are named LOT/SERIAL where serials start again, else each serial stands once. */
  private static List<Lot> lots(
      UnitKind kind, PlanSetting setting, SerialRule serials, PlanAnswers answers) {
    List<Lot> lots = answers.readAll(setting, text -> PlanParsers.lot(kind, text));
    if (serials == SerialRule.PER_LOT) {
      return lots.stream()
          .map(
              lot ->
                  new Lot(
                      kind,
                      lot.name(),
                      lot.serials().stream().map(s -> UnitNames.of(lot.name(), s)).toList()))
          .toList();
    }
    Map<String, String> lotOf = new HashMap<>();
    for (Lot lot : lots) {
      for (String serial : lot.serials()) {
        String other = lotOf.putIfAbsent(serial, lot.name());
        refuse(
            other != null,
            "%s %s stands in lot %s and in lot %s; if serials start again in every lot, say"
                + " --serials per-lot",
            kind.key(),
            serial,
            other,
            lot.name());
      }
    }
    return lots;
  }

  private static String quarters(double capacity) {
    List<String> loads = new ArrayList<>();
    for (double share : new double[] {0, 0.25, 0.5, 0.75, 1, 0.75, 0.5, 0.25, 0}) {
      loads.add(BigDecimal.valueOf(share * capacity).stripTrailingZeros().toPlainString());
    }
    return String.join(",", loads);
  }

  private static double fraction(String text) {
    return ClaimRequest.share(PlanParsers.number(text), "it");
  }

  private static BenchTimes times(PlanAnswers answers) {
    double mount = answers.read(PlanSetting.MOUNT, PlanParsers::number);
    double run = answers.read(PlanSetting.RUN, PlanParsers::number);
    double warmUp = answers.read(PlanSetting.WARM_UP, PlanParsers::number);
    double hours = answers.read(PlanSetting.HOURS_A_DAY, PlanParsers::number);
    return checked(() -> new BenchTimes(mount, run, warmUp, hours));
  }

  private static List<SideTest> sideTests(List<String> texts, double capacity) {
    List<SideTest> tests = new ArrayList<>();
    for (String text : texts) {
      SideTest test =
          PlanParsers.read("--side-test", text, it -> PlanParsers.sideTest(it, capacity));
      refuse(
          tests.stream().anyMatch(other -> other.effect() == test.effect()),
          "--side-test: " + test.effect().key() + " stands twice");
      tests.add(test);
    }
    return tests;
  }
}
