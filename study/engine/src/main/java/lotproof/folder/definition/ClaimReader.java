package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.DataIssue.Code;
import lotproof.study.MassClass;

/** The section {@code claim} of a study file. */
final class ClaimReader {
  private ClaimReader() {}

  static Optional<ClaimRequest> claim(StudySection in, double capacity) {
    double content = in.number("content");
    double confidence = in.number("confidence");
    double rounding = in.positive("rounding", Unit.GRAM);
    ClaimRequest.Subject subject = subject(in);
    Optional<ClaimForm> form = form(in);
    OptionalDouble ratio =
        in.has("assumed-lot-ratio")
            ? OptionalDouble.of(in.number("assumed-lot-ratio"))
            : OptionalDouble.empty();
    List<ClaimRequest.LevelRequest> levels = new ArrayList<>();
    Set<List<Object>> seen = new HashSet<>();
    for (StudySection item : in.items("levels")) {
      Optional<CalibrationLevel> level = level(item, capacity);
      OptionalDouble wanted =
          item.has("wanted")
              ? OptionalDouble.of(item.positive("wanted", Unit.GRAM))
              : OptionalDouble.empty();
      Optional<ClaimRequest.TemperatureCorrection> correction = correction(item);
      if (level.isPresent() && !seen.add(List.of(level.get(), correction))) {
        item.reject("level", Code.VALUE_INVALID, "the same level stands twice");
      }
      if (level.isPresent() && item.isComplete()) {
        levels.add(new ClaimRequest.LevelRequest(level.get(), wanted, correction));
      }
    }
    boolean fractions = ClaimRequest.isShare(content) && ClaimRequest.isShare(confidence);
    boolean ratioInside = ratio.isEmpty() || (ratio.getAsDouble() > 0 && ratio.getAsDouble() <= 10);
    return fractions && ratioInside && form.isPresent()
        ? in.whenComplete(
            () ->
                new ClaimRequest(content, confidence, rounding, form.get(), subject, ratio, levels))
        : Optional.empty();
  }

  private static ClaimRequest.Subject subject(StudySection in) {
    if (!in.has("for")) {
      return ClaimRequest.Subject.KIT;
    }
    String key = in.text("for");
    return Arrays.stream(ClaimRequest.Subject.values())
        .filter(subject -> subject.key().equals(key))
        .findFirst()
        .orElse(ClaimRequest.Subject.KIT);
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
      return Optional.empty();
    }
    if (ofReading && !in.has("of-reading")) {
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
    double share = in.number("share");
    double constant = in.positive("constant", Unit.GRAM);
    return share > 0 && share < 1
        ? in.whenComplete(() -> new ClaimForm.OfReading(share, constant))
        : Optional.empty();
  }

  private static Optional<ClaimRequest.TemperatureCorrection> correction(StudySection in) {
    if (!in.has("temperature-correction")) {
      return Optional.empty();
    }
    StudySection section = in.section("temperature-correction");
    double error = section.quantity("sensor-error", Unit.CELSIUS);
    return error >= 0
        ? section.whenComplete(() -> new ClaimRequest.TemperatureCorrection(error))
        : Optional.empty();
  }

  private static Optional<CalibrationLevel> level(StudySection in, double capacity) {
    String key = in.text("level");
    boolean known = List.of("none", "one-point", "two-point", "multi-point").contains(key);
    if (!known) {
      return Optional.empty();
    }
    if (key.equals("none")) {
      for (String idle : List.of("at", "mass-class")) {
        if (in.has(idle)) {
          in.reject(idle, Code.VALUE_INVALID, "level none uses no masses; leave out " + idle);
        }
      }
      return in.whenComplete(CalibrationLevel.None::new);
    }
    for (String needed : List.of("at", "mass-class")) {
      if (!in.has(needed)) {
        in.reject("level", Code.KEY_MISSING, "level " + key + " needs the key \"" + needed + "\"");
      }
    }
    List<Double> points = points(in);
    checkPoints(in, key, points, capacity);
    Optional<MassClass> massClass = StudyReader.massClass(in, "mass-class");
    return in.whenComplete(() -> new CalibrationLevel.Calibrated(points, massClass.orElseThrow()));
  }

  private static List<Double> points(StudySection in) {
    if (!in.has("at")) {
      return List.of();
    }
    return in.isText("at")
        ? List.of(in.quantity("at", Unit.KILOGRAM))
        : in.quantities("at", Unit.KILOGRAM);
  }

  private static void checkPoints(
      StudySection in, String key, List<Double> points, double capacity) {
    if (!in.isComplete()) {
      return;
    }
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
      if (!(point > previous && point <= capacity)) {
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
