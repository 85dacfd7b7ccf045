package lotproof.report;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Headline;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;

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
            Optional.of(Headline.Answer.NO),
            "±60 g",
            OptionalDouble.of(1.15),
            "±75 g",
            false),
        Optional.of(
            new Level.Trial(
                OptionalDouble.of(50),
                57.4,
                List.of(-1, 1),
                List.of(new Point(40, 0.5), new Point(57.4, 0.95)))),
        List.of(),
        List.of(new Level.Risk("Three lots.", Prose.text("Few.").restingOn("units"))),
        List.of("Reading error within ±60 g *", "* 0 to 100 kg."),
        List.of());
  }

  static Headline headline() {
    return new Headline(
        new Headline.Sentence(
            "Print ±50 g?",
            Headline.Answer.NO,
            "No, not after a two-point calibration.",
            "The data support ±60 g."),
        "95 % of kits made as these three lots were read within ±60 g of the load between 0 and"
            + " 100 kg, at 15 °C to 30 °C, after taring and a two-point calibration with 20 and"
            + " 80 kg (class M1); this statement is right with 95 % confidence. It rests on 50"
            + " cells and 50 boards.",
        new Headline.Supported(
            "error of reading after a two-point calibration, 0 to 100 kg, 15 °C to 30 °C",
            "±",
            Quantity.of(60, "g", 0),
            Optional.of(Formula.of("{}", Range.cell("figures", "figure", 0))),
            ""),
        List.of(
            new Headline.Verdict(
                Headline.Answer.NO,
                "±50 g after a two-point calibration?",
                Prose.of(
                    "The safest figure is {}; the wanted one is short by {}.",
                    Quantity.of(60, "g", 0),
                    Quantity.of(7.4, "g", 1))),
            new Headline.Verdict(
                Headline.Answer.YES,
                "±500 g with the factory factor?",
                Prose.of("The safest figure is {}.", Quantity.of(430, "g", 0))),
            new Headline.Verdict(
                Headline.Answer.NO,
                "±40 g after a multi-point calibration?",
                Prose.text("No kit was read at enough loads between the calibration masses."))),
        List.of(
            Prose.of(
                "Cells cause {} of the variance, boards {}.",
                Quantity.percent(0.71, 0),
                Quantity.percent(0.24, 0)),
            Prose.text(
                "One unit, LC-0017, was excluded: dropped on the bench. With it the figure is ±90"
                    + " g."),
            Prose.text("Three lots say little about the next lot; five or more would.")),
        List.of(
            Prose.of(
                "Loads from {} to {}, rising and falling.",
                Quantity.of(0, "kg", 0),
                Quantity.of(100, "kg", 0)),
            Prose.text("30 s after each change of load."),
            Prose.text("Not for trade, not for medical or dosing use, not for lifting.")));
  }
}
