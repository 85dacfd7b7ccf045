package lotproof.gather.plausibility;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import lotproof.folder.text.ReadingColumn;
import lotproof.statistics.summary.Summary;
import lotproof.study.Conditions;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;

/**
 * Holds temperatures against the conditions of the study and the other readings of the run. A bench
 * may be some kelvin off what was planned, and a board is warmer than the air around it; the
 * margins are common practice, no source.
 */
final class TemperatureChecks {
  /** How far a bench may be off the temperatures of the study, in kelvin. */
  private static final double MARGIN = 10;

  /** How much warmer than the bench a board or its chip may be on top of that. */
  private static final double SELF_HEATING = 15;

  /** A side test may be made at another temperature on purpose. */
  private static final double SIDE_TEST_MARGIN = 30;

  /** How far a reading may be off the middle of its load run, which lasts minutes. */
  private static final double WITHIN_RUN = 10;

  private final PlausibilityChecks found;
  private final Conditions conditions;

  TemperatureChecks(PlausibilityChecks found) {
    this.found = found;
    this.conditions = found.study().conditions();
  }

  void check(Run run) {
    check(run, ReadingColumn.CELL_TEMPERATURE, r -> r.beside().cellTemperatureCelsius());
    check(run, ReadingColumn.BOARD_TEMPERATURE, r -> r.beside().boardTemperatureCelsius());
  }

  private void check(Run run, ReadingColumn column, Function<Reading, OptionalDouble> temperature) {
    List<Reading> noted =
        run.readings().stream().filter(r -> temperature.apply(r).isPresent()).toList();
    if (noted.isEmpty()) {
      return;
    }
    ToDoubleFunction<Reading> celsius = r -> temperature.apply(r).orElse(0);
    boolean side = found.study().design().sideTestOf(run.name()).isPresent();
    double margin = side ? SIDE_TEST_MARGIN : MARGIN;
    double warmer = column == ReadingColumn.BOARD_TEMPERATURE ? SELF_HEATING : 0;
    List<Reading> outside =
        noted.stream().filter(r -> !isNear(celsius.applyAsDouble(r), margin, warmer)).toList();
    double middle = Summary.median(noted.stream().mapToDouble(celsius).toArray());
    if (!outside.isEmpty()) {
      outside(outside, column, celsius.applyAsDouble(outside.get(0)));
    } else if (!side) {
      noted.stream()
          .filter(r -> Math.abs(celsius.applyAsDouble(r) - middle) > WITHIN_RUN)
          .forEach(
              r ->
                  found.ask(
                      Code.TEMPERATURE_DOUBTFUL,
                      r,
                      column,
                      "a %s of %s °C, where %s °C is the middle of run %s; was a digit or a sign"
                          + " mistyped?",
                      column.word(),
                      celsius.applyAsDouble(r),
                      middle,
                      run.name()));
    }
  }

  /** One question for a run: a wrong unit is wrong in all of its readings. */
  private void outside(List<Reading> outside, ReadingColumn column, double value) {
    String more =
        outside.size() == 1
            ? ""
            : " (%s readings of the run are like it)".formatted(outside.size());
    double ofFahrenheit = (value - 32) / 1.8;
    double ofCelsius = value * 1.8 + 32;
    String hint = "was a digit, a sign or the unit mistaken?";
    if (isNear(ofFahrenheit, MARGIN, 0)) {
      hint =
          PlausibilityChecks.say(
              "as °F it would be %s °C: is the column in °F? Name it \"%s [°F]\", in the file or"
                  + " with --column",
              Math.round(10 * ofFahrenheit) / 10.0, column.word());
    } else if (isNear(ofCelsius, MARGIN, 0)) {
      hint =
          PlausibilityChecks.say(
              "it would be %s °F: is a column in °C named as °F?",
              Math.round(10 * ofCelsius) / 10.0);
    }
    found.ask(
        Code.TEMPERATURE_DOUBTFUL,
        outside.get(0),
        column,
        "a %s of %s °C in a study at %s to %s °C%s; %s",
        column.word(),
        value,
        conditions.lowestCelsius(),
        conditions.highestCelsius(),
        more,
        hint);
  }

  private boolean isNear(double celsius, double margin, double warmer) {
    return celsius >= conditions.lowestCelsius() - margin
        && celsius <= conditions.highestCelsius() + margin + warmer;
  }
}
