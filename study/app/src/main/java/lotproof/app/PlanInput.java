package lotproof.app;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.QuantityOutcome;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.CalibrationLevel;
import lotproof.study.CheckStandard;
import lotproof.study.Lot;
import lotproof.study.MassClass;
import lotproof.study.SideTest;
import lotproof.study.UnitKind;

/** Reads the words with which a plan is described. */
final class PlanInput {
  private static final int MOST_UNITS = 5000;
  private static final Pattern RANGE = Pattern.compile("(.*?)(\\d{1,9})\\.\\.(?:\\1)?(\\d{1,9})");
  private static final Pattern TEMPERATURES =
      Pattern.compile("\\s*(-?[0-9.]+)\\s*(?:°C|C)?\\s*\\.\\.\\s*(-?[0-9.]+)\\s*(?:°C|C)?\\s*");

  private static final Pattern SIDE_TEST = Pattern.compile("([^=]*)=([^:]*):\\s*(\\S.*)");

  private PlanInput() {}

  /** Lots as {@code LOT=SERIAL,SERIAL,FIRST..LAST} or {@code LOT=NUMBER}. */
  static List<Lot> lots(UnitKind kind, List<String> texts, String option) {
    List<Lot> lots = new ArrayList<>();
    for (String text : texts) {
      int at = text.indexOf('=');
      if (at < 1 || at == text.length() - 1) {
        throw new UnusableException(
            option + " takes LOT=UNITS, such as A=A-001..A-010 or A=10, was \"" + text + "\"");
      }
      String name = text.substring(0, at).strip();
      try {
        lots.add(new Lot(kind, name, units(name, text.substring(at + 1), option)));
      } catch (IllegalArgumentException e) {
        throw new UnusableException(option + " " + text + ": " + e.getMessage());
      }
    }
    return lots;
  }

  private static List<String> units(String lot, String text, String option) {
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
          throw new UnusableException(
              option
                  + ": the range "
                  + part.strip()
                  + " must rise and be shorter than "
                  + MOST_UNITS);
        }
        units.addAll(numbered(range.group(1), first, last, range.group(2).length()));
      } else if (part.isBlank()) {
        throw new UnusableException(option + ": an empty serial in \"" + text + "\"");
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

  /** A quantity with a unit of measure, in the unit of the record. */
  static double quantity(String text, Unit wanted, String option) {
    Dimension dimension = wanted.dimension();
    QuantityOutcome outcome = UnitsOfMeasure.quantity(text, dimension);
    if (outcome instanceof QuantityOutcome.Quantity read) {
      return read.unit().to(wanted, read.value());
    }
    throw new UnusableException(
        option
            + " takes a number and a unit of measure ("
            + UnitsOfMeasure.symbols(dimension)
            + "), was \""
            + text
            + "\"");
  }

  /** Loads in kilograms, comma separated. */
  static List<Double> kilograms(String text, String option) {
    return Arrays.stream(text.split(",", -1))
        .map(part -> number(part.strip().replaceAll("\\s*kg$", ""), option))
        .toList();
  }

  /** A plain number. */
  static double number(String text, String option) {
    try {
      double value = Double.parseDouble(text.strip());
      if (Double.isFinite(value)) {
        return value;
      }
    } catch (NumberFormatException e) {
      // said below, as for infinity
    }
    throw new UnusableException(option + " takes a number, was \"" + text + "\"");
  }

  /** Lowest and highest temperature. */
  static double[] temperatures(String text, String option) {
    Matcher range = TEMPERATURES.matcher(text);
    if (!range.matches()) {
      throw new UnusableException(
          option + " takes LOW..HIGH in °C, such as 18..26, was \"" + text + "\"");
    }
    return new double[] {number(range.group(1), option), number(range.group(2), option)};
  }

  /** A class of masses. */
  static MassClass massClass(String text, String option) {
    return MassClass.ofWord(text.strip())
        .orElseThrow(
            () ->
                new UnusableException(
                    option
                        + " takes a class of OIML R 111 ("
                        + String.join(
                            ", ", Arrays.stream(MassClass.values()).map(MassClass::word).toList())
                        + "), was \""
                        + text
                        + "\""));
  }

  /** {@code none}, or calibration masses in kilograms. */
  static CalibrationLevel level(String text, MassClass massClass, String option) {
    if (text.strip().equals("none")) {
      return new CalibrationLevel.None();
    }
    try {
      return new CalibrationLevel.Calibrated(kilograms(text, option), massClass);
    } catch (IllegalArgumentException e) {
      throw new UnusableException(option + ": " + e.getMessage());
    }
  }

  /** Side tests as {@code EFFECT=KG,KG,...:COVERS}; their runs are named after the effect. */
  static List<SideTest> sideTests(List<String> texts, double capacity, String option) {
    List<SideTest> tests = new ArrayList<>();
    for (String text : texts) {
      Matcher parts = SIDE_TEST.matcher(text);
      if (!parts.matches()) {
        throw new UnusableException(
            option
                + " takes EFFECT=KG,KG,...:COVERS, such as \"off-centre=0,20,20,20: loads up to 100"
                + " mm off the centre\", was \""
                + text
                + "\"");
      }
      SideTest.Effect effect =
          SideTest.Effect.ofKey(parts.group(1).strip())
              .orElseThrow(
                  () ->
                      new UnusableException(
                          option
                              + ": there is no effect \""
                              + parts.group(1).strip()
                              + "\"; there are off-centre, creep and drift"));
      List<Double> loads = kilograms(parts.group(2), option);
      for (double load : loads) {
        if (!(load >= 0 && load <= capacity)) {
          throw new UnusableException(
              option
                  + ": a load of "
                  + load
                  + " kg is outside 0 to the capacity of "
                  + capacity
                  + " kg");
        }
      }
      if (tests.stream().anyMatch(test -> test.effect() == effect)) {
        throw new UnusableException(option + ": " + effect.key() + " stands twice");
      }
      tests.add(
          PlanDraft.checked(
              () -> new SideTest(effect, prefix(effect), loads, parts.group(3).strip())));
    }
    return tests;
  }

  private static String prefix(SideTest.Effect effect) {
    return switch (effect) {
      case OFF_CENTRE -> "OC-";
      case CREEP -> "CR-";
      case DRIFT -> "DR-";
    };
  }

  /** {@code CELL/BOARD}. */
  static Optional<CheckStandard> check(String text) {
    if (text.isBlank()) {
      return Optional.empty();
    }
    String[] pair = pair(text, "--check");
    return Optional.of(new CheckStandard(pair[0], pair[1]));
  }

  /** Serials of a cell and a board. */
  static String[] pair(String text, String option) {
    String[] parts = text.split("/", -1);
    if (parts.length != 2 || parts[0].isBlank() || parts[1].isBlank()) {
      throw new UnusableException(option + " takes CELL/BOARD, was \"" + text + "\"");
    }
    return new String[] {parts[0].strip(), parts[1].strip()};
  }

  /** A figure in grams that may be left out. */
  static OptionalDouble grams(String text, String option) {
    return text.isBlank()
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            text.strip().matches("[0-9.]+")
                ? number(text, option)
                : quantity(text, Unit.GRAM, option));
  }
}
