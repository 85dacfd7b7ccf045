package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;

import java.util.List;
import java.util.function.ToDoubleFunction;
import lotproof.claim.StudyResult;
import lotproof.report.model.Format;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.study.Reading;

/** Every reading with the file and row that it came from. */
final class ReadingSection {
  /** Id of the table; its rows are the readings of the result's runs, one run after the other. */
  static final String READINGS = "readings";

  private static final String NOT_RECORDED = "not recorded";

  private ReadingSection() {}

  static Section of(StudyResult result) {
    Table table =
        new TableBuilder<Reading>(READINGS, "All readings as recorded")
            .evidence()
            .note("Before any correction or exclusion.")
            .add("run", "Run", TEXT, Reading::run)
            .add("session", "Session", TEXT, Reading::session)
            .add("step", "Step", COUNT, Reading::step)
            .add("cell", "Cell", SERIAL, Reading::cell)
            .add("board", "Board", SERIAL, Reading::board)
            .add(
                "load",
                "Load [kg]",
                Format.decimals(decimals(result, Reading::loadKilograms)),
                Reading::loadKilograms)
            .add(
                "output",
                "Output [counts]",
                Format.decimals(decimals(result, Reading::outputCounts)),
                Reading::outputCounts)
            .add(
                "noise",
                "Noise [counts]",
                significant(4),
                r -> r.beside().noiseCounts(),
                NOT_RECORDED)
            .add(
                "cell-temperature",
                "Cell temperature [°C]",
                Format.decimals(2),
                r -> r.beside().cellTemperatureCelsius(),
                NOT_RECORDED)
            .add(
                "board-temperature",
                "Board temperature [°C]",
                Format.decimals(2),
                r -> r.beside().boardTemperatureCelsius(),
                NOT_RECORDED)
            .add("source", "File and row", PLACE, r -> r.source().place())
            .of(result.runs().stream().flatMap(run -> run.readings().stream()).toList());
    return new Section("readings", "Raw readings", Prose.none(), List.of(table));
  }

  private static int decimals(StudyResult result, ToDoubleFunction<Reading> value) {
    return result.runs().stream()
        .flatMap(run -> run.readings().stream())
        .mapToInt(reading -> CellTexts.decimals(value.applyAsDouble(reading)))
        .max()
        .orElse(0);
  }
}
