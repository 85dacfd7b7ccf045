package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.UnitNames;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.BenchInfluences;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.ClaimRequest.Subject;
import lotproof.study.ClaimRequest.TemperatureCorrection;
import lotproof.study.Conditions;
import lotproof.study.DataIssue.Code;
import lotproof.study.Design;
import lotproof.study.Keyed;
import lotproof.study.Kit;
import lotproof.study.MassClass;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;

/** A study file's tree to a definition. Goes through all of it before it answers. */
final class StudyReader {
  private final Map<String, UnitKind> serials = new HashMap<>();
  private boolean perLot;

  Optional<Study> study(StudySection root) {
    Optional<Kit> kit = kit(root.section("kit"));
    double capacity = kit.map(Kit::capacityKilograms).orElse(Double.MAX_VALUE);
    perLot = root.text("serials").equals("per-lot");
    List<Lot> cells = lots(root, "cells", UnitKind.CELL);
    List<Lot> boards = lots(root, "boards", UnitKind.BOARD);
    Optional<Study.CheckStandard> check = root.optional("check-standard").flatMap(this::check);
    Optional<Design> design = design(root.section("design"), capacity);
    Optional<ClaimRequest> claim = ClaimReader.claim(root.section("claim"), capacity);
    Optional<Conditions> conditions = conditions(root.section("conditions"));
    String title = root.text("title");
    String question = root.text("question");
    List<String> causes = root.texts("causes");
    Map<Characteristic, Limits> limits = limits(root.section("limits"));
    return root.made(
        () ->
            new Study(
                title,
                question,
                root.wholeNumber("seed", 0),
                kit.orElseThrow(),
                new Units(cells, boards, check),
                design.orElseThrow(),
                root.section("reduction")
                    .one(
                        "reference-line",
                        Study.ReferenceLine.values(),
                        Study.ReferenceLine.TERMINAL)
                    .orElseThrow(),
                limits,
                causes,
                claim.orElseThrow(),
                conditions.orElseThrow(),
                influences(root.section("spread"))));
  }

  private static Optional<Kit> kit(StudySection in) {
    String cell = in.text("cell");
    String board = in.text("board");
    double capacity = in.positive("capacity", Unit.KILOGRAM);
    double factor = in.positive("default-factor", Unit.COUNTS_PER_KILOGRAM);
    double scale = in.positive("converter-scale", Unit.COUNTS_PER_MILLIVOLT_PER_VOLT);
    OptionalInt bits =
        in.has("converter-bits")
            ? OptionalInt.of((int) in.wholeNumber("converter-bits", 0))
            : OptionalInt.empty();
    return in.made(() -> new Kit(cell, board, capacity, factor, scale, bits));
  }

  /**
   * Lots of one kind; none are needed of the partners in a claim for units alone on one partner.
   */
  private List<Lot> lots(StudySection root, String key, UnitKind kind) {
    StudySection in = root.section("lots");
    List<Lot> lots = new ArrayList<>();
    if (root.has("lots") && !in.has(key) && !isForOthersAlone(root, kind)) {
      root.reject("lots", Code.KEY_MISSING, "the key \"" + key + "\" is missing in lots");
    }
    Set<String> names = new HashSet<>();
    for (StudySection lot : in.items(key)) {
      String name = lot.text("lot");
      if (!name.isEmpty() && !names.add(name)) {
        lot.reject("lot", Code.VALUE_INVALID, "lot \"" + name + "\" stands twice in lots." + key);
      }
      List<String> units =
          lot.texts("units").stream()
              .map(serial -> perLot ? UnitNames.of(name, serial) : serial)
              .toList();
      for (String serial : units) {
        if (serials.putIfAbsent(serial, kind) != null) {
          lot.reject(
              "units",
              Code.VALUE_INVALID,
              perLot
                  ? "\"" + serial + "\" names a cell and a board; give their lots names that differ"
                  : ("serial \"%s\" belongs to a lot above; a serial names one unit; where"
                          + " serials start again in every lot, write \"serials: per-lot\"")
                      .formatted(serial));
        }
      }
      lot.made(() -> new Lot(kind, name, units)).ifPresent(lots::add);
    }
    return lots;
  }

  private static boolean isForOthersAlone(StudySection root, UnitKind kind) {
    ClaimRequest.Subject others =
        kind == UnitKind.CELL ? ClaimRequest.Subject.BOARD : ClaimRequest.Subject.CELL;
    return root.section("claim").text("for").equals(others.key())
        && root.section("design").has("reference");
  }

  private Optional<Study.CheckStandard> check(StudySection in) {
    String owner = "the check standard belongs";
    String cell = ownSerial(in, "cell", UnitKind.CELL, owner);
    String board = ownSerial(in, "board", UnitKind.BOARD, owner);
    return in.made(() -> new Study.CheckStandard(cell, board));
  }

  private String ownSerial(StudySection in, String key, UnitKind kind, String owner) {
    String serial = in.text(key);
    if (!serial.isEmpty() && serials.putIfAbsent(serial, kind) != null) {
      String message = "serial \"" + serial + "\" is used above; " + owner + " to no lot";
      in.reject(key, Code.VALUE_INVALID, message);
    }
    return serial;
  }

  private Optional<Design> design(StudySection in, double capacity) {
    Optional<Design.Kind> kind = in.one("kind", Design.Kind.values());
    List<Double> loads = loads(in, capacity);
    boolean falling = false;
    for (int i = 1; i < loads.size(); i++) {
      if (loads.get(i) > loads.get(i - 1) && falling) {
        in.rejectItem(
            "loads", i, Code.VALUE_INVALID, "loads rise and then fall; this one rises again");
      }
      falling |= loads.get(i) < loads.get(i - 1);
    }
    boolean partners = kind.equals(Optional.of(Design.Kind.REFERENCE_PARTNER));
    if (partners && !in.has("reference")) {
      in.reject("kind", Code.KEY_MISSING, "design reference-partner needs the key \"reference\"");
    } else if (!partners && in.has("reference")) {
      in.reject(
          "reference",
          Code.VALUE_INVALID,
          "reference partners go with kind reference-partner only; leave out reference");
    }
    Optional<Design.ReferencePartners> reference =
        in.optional("reference").flatMap(this::reference);
    List<Design.PlannedPair> pairs = pairs(in);
    List<SideTest> sides = sideTests(in, capacity);
    Optional<Design.Pairing> pairing =
        in.one("pairing", Design.Pairing.values(), Design.Pairing.NOT_STATED);
    return in.made(
        () ->
            new Design(kind.orElseThrow(), loads, pairs, reference, sides, pairing.orElseThrow()));
  }

  private static List<Double> loads(StudySection in, double capacity) {
    List<Double> loads = in.quantities("loads", Unit.KILOGRAM);
    for (int i = 0; i < loads.size(); i++) {
      double load = loads.get(i);
      if (load < 0 || load > capacity) {
        String message = "a load of %s kg is outside 0 kg to the capacity of %s kg";
        in.rejectItem("loads", i, Code.OUT_OF_RANGE, message, plain(load), plain(capacity));
      }
    }
    return loads;
  }

  private Optional<Design.ReferencePartners> reference(StudySection in) {
    String owner = "reference partners belong";
    String cell = ownSerial(in, "cell", UnitKind.CELL, owner);
    String board = ownSerial(in, "board", UnitKind.BOARD, owner);
    return in.made(
        () -> new Design.ReferencePartners(cell, board, in.truth("dummy-bridge", false)));
  }

  private List<Design.PlannedPair> pairs(StudySection in) {
    List<Design.PlannedPair> pairs = new ArrayList<>();
    Set<List<String>> seen = new HashSet<>();
    for (StudySection pair : in.items("pairs")) {
      String cell = plannedSerial(pair, "cell", UnitKind.CELL);
      String board = plannedSerial(pair, "board", UnitKind.BOARD);
      if (!cell.isEmpty() && !board.isEmpty() && !seen.add(List.of(cell, board))) {
        pair.reject(
            "cell",
            Code.VALUE_INVALID,
            "cell " + cell + " with board " + board + " stands twice; raise its runs instead");
      }
      pair.made(() -> new Design.PlannedPair(cell, board, (int) pair.wholeNumber("runs", 1)))
          .ifPresent(pairs::add);
    }
    return pairs;
  }

  private String plannedSerial(StudySection pair, String key, UnitKind kind) {
    String written = pair.text(key);
    if (written.isEmpty() || serials.get(written) == kind) {
      return written;
    }
    List<String> known =
        serials.keySet().stream().filter(name -> serials.get(name) == kind).sorted().toList();
    List<String> candidates = perLot ? UnitNames.candidates(written, known.stream()) : List.of();
    if (candidates.size() == 1) {
      return candidates.get(0);
    }
    if (candidates.isEmpty()) {
      String hint =
          Nearest.to(written, known)
              .map(near -> "did you mean \"" + near + "\"?")
              .orElse("list it in a lot first");
      String message = "\"" + written + "\" is no " + kind.key() + " of the study; " + hint;
      pair.reject(key, Code.UNKNOWN_SERIAL, message);
    } else {
      String message = "\"" + written + "\" can be " + String.join(" or ", candidates);
      pair.reject(key, Code.AMBIGUOUS, message + "; write which");
    }
    return "";
  }

  private static List<SideTest> sideTests(StudySection design, double capacity) {
    List<SideTest> tests = new ArrayList<>();
    for (StudySection in : design.items("side-tests")) {
      Optional<SideTest.Effect> effect = in.one("effect", SideTest.Effect.values());
      String prefix = in.text("runs");
      List<Double> loads = loads(in, capacity);
      if (!loads.isEmpty() && loads.get(0) != 0) {
        in.rejectItem("loads", 0, Code.VALUE_INVALID, "a side test begins without load, at 0 kg");
      } else if (new HashSet<>(loads).size() == loads.size()) {
        in.reject(
            "loads",
            Code.VALUE_INVALID,
            "no load comes again, so there is nothing to compare; each step is compared with the"
                + " first one that has its load");
      }
      for (SideTest above : tests) {
        if (effect.equals(Optional.of(above.effect()))) {
          in.reject("effect", Code.VALUE_INVALID, above.effect().key() + " stands twice");
        }
        String other = above.runPrefix();
        if (!prefix.isEmpty() && (prefix.startsWith(other) || other.startsWith(prefix))) {
          String message = "runs that begin with \"%s\" cannot be told from those with \"%s\"";
          in.reject("runs", Code.VALUE_INVALID, message, prefix, other);
        }
      }
      in.made(() -> new SideTest(effect.orElseThrow(), prefix, loads, in.text("covers")))
          .ifPresent(tests::add);
    }
    return tests;
  }

  /** Unknown and repeated names are found by the schema. */
  private static BenchInfluences influences(StudySection in) {
    return new BenchInfluences(
        constants(in.texts("covariates"), BenchInfluences.Covariate.values()),
        constants(in.texts("blocks"), BenchInfluences.Block.values()));
  }

  private static <K extends Keyed> List<K> constants(List<String> keys, K[] constants) {
    return keys.stream().flatMap(key -> Keyed.of(constants, key).stream()).toList();
  }

  private static Map<Characteristic, Limits> limits(StudySection in) {
    Map<Characteristic, Limits> limits = new EnumMap<>(Characteristic.class);
    for (Characteristic characteristic : Characteristic.values()) {
      if (in.has(characteristic.key())) {
        limits(in.section(characteristic.key()), unitOf(characteristic))
            .ifPresent(found -> limits.put(characteristic, found));
      }
    }
    return limits;
  }

  private static Optional<Limits> limits(StudySection in, Unit unit) {
    OptionalDouble lower = in.optionalQuantity("lower", unit);
    OptionalDouble upper = in.optionalQuantity("upper", unit);
    if (lower.orElse(Double.NaN) >= upper.orElse(Double.NaN)) {
      in.reject("upper", Code.OUT_OF_RANGE, in.name("upper") + " must be above the lower limit");
    }
    return in.made(() -> new Limits(lower, upper));
  }

  /** The unit in which a characteristic's limits are kept. */
  static Unit unitOf(Characteristic characteristic) {
    return Arrays.stream(Dimension.values())
        .flatMap(dimension -> UnitsOfMeasure.find(dimension, characteristic.unit()).stream())
        .findFirst()
        .orElseThrow();
  }

  private static Optional<Conditions> conditions(StudySection in) {
    StudySection temperature = in.section("temperature");
    double lowest = temperature.quantity("lowest", Unit.CELSIUS);
    double highest = temperature.quantity("highest", Unit.CELSIUS);
    if (lowest > highest) {
      temperature.reject(
          "highest",
          Code.OUT_OF_RANGE,
          "the highest temperature of %s °C is below the lowest of %s °C",
          plain(highest),
          plain(lowest));
    }
    Optional<MassClass> massClass = in.one("bench-mass-class", MassClass.values());
    List<String> notes = in.texts("notes");
    return in.made(() -> new Conditions(lowest, highest, massClass.orElseThrow(), notes));
  }

  /** The section {@code claim} of a study file. */
  private static final class ClaimReader {
    private ClaimReader() {}

    static Optional<ClaimRequest> claim(StudySection in, double capacity) {
      double rounding = in.positive("rounding", Unit.GRAM);
      Optional<Subject> subject = in.one("for", Subject.values(), Subject.KIT);
      Optional<ClaimForm> form = form(in);
      OptionalDouble ratio =
          in.has("assumed-lot-ratio")
              ? OptionalDouble.of(in.number("assumed-lot-ratio"))
              : OptionalDouble.empty();
      List<LevelRequest> levels = levels(in, capacity);
      return in.made(
          () ->
              new ClaimRequest(
                  in.number("content"),
                  in.number("confidence"),
                  rounding,
                  form.orElseThrow(),
                  subject.orElseThrow(),
                  ratio,
                  levels));
    }

    private static List<LevelRequest> levels(StudySection in, double capacity) {
      List<LevelRequest> levels = new ArrayList<>();
      Set<List<Object>> seen = new HashSet<>();
      for (StudySection item : in.items("levels")) {
        Optional<CalibrationLevel> level = level(item, capacity);
        OptionalDouble wanted =
            item.has("wanted")
                ? OptionalDouble.of(item.positive("wanted", Unit.GRAM))
                : OptionalDouble.empty();
        Optional<TemperatureCorrection> correction =
            item.optional("temperature-correction").flatMap(ClaimReader::correction);
        if (level.isPresent() && !seen.add(List.of(level.get(), correction))) {
          item.reject("level", Code.VALUE_INVALID, "the same level stands twice");
        }
        item.made(() -> new LevelRequest(level.orElseThrow(), wanted, correction))
            .ifPresent(levels::add);
      }
      return levels;
    }

    /** The form; empty where something is wrong with it, which is reported. */
    private static Optional<ClaimForm> form(StudySection in) {
      String key = in.has("form") ? in.text("form") : "symmetric";
      boolean ofReading = key.equals("of-reading");
      if (in.has("of-reading") && !ofReading) {
        in.reject(
            "of-reading",
            Code.VALUE_INVALID,
            "a ratio of share and constant contradicts form "
                + key
                + "; write \"form: of-reading\" or leave out of-reading");
      } else if (ofReading && !in.has("of-reading")) {
        in.reject(
            "form",
            Code.KEY_MISSING,
            "form of-reading needs the key \"of-reading\" with the fixed share and constant");
        return Optional.empty();
      }
      return switch (key) {
        case "symmetric" -> Optional.of(new ClaimForm.Symmetric());
        case "not-above" -> Optional.of(new ClaimForm.OneSided(ClaimForm.Side.ABOVE));
        case "not-below" -> Optional.of(new ClaimForm.OneSided(ClaimForm.Side.BELOW));
        case "of-reading" -> ofReading(in.section("of-reading"));
        default -> Optional.empty();
      };
    }

    private static Optional<ClaimForm> ofReading(StudySection in) {
      double constant = in.positive("constant", Unit.GRAM);
      return in.made(() -> new ClaimForm.OfReading(in.number("share"), constant));
    }

    private static Optional<TemperatureCorrection> correction(StudySection in) {
      double error = in.quantity("sensor-error", Unit.CELSIUS);
      return in.made(() -> new TemperatureCorrection(error));
    }

    private static Optional<CalibrationLevel> level(StudySection in, double capacity) {
      String key = in.text("level");
      boolean none = key.equals("none");
      if (!none && !List.of("one-point", "two-point", "multi-point").contains(key)) {
        return Optional.empty();
      }
      for (String name : List.of("at", "mass-class")) {
        if (none && in.has(name)) {
          in.reject(name, Code.VALUE_INVALID, "level none uses no masses; leave out " + name);
        } else if (!none && !in.has(name)) {
          in.reject("level", Code.KEY_MISSING, "level " + key + " needs the key \"" + name + "\"");
        }
      }
      if (none) {
        return Optional.of(new CalibrationLevel.None());
      }
      List<Double> points = in.quantities("at", Unit.KILOGRAM);
      if (in.has("at")) {
        checkPoints(in, key, points, capacity);
      }
      Optional<MassClass> massClass = in.one("mass-class", MassClass.values());
      return in.made(() -> new CalibrationLevel.Calibrated(points, massClass.orElseThrow()));
    }

    private static void checkPoints(
        StudySection in, String key, List<Double> points, double capacity) {
      String wanted =
          switch (key) {
            case "one-point" -> points.size() == 1 ? "" : "one mass";
            case "two-point" -> points.size() == 2 ? "" : "two masses";
            default -> points.size() > 2 ? "" : "three masses or more";
          };
      if (!wanted.isEmpty()) {
        in.reject(
            "at",
            Code.VALUE_INVALID,
            "level " + key + " needs " + wanted + ", has " + points.size());
      }
      double previous = 0;
      for (double point : points) {
        if (point <= previous || point > capacity) {
          in.reject(
              "at",
              Code.OUT_OF_RANGE,
              "calibration masses must be above 0, ascending and within the capacity; "
                  + plain(point)
                  + " kg is not");
          return;
        }
        previous = point;
      }
    }
  }
}
