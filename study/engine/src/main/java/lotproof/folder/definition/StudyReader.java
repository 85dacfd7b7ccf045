package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import com.fasterxml.jackson.core.JsonPointer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.folder.definition.StudySection.Trouble;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.UnitNames;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.BenchInfluences;
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Design;
import lotproof.study.Keyed;
import lotproof.study.Kit;
import lotproof.study.Limits;
import lotproof.study.Lot;
import lotproof.study.MassClass;
import lotproof.study.Result;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;

/** A study file's tree to a definition. Goes through all of it before it answers. */
final class StudyReader {
  private final YamlTree tree;
  private final Trouble trouble = new Trouble();
  private final Map<String, UnitKind> serials = new HashMap<>();
  private boolean perLot;

  StudyReader(YamlTree tree) {
    this.tree = tree;
  }

  Result<Study> read() {
    StudySection root = new StudySection(tree, trouble, JsonPointer.empty());
    String title = root.text("title");
    String question = root.text("question");
    long seed = root.wholeNumber("seed", 0);
    Optional<Kit> kit = kit(root.section("kit"));
    double capacity = kit.map(Kit::capacityKilograms).orElse(Double.MAX_VALUE);
    perLot = root.has("serials") && root.text("serials").equals("per-lot");
    List<Lot> cells = lots(root, "cells", UnitKind.CELL);
    List<Lot> boards = lots(root, "boards", UnitKind.BOARD);
    Optional<Study.CheckStandard> check =
        root.has("check-standard") ? check(root.section("check-standard")) : Optional.empty();
    Optional<Design> design = design(root.section("design"), capacity);
    Optional<Study.ReferenceLine> line = referenceLine(root.section("reduction"));
    Map<Characteristic, Limits> limits = limits(root.section("limits"));
    List<String> causes = root.texts("causes");
    Optional<ClaimRequest> claim = ClaimReader.claim(root.section("claim"), capacity);
    Optional<Conditions> conditions = conditions(root.section("conditions"));
    BenchInfluences influences = influences(root.section("spread"));
    List<DataIssue> issues = new ArrayList<>(tree.issues());
    issues.addAll(trouble.issues());
    issues.addAll(StudySchema.check(tree, trouble.places()));
    if (!issues.isEmpty()) {
      issues.sort(
          Comparator.comparingInt(DataIssue::line)
              .thenComparingInt(issue -> Integer.parseInt(issue.column())));
      return Result.refused(issues);
    }
    return Result.of(
        new Study(
            title,
            question,
            seed,
            kit.orElseThrow(),
            new Units(cells, boards, check),
            design.orElseThrow(),
            line.orElseThrow(),
            limits,
            causes,
            claim.orElseThrow(),
            conditions.orElseThrow(),
            influences));
  }

  private static Optional<Kit> kit(StudySection in) {
    String cell = in.text("cell");
    String board = in.text("board");
    double capacity = in.positive("capacity", Unit.KILOGRAM);
    double factor = in.positive("default-factor", Unit.COUNTS_PER_KILOGRAM);
    double scale = in.positive("converter-scale", Unit.COUNTS_PER_MILLIVOLT_PER_VOLT);
    OptionalInt bits = bits(in);
    return in.whenComplete(() -> new Kit(cell, board, capacity, factor, scale, bits));
  }

  private static OptionalInt bits(StudySection in) {
    if (!in.has("converter-bits")) {
      return OptionalInt.empty();
    }
    long bits = in.wholeNumber("converter-bits", 0);
    if (in.isComplete() && !(bits >= Kit.FEWEST_BITS && bits <= Kit.MOST_BITS)) {
      in.reject(
          "converter-bits",
          Code.OUT_OF_RANGE,
          "%s is %s to %s bits, not %s"
              .formatted(in.name("converter-bits"), Kit.FEWEST_BITS, Kit.MOST_BITS, bits));
    }
    return OptionalInt.of((int) bits);
  }

  /**
   * Lots of one kind; none are needed of the partners in a claim for units alone on one partner.
   */
  private List<Lot> lots(StudySection root, String key, UnitKind kind) {
    StudySection in = root.section("lots");
    List<Lot> lots = new ArrayList<>();
    if (root.has("lots") && !in.has(key)) {
      if (!isForOthersAlone(root, kind)) {
        root.reject("lots", Code.KEY_MISSING, "the key \"" + key + "\" is missing in lots");
      }
      return lots;
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
      lot.whenComplete(() -> new Lot(kind, name, units)).ifPresent(lots::add);
    }
    return lots;
  }

  private static boolean isForOthersAlone(StudySection root, UnitKind kind) {
    if (!root.has("claim") || !root.has("design")) {
      return false;
    }
    String subject =
        kind == UnitKind.CELL ? ClaimRequest.Subject.BOARD.key() : ClaimRequest.Subject.CELL.key();
    StudySection claim = root.section("claim");
    StudySection design = root.section("design");
    return claim.has("for") && claim.text("for").equals(subject) && design.has("reference");
  }

  private Optional<Study.CheckStandard> check(StudySection in) {
    String owner = "the check standard belongs";
    String cell = ownSerial(in, "cell", UnitKind.CELL, owner);
    String board = ownSerial(in, "board", UnitKind.BOARD, owner);
    return in.whenComplete(() -> new Study.CheckStandard(cell, board));
  }

  private String ownSerial(StudySection in, String key, UnitKind kind, String owner) {
    String serial = in.text(key);
    if (!serial.isEmpty() && serials.putIfAbsent(serial, kind) != null) {
      in.reject(
          key,
          Code.VALUE_INVALID,
          "serial \"" + serial + "\" is used above; " + owner + " to no lot");
    }
    return serial;
  }

  private Optional<Design> design(StudySection in, double capacity) {
    Optional<Design.Kind> kind =
        in.oneOf(
            "kind",
            Arrays.stream(Design.Kind.values())
                .filter(k -> k.key().equals(in.text("kind")))
                .findFirst());
    List<Double> loads = in.quantities("loads", Unit.KILOGRAM);
    boolean falling = false;
    for (int i = 0; i < loads.size(); i++) {
      double load = loads.get(i);
      if (!(load >= 0 && load <= capacity)) {
        String range = "0 kg to the capacity of " + plain(capacity) + " kg";
        in.rejectItem(
            "loads", i, Code.OUT_OF_RANGE, "a load of " + plain(load) + " kg is outside " + range);
      }
      if (i > 0 && load > loads.get(i - 1) && falling) {
        in.rejectItem(
            "loads", i, Code.VALUE_INVALID, "loads rise and then fall; this one rises again");
      }
      falling |= i > 0 && load < loads.get(i - 1);
    }
    boolean partners = kind.equals(Optional.of(Design.Kind.REFERENCE_PARTNER));
    if (partners && !in.has("reference")) {
      in.reject("kind", Code.KEY_MISSING, "design reference-partner needs the key \"reference\"");
    }
    if (!partners && in.has("reference")) {
      in.reject(
          "reference",
          Code.VALUE_INVALID,
          "reference partners go with kind reference-partner only; leave out reference");
    }
    Optional<Design.ReferencePartners> reference =
        in.has("reference") ? reference(in, in.section("reference")) : Optional.empty();
    List<Design.PlannedPair> pairs = in.has("pairs") ? pairs(in) : List.of();
    List<SideTest> sides = SideTestReader.sideTests(in, capacity);
    Optional<Design.Pairing> pairing = pairing(in);
    return in.whenComplete(
        () ->
            new Design(kind.orElseThrow(), loads, pairs, reference, sides, pairing.orElseThrow()));
  }

  private static Optional<Design.Pairing> pairing(StudySection in) {
    return in.has("pairing")
        ? in.oneOf(
            "pairing",
            Stream.of(Design.Pairing.RANDOM, Design.Pairing.MATCHED)
                .filter(p -> p.key().equals(in.text("pairing")))
                .findFirst())
        : Optional.of(Design.Pairing.NOT_STATED);
  }

  private Optional<Design.ReferencePartners> reference(StudySection design, StudySection in) {
    String owner = "reference partners belong";
    String cell = ownSerial(in, "cell", UnitKind.CELL, owner);
    String board = ownSerial(in, "board", UnitKind.BOARD, owner);
    boolean dummy = in.truth("dummy-bridge", false);
    if (!in.isComplete()) {
      design.incomplete();
    }
    return in.whenComplete(() -> new Design.ReferencePartners(cell, board, dummy));
  }

  private List<Design.PlannedPair> pairs(StudySection in) {
    List<Design.PlannedPair> pairs = new ArrayList<>();
    Set<List<String>> seen = new HashSet<>();
    for (StudySection pair : in.items("pairs")) {
      String cell = plannedSerial(pair, "cell", UnitKind.CELL);
      String board = plannedSerial(pair, "board", UnitKind.BOARD);
      long runs = pair.wholeNumber("runs", 1);
      if (pair.isComplete() && !seen.add(List.of(cell, board))) {
        pair.reject(
            "cell",
            Code.VALUE_INVALID,
            "cell " + cell + " with board " + board + " stands twice; raise its runs instead");
      }
      if (pair.isComplete() && runs >= 1 && runs <= Integer.MAX_VALUE) {
        pairs.add(new Design.PlannedPair(cell, board, (int) runs));
      }
    }
    return pairs;
  }

  private String plannedSerial(StudySection pair, String key, UnitKind kind) {
    String written = pair.text(key);
    List<String> candidates =
        serials.get(written) == kind || written.isEmpty()
            ? List.of()
            : UnitNames.candidates(
                written, serials.keySet().stream().filter(name -> serials.get(name) == kind));
    String serial = perLot && candidates.size() == 1 ? candidates.get(0) : written;
    if (perLot && candidates.size() > 1) {
      pair.reject(
          key,
          Code.AMBIGUOUS,
          "\"" + written + "\" can be " + String.join(" or ", candidates) + "; write which");
    } else if (!serial.isEmpty() && serials.get(serial) != kind) {
      List<String> known =
          serials.entrySet().stream()
              .filter(e -> e.getValue() == kind)
              .map(Map.Entry::getKey)
              .sorted()
              .toList();
      String hint =
          Nearest.to(serial, known)
              .map(near -> "did you mean \"" + near + "\"?")
              .orElse("list it in a lot first");
      pair.reject(
          key,
          Code.UNKNOWN_SERIAL,
          "\"" + serial + "\" is no " + kind.key() + " of the study; " + hint);
    }
    return serial;
  }

  /** Unknown and repeated names are found by the schema. */
  private static BenchInfluences influences(StudySection in) {
    List<BenchInfluences.Covariate> covariates = new ArrayList<>();
    List<BenchInfluences.Block> blocks = new ArrayList<>();
    if (in.has("covariates")) {
      in.texts("covariates").stream()
          .flatMap(key -> Keyed.of(BenchInfluences.Covariate.values(), key).stream())
          .distinct()
          .forEach(covariates::add);
    }
    if (in.has("blocks")) {
      in.texts("blocks").stream()
          .flatMap(key -> Keyed.of(BenchInfluences.Block.values(), key).stream())
          .distinct()
          .forEach(blocks::add);
    }
    return new BenchInfluences(covariates, blocks);
  }

  private static Optional<Study.ReferenceLine> referenceLine(StudySection in) {
    if (!in.has("reference-line")) {
      return Optional.of(Study.ReferenceLine.TERMINAL);
    }
    String key = in.text("reference-line");
    return Arrays.stream(Study.ReferenceLine.values()).filter(l -> l.key().equals(key)).findFirst();
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
    boolean both = lower.isPresent() && upper.isPresent();
    if (in.isComplete() && both && !(lower.getAsDouble() < upper.getAsDouble())) {
      in.reject("upper", Code.OUT_OF_RANGE, in.name("upper") + " must be above the lower limit");
    }
    boolean any = lower.isPresent() || upper.isPresent();
    return any ? in.whenComplete(() -> new Limits(lower, upper)) : Optional.empty();
  }

  /** The unit in which a characteristic's limits are kept. */
  static Unit unitOf(Characteristic characteristic) {
    return Arrays.stream(Dimension.values())
        .flatMap(dimension -> UnitsOfMeasure.find(dimension, characteristic.unit()).stream())
        .findFirst()
        .orElseThrow();
  }

  static Optional<MassClass> massClass(StudySection in, String key) {
    return in.oneOf(
        key, in.has(key) ? Keyed.of(MassClass.values(), in.text(key)) : Optional.empty());
  }

  private static Optional<Conditions> conditions(StudySection in) {
    StudySection temperature = in.section("temperature");
    double lowest = temperature.quantity("lowest", Unit.CELSIUS);
    double highest = temperature.quantity("highest", Unit.CELSIUS);
    if (temperature.isComplete() && !(lowest <= highest)) {
      temperature.reject(
          "highest",
          Code.OUT_OF_RANGE,
          "the highest temperature of %s °C is below the lowest of %s °C"
              .formatted(plain(highest), plain(lowest)));
    }
    Optional<MassClass> massClass = massClass(in, "bench-mass-class");
    List<String> notes = in.has("notes") ? in.texts("notes") : List.of();
    return temperature.isComplete()
        ? in.whenComplete(() -> new Conditions(lowest, highest, massClass.orElseThrow(), notes))
        : Optional.empty();
  }
}
