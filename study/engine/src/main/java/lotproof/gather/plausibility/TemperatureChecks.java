package lotproof.gather.plausibility;

import static lotproof.gather.plausibility.Findings.number;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.folder.text.ReadingColumn;
import lotproof.statistics.summary.Summary;
import lotproof.study.Conditions;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Holds temperatures against the conditions of the study and the other readings of the run. A bench
 * may be some kelvin off what was planned, and a board is warmer than the air around it; the
 * margins are common practice, no source.
 */
final class TemperatureChecks {
  /** How far a bench may be off the temperatures of the study, in kelvin. */
  static final double MARGIN = 10;

  /** How much warmer than the bench a board or its chip may be on top of that. */
  static final double SELF_HEATING = 15;

  /** A side test may be made at another temperature on purpose. */
  static final double SIDE_TEST_MARGIN = 30;

  /** How far a reading may be off the middle of its load run, which lasts minutes. */
  static final double WITHIN_RUN = 10;

  private final Study study;
  private final Findings findings;

  TemperatureChecks(Study study, Findings findings) {
    this.study = study;
    this.findings = findings;
  }

  void check(RunFacts run) {
    check(run, ReadingColumn.CELL_TEMPERATURE, r -> r.beside().cellTemperatureCelsius());
    check(run, ReadingColumn.BOARD_TEMPERATURE, r -> r.beside().boardTemperatureCelsius());
  }

  private void check(
      RunFacts run, ReadingColumn column, Function<Reading, OptionalDouble> celsius) {
    List<Reading> noted =
        run.readings().stream().filter(r -> celsius.apply(r).isPresent()).toList();
    if (noted.isEmpty()) {
      return;
    }
    boolean side = study.design().sideTestOf(run.name()).isPresent();
    double margin = side ? SIDE_TEST_MARGIN : MARGIN;
    double warmer = column == ReadingColumn.BOARD_TEMPERATURE ? SELF_HEATING : 0;
    Conditions conditions = study.conditions();
    List<Reading> outside =
        noted.stream()
            .filter(
                r -> {
                  double value = celsius.apply(r).getAsDouble();
                  return !(value >= conditions.lowestCelsius() - margin
                      && value <= conditions.highestCelsius() + margin + warmer);
                })
            .toList();
    if (!outside.isEmpty()) {
      outside(outside, column, celsius);
      return;
    }
    double middle =
        Summary.median(noted.stream().mapToDouble(r -> celsius.apply(r).getAsDouble()).toArray());
    noted.stream()
        .filter(r -> !side && Math.abs(celsius.apply(r).getAsDouble() - middle) > WITHIN_RUN)
        .forEach(
            r ->
                findings.ask(
                    Code.TEMPERATURE_DOUBTFUL,
                    r,
                    column,
                    "",
                    ("a %s of %s °C, where %s °C is the middle of run %s; was a digit or a"
                            + " sign mistyped?")
                        .formatted(
                            column.word(),
                            number(celsius.apply(r).getAsDouble()),
                            number(middle),
                            run.name())));
  }

  /** One question for a run: a wrong unit is wrong in all of its readings. */
  private void outside(
      List<Reading> outside, ReadingColumn column, Function<Reading, OptionalDouble> celsius) {
    Conditions conditions = study.conditions();
    Reading at = outside.get(0);
    double value = celsius.apply(at).getAsDouble();
    String more =
        outside.size() == 1
            ? ""
            : " (%s readings of the run are like it)".formatted(outside.size());
    double ofFahrenheit = (value - 32) / 1.8;
    double ofCelsius = value * 1.8 + 32;
    String hint = "was a digit, a sign or the unit mistaken?";
    if (isNear(ofFahrenheit)) {
      hint =
          ("as °F it would be %s °C: is the column in °F? Name it \"%s [°F]\", in the file or with"
                  + " --column")
              .formatted(number(Math.round(10 * ofFahrenheit) / 10.0), column.word());
    } else if (isNear(ofCelsius)) {
      hint =
          "it would be %s °F: is a column in °C named as °F?"
              .formatted(number(Math.round(10 * ofCelsius) / 10.0));
    }
    String message =
        "a %s of %s °C in a study at %s to %s °C%s; %s"
            .formatted(
                column.word(),
                number(value),
                number(conditions.lowestCelsius()),
                number(conditions.highestCelsius()),
                more,
                hint);
    findings.ask(Code.TEMPERATURE_DOUBTFUL, at, column, "", message);
  }

  private boolean isNear(double celsius) {
    return celsius >= study.conditions().lowestCelsius() - MARGIN
        && celsius <= study.conditions().highestCelsius() + MARGIN;
  }
}
