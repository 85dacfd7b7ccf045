package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.ClaimRequest.Subject;
import lotproof.study.ClaimRequest.TemperatureCorrection;
import lotproof.study.DataIssue.Code;
import lotproof.study.MassClass;

/** The section {@code claim} of a study file. */
final class ClaimReader {
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
          item.has("temperature-correction")
              ? correction(item.section("temperature-correction"))
              : Optional.empty();
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
          "at", Code.VALUE_INVALID, "level " + key + " needs " + wanted + ", has " + points.size());
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
