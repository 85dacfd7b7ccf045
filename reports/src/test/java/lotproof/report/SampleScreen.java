package lotproof.report;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Verdict;

/** What stands first in the invented report. */
final class SampleScreen {
  private SampleScreen() {}

  static Level level() {
    return new Level(
        "level-two-point",
        "Two-point",
        "tared, set at 20 and 80 kg (M1)",
        true,
        new Level.Row(
            "±50 g",
            Optional.of(Verdict.Answer.NO),
            "±60 g",
            OptionalDouble.of(1.15),
            "±75 g",
            false),
        Optional.of(
            new Level.Trial(
                OptionalDouble.of(50),
                57.4,
                List.of(-1, 1),
                List.of(new Point(40, 0.5), new Point(57.4, 0.95)),
                new Level.Grid(
                    0.95,
                    0.95,
                    5,
                    List.of(
                        new Level.GridLimit(0.95, 0.95, OptionalDouble.of(57.4)),
                        new Level.GridLimit(0.99, 0.95, OptionalDouble.empty()))))),
        List.of(),
        List.of(new Level.Risk("Three lots.", Prose.text("Few.").restingOn("units"))),
        "Reading error within ±60 g after taring and a two-point calibration with 20 and 80 kg"
            + " (class M1), at loads from 0 to 100 kg. At least 95 % of kits meet this, with 95 %"
            + " confidence, by a study of 50 cells and 50 boards.",
        List.of("Reading error within ±60 g *", "* 0 to 100 kg."),
        List.of());
  }

  static Verdict verdict() {
    return new Verdict(
        "Print ±50 g?",
        Verdict.Answer.NO,
        "No, not after a two-point calibration.",
        "The data support ±60 g.");
  }
}
