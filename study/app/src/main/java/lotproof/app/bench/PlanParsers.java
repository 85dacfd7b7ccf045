package lotproof.app.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.app.cli.UnusableException;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Quantity;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.CalibrationLevel;
import lotproof.study.Keyed;
import lotproof.study.Lot;
import lotproof.study.MassClass;
import lotproof.study.Result;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** Reads the words of a plan. What cannot be read is an IllegalArgumentException with a reason. */
final class PlanParsers {
  private static final int MOST_UNITS = 5000;
  private static final Pattern RANGE = Pattern.compile("(.*?)(\\d{1,9})\\.\\.(?:\\1)?(\\d{1,9})");
  private static final Pattern TEMPERATURES =
      Pattern.compile("\\s*(-?[0-9.]+)\\s*(?:°C|C)?\\s*\\.\\.\\s*(-?[0-9.]+)\\s*(?:°C|C)?\\s*");
  private static final Pattern SIDE_TEST = Pattern.compile("([^=]*)=([^:]*):\\s*(\\S.*)");

  private PlanParsers() {}

  /** The value of an option's text; what is wrong ends the command with the option's name. */
  static <T> T read(String option, String text, Function<String, T> reader) {
    try {
      return reader.apply(text);
    } catch (IllegalArgumentException e) {
      throw new UnusableException(option + ": " + e.getMessage());
    }
  }

  private static IllegalArgumentException wanted(String what, String text) {
    return new IllegalArgumentException("takes " + what + ", was \"" + text + "\"");
  }

  /** A lot as {@code LOT=SERIAL,SERIAL,FIRST..LAST} or {@code LOT=NUMBER}. */
  static Lot lot(UnitKind kind, String text) {
    int at = text.indexOf('=');
    if (at < 1 || at == text.length() - 1) {
      throw wanted("LOT=UNITS, such as A=A-001..A-010 or A=10", text);
    }
    String name = text.substring(0, at).strip();
    return new Lot(kind, name, units(name, text.substring(at + 1)));
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
        if (last < first || last - first >= MOST_UNITS) {
          throw new IllegalArgumentException(
              "the range " + part.strip() + " must rise and be shorter than " + MOST_UNITS);
        }
        units.addAll(numbered(range.group(1), first, last, range.group(2).length()));
      } else if (part.isBlank()) {
        throw new IllegalArgumentException("an empty serial in \"" + text + "\"");
      } else {
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
    if (!read.isRefused()) {
      double value = read.get().in(unit);
      if (value > 0) {
        return value;
      }
      throw new IllegalArgumentException("must be above 0, was " + value);
    }
    throw wanted(
        "a number and a unit of measure (" + UnitsOfMeasure.symbols(unit.dimension()) + ")", text);
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
    double largest = loads.stream().mapToDouble(load -> load).max().orElse(0);
    boolean usable =
        loads.size() >= 2 && loads.get(0) == 0 && loads.stream().allMatch(load -> load >= 0);
    if (!usable || !(largest > 0 && largest <= capacity)) {
      throw new IllegalArgumentException(
          "must begin with 0, rise, and not exceed the capacity of " + capacity + " kg");
    }
    return loads;
  }

  /** A plain number. */
  static double number(String text) {
    try {
      double value = Double.parseDouble(text.strip());
      if (Double.isFinite(value)) {
        return value;
      }
    } catch (NumberFormatException e) {
      // said below, as for infinity
    }
    throw wanted("a number", text);
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

  /** {@code none}, or calibration masses in kilograms, each of which is a load of the run. */
  static CalibrationLevel level(String text, MassClass massClass, List<Double> loads) {
    if (text.strip().equals("none")) {
      return new CalibrationLevel.None();
    }
    List<Double> points = kilograms(text);
    for (double point : points) {
      if (!loads.contains(point)) {
        throw new IllegalArgumentException(
            "a calibration at " + point + " kg needs that load in the run");
      }
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
    SideTest.Effect effect =
        Keyed.of(SideTest.Effect.values(), key)
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "there is no effect \""
                            + key
                            + "\"; there are off-centre, creep and drift"));
    List<Double> loads = kilograms(parts.group(2));
    for (double load : loads) {
      if (!(load >= 0 && load <= capacity)) {
        throw new IllegalArgumentException(
            "a load of " + load + " kg is outside 0 to the capacity of " + capacity + " kg");
      }
    }
    String prefix =
        switch (effect) {
          case OFF_CENTRE -> "OC-";
          case CREEP -> "CR-";
          case DRIFT -> "DR-";
        };
    return new SideTest(effect, prefix, loads, parts.group(3).strip());
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
