package lotproof.app.bench;

import static lotproof.app.cli.CliCommand.checked;
import static lotproof.app.cli.CliCommand.refuse;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.app.cli.UnusableException;
import lotproof.claim.evidence.GuardBands;
import lotproof.folder.text.UnitNames;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Quantity;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.plan.design.SideSheets;
import lotproof.plan.rehearse.AssumedCurves;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.study.Assumed;
import lotproof.study.BenchInfluences;
import lotproof.study.BenchTimes;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Keyed;
import lotproof.study.Kit;
import lotproof.study.MassClass;
import lotproof.study.Result;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/**
 * A study as it was described to {@code plan}, before a design is chosen: its design is loads
 * alone.
 *
 * @param assumed what was said of the spread
 * @param spread what it means at the level of the plan
 */
record PlanDraft(Assumed assumed, Assumed.AtLevel spread, BenchTimes times, Study described) {
  private static final int MOST_UNITS = 5000;
  private static final Pattern RANGE = Pattern.compile("(.*?)(\\d{1,9})\\.\\.(?:\\1)?(\\d{1,9})");
  private static final Pattern TEMPERATURES =
      Pattern.compile("\\s*(-?[0-9.]+)\\s*(?:°C|C)?\\s*\\.\\.\\s*(-?[0-9.]+)\\s*(?:°C|C)?\\s*");
  private static final Pattern SIDE_TEST = Pattern.compile("([^=]*)=([^:]*):\\s*(\\S.*)");

  /** What {@code plan} is told and never asks for. */
  static final class Options {
    @Option(names = "--serials", paramLabel = "RULE")
    SerialRule serials = SerialRule.UNIQUE;

    @Option(names = "--buyer-masses", paramLabel = "CLASS")
    String buyerMasses = "M1";

    @Option(names = "--rounding", paramLabel = "G")
    double rounding = 1;

    @Option(names = "--cause", paramLabel = "TEXT")
    List<String> causes = List.of("bench damage", "production screen", "wrong wiring");

    @Option(names = "--most-hours", paramLabel = "H")
    OptionalDouble mostHours = OptionalDouble.empty();

    @Option(names = "--design", paramLabel = "KEY")
    @Nullable String design;

    @Option(names = "--reference", paramLabel = "CELL/BOARD")
    @Nullable String reference;

    @Option(names = "--dummy-bridge")
    boolean dummyBridge;

    @Option(names = "--side-test", paramLabel = "EFFECT=KG,KG,...:COVERS")
    List<String> sideTests = List.of();

    @Option(names = "--side-kits", paramLabel = "N")
    int sideKits = SideSheets.KITS;

    @Option(names = "--seed")
    long seed = 1;
  }

  static PlanDraft of(Options options, AssumedSpreadOptions spread, PlanAnswers answers) {
    String title = answers.read(PlanSetting.TITLE, text -> text);
    Kit kit = kit(answers);
    List<Lot> cells = lots(UnitKind.CELL, PlanSetting.CELLS, options.serials, answers);
    List<Lot> boards = lots(UnitKind.BOARD, PlanSetting.BOARDS, options.serials, answers);
    double capacity = kit.capacityKilograms();
    Optional<Study.CheckStandard> check = answers.read(PlanSetting.CHECK, PlanDraft::check);
    List<Double> loads =
        answers.read(PlanSetting.LOADS, quarters(capacity), text -> loads(text, capacity));
    MassClass buyers =
        PlanAnswers.read("--buyer-masses", options.buyerMasses, PlanDraft::massClass);
    List<CalibrationLevel> levels =
        answers.read(PlanSetting.LEVEL, text -> levels(text, buyers, loads));
    CalibrationLevel level = levels.get(0);
    List<LevelRequest> asked = answers.read(PlanSetting.WANTED, text -> asked(levels, text));
    double content = answers.read(PlanSetting.CONTENT, PlanDraft::fraction);
    double confidence = answers.read(PlanSetting.CONFIDENCE, PlanDraft::fraction);
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
    List<Double> celsius = answers.read(PlanSetting.TEMPERATURE, PlanDraft::temperatures);
    MassClass masses = answers.read(PlanSetting.BENCH_MASSES, PlanDraft::massClass);
    Conditions conditions =
        checked(() -> new Conditions(celsius.get(0), celsius.get(1), masses, List.of()));
    Assumed assumed = spread.assumed(level, Optional.empty());
    Assumed.AtLevel atLevel = AssumedCurves.of(assumed, level, loads, kit).atWorst(assumed, level);
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
    return new PlanDraft(assumed, atLevel, times, described);
  }

  /** What the draft is to support. */
  PlannedClaim question() {
    return question(described, described.claim().levels().get(0), OptionalDouble.empty());
  }

  /** What a study is to support at a level, with what the record or else the masses add. */
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
    return checked(
        () ->
            new Kit(
                answers.read(PlanSetting.CELL_WORDS, text -> text),
                answers.read(PlanSetting.BOARD_WORDS, text -> text),
                quantity(answers, PlanSetting.CAPACITY, Unit.KILOGRAM),
                quantity(answers, PlanSetting.FACTOR, Unit.COUNTS_PER_KILOGRAM),
                quantity(answers, PlanSetting.SCALE, Unit.COUNTS_PER_MILLIVOLT_PER_VOLT),
                OptionalInt.empty()));
  }

  private static double quantity(PlanAnswers answers, PlanSetting setting, Unit unit) {
    return answers.read(setting, text -> quantity(text, unit));
  }

  /** Lots, in which each serial stands once unless serials start again in each. */
  private static List<Lot> lots(
      UnitKind kind, PlanSetting setting, SerialRule serials, PlanAnswers answers) {
    List<Lot> lots =
        answers.readAll(setting, text -> lot(kind, text, serials == SerialRule.PER_LOT));
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
    return ClaimRequest.share(number(text), "it");
  }

  private static BenchTimes times(PlanAnswers answers) {
    return checked(
        () ->
            new BenchTimes(
                answers.read(PlanSetting.MOUNT, PlanDraft::number),
                answers.read(PlanSetting.RUN, PlanDraft::number),
                answers.read(PlanSetting.WARM_UP, PlanDraft::number),
                answers.read(PlanSetting.HOURS_A_DAY, PlanDraft::number)));
  }

  private static List<SideTest> sideTests(List<String> texts, double capacity) {
    List<SideTest> tests = new ArrayList<>();
    for (String text : texts) {
      SideTest test = PlanAnswers.read("--side-test", text, it -> sideTest(it, capacity));
      refuse(
          tests.stream().anyMatch(other -> other.effect() == test.effect()),
          "--side-test: " + test.effect().key() + " stands twice");
      tests.add(test);
    }
    return tests;
  }

  private static IllegalArgumentException wanted(String what, String text) {
    return new IllegalArgumentException("takes " + what + ", was \"" + text + "\"");
  }

  private static void must(boolean hold, String message) {
    if (!hold) {
      throw new IllegalArgumentException(message);
    }
  }

  /** A lot as {@code LOT=SERIAL,SERIAL,FIRST..LAST} or {@code LOT=NUMBER}. */
  static Lot lot(UnitKind kind, String text, boolean perLot) {
    int at = text.indexOf('=');
    if (at < 1 || at == text.length() - 1) {
      throw wanted("LOT=UNITS, such as A=A-001..A-010 or A=10", text);
    }
    String name = text.substring(0, at).strip();
    List<String> units = units(name, text.substring(at + 1));
    return new Lot(
        kind,
        name,
        perLot ? units.stream().map(serial -> UnitNames.of(name, serial)).toList() : units);
  }

  private static List<String> units(String lot, String text) {
    if (text.strip().matches("\\d{1,4}")) {
      int count = Integer.parseInt(text.strip());
      return numbered(lot + "-", 1, count, Math.max(2, String.valueOf(count).length()));
    }
    List<String> units = new ArrayList<>();
    for (String part : text.split(",", -1)) {
      Matcher range = RANGE.matcher(part.strip());
      if (range.matches()) {
        int first = Integer.parseInt(range.group(2));
        int last = Integer.parseInt(range.group(3));
        must(
            last >= first && last - first < MOST_UNITS,
            "the range " + part.strip() + " must rise and be shorter than " + MOST_UNITS);
        units.addAll(numbered(range.group(1), first, last, range.group(2).length()));
      } else {
        must(!part.isBlank(), "an empty serial in \"" + text + "\"");
        units.add(part.strip());
      }
    }
    return units;
  }

  private static List<String> numbered(String prefix, int first, int last, int digits) {
    List<String> units = new ArrayList<>();
    for (int i = first; i <= last; i++) {
      units.add(prefix + "0".repeat(Math.max(0, digits - String.valueOf(i).length())) + i);
    }
    return units;
  }

  /** A quantity above 0 with a unit of measure, in the unit of the record. */
  static double quantity(String text, Unit unit) {
    Result<Quantity> read = UnitsOfMeasure.quantity(text, unit.dimension());
    if (read.isRefused()) {
      String symbols = UnitsOfMeasure.symbols(unit.dimension());
      throw wanted("a number and a unit of measure (" + symbols + ")", text);
    }
    double value = read.get().in(unit);
    must(value > 0, "must be above 0, was " + value);
    return value;
  }

  /** Loads in kilograms, comma separated. */
  static List<Double> kilograms(String text) {
    return Arrays.stream(text.split(",", -1))
        .map(part -> number(part.strip().replaceAll("\\s*kg$", "")))
        .toList();
  }

  /** The loads of a run. */
  static List<Double> loads(String text, double capacity) {
    List<Double> loads = kilograms(text);
    must(
        loads.get(0) == 0
            && loads.stream().allMatch(load -> load >= 0 && load <= capacity)
            && loads.stream().anyMatch(load -> load > 0),
        "must begin with 0, rise, and not exceed the capacity of " + capacity + " kg");
    return loads;
  }

  /** A plain number. */
  static double number(String text) {
    return UnitsOfMeasure.typed(text).orElseThrow(() -> wanted("a number", text));
  }

  /** Lowest and highest temperature. */
  static List<Double> temperatures(String text) {
    Matcher range = TEMPERATURES.matcher(text);
    if (!range.matches()) {
      throw wanted("LOW..HIGH in °C, such as 18..26", text);
    }
    return List.of(number(range.group(1)), number(range.group(2)));
  }

  /** A class of masses. */
  static MassClass massClass(String text) {
    List<String> words = Arrays.stream(MassClass.values()).map(MassClass::key).toList();
    return Keyed.of(MassClass.values(), text.strip())
        .orElseThrow(
            () -> wanted("a class of OIML R 111 (" + String.join(", ", words) + ")", text));
  }

  /** Levels, split by semicolons. */
  private static List<CalibrationLevel> levels(
      String text, MassClass massClass, List<Double> loads) {
    List<CalibrationLevel> levels =
        Arrays.stream(text.split(";", -1)).map(part -> level(part, massClass, loads)).toList();
    must(
        levels.stream().map(CalibrationLevel::key).distinct().count() == levels.size(),
        "takes one level of each kind: none, one-point, two-point and multi-point");
    return levels;
  }

  /** What is asked at each level: the wanted figures in the same order, split by semicolons. */
  private static List<LevelRequest> asked(List<CalibrationLevel> levels, String text) {
    String[] wanted = text.split(";", -1);
    must(
        wanted.length <= levels.size(),
        "takes one figure for each level in the order of --level, such as 500; 50");
    return IntStream.range(0, levels.size())
        .mapToObj(
            i ->
                new LevelRequest(
                    levels.get(i), i < wanted.length ? grams(wanted[i]) : OptionalDouble.empty()))
        .toList();
  }

  /** {@code none}, or calibration masses in kilograms, each of which is a load of the run. */
  static CalibrationLevel level(String text, MassClass massClass, List<Double> loads) {
    if (text.strip().equals("none")) {
      return new CalibrationLevel.None();
    }
    List<Double> points = kilograms(text);
    for (double point : points) {
      must(loads.contains(point), "a calibration at " + point + " kg needs that load in the run");
    }
    return new CalibrationLevel.Calibrated(points, massClass);
  }

  /** A side test as {@code EFFECT=KG,KG,...:COVERS}; its runs are named after the effect. */
  static SideTest sideTest(String text, double capacity) {
    Matcher parts = SIDE_TEST.matcher(text);
    if (!parts.matches()) {
      throw wanted(
          "EFFECT=KG,KG,...:COVERS, such as \"off-centre=0,20,20,20: loads up to 100 mm off the"
              + " centre\"",
          text);
    }
    String key = parts.group(1).strip();
    Optional<SideTest.Effect> effect = Keyed.of(SideTest.Effect.values(), key);
    must(
        effect.isPresent(),
        "there is no effect \"" + key + "\"; there are off-centre, creep and drift");
    List<Double> loads = kilograms(parts.group(2));
    for (double load : loads) {
      must(
          load >= 0 && load <= capacity,
          "a load of " + load + " kg is outside 0 to the capacity of " + capacity + " kg");
    }
    String prefix =
        switch (effect.orElseThrow()) {
          case OFF_CENTRE -> "OC-";
          case CREEP -> "CR-";
          case DRIFT -> "DR-";
        };
    return new SideTest(effect.orElseThrow(), prefix, loads, parts.group(3).strip());
  }

  /** {@code CELL/BOARD}, or nothing. */
  static Optional<Study.CheckStandard> check(String text) {
    return text.isBlank() ? Optional.empty() : Optional.of(pair(text));
  }

  /** Serials of a cell and a board. */
  static Study.CheckStandard pair(String text) {
    String[] parts = text.split("/", -1);
    if (parts.length != 2 || parts[0].isBlank() || parts[1].isBlank()) {
      throw wanted("CELL/BOARD", text);
    }
    return new Study.CheckStandard(parts[0].strip(), parts[1].strip());
  }

  /** A figure in grams that may be left out. */
  static OptionalDouble grams(String text) {
    if (text.isBlank()) {
      return OptionalDouble.empty();
    }
    boolean plain = text.strip().matches("[0-9.]+");
    return OptionalDouble.of(plain ? number(text) : quantity(text, Unit.GRAM));
  }
}
