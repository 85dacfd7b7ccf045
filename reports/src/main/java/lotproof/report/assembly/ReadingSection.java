package lotproof.report.assembly;

import java.util.List;
import java.util.function.ToDoubleFunction;
import lotproof.claim.StudyResult;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
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
            .add(Column.text("run", "Run"), Reading::run)
            .add(Column.text("session", "Session"), Reading::session)
            .add(Column.count("step", "Step"), Reading::step)
            .add(Column.serial("cell", "Cell"), Reading::cell)
            .add(Column.serial("board", "Board"), Reading::board)
            .add(
                Column.decimal("load", "Load", "kg", decimals(result, Reading::loadKilograms)),
                Reading::loadKilograms)
            .add(
                Column.decimal(
                    "output", "Output", "counts", decimals(result, Reading::outputCounts)),
                Reading::outputCounts)
            .add(
                Column.significant("noise", "Noise", "counts", 4),
                r -> r.beside().noiseCounts(),
                NOT_RECORDED)
            .add(
                Column.decimal("cell-temperature", "Cell temperature", "°C", 2),
                r -> r.beside().cellTemperatureCelsius(),
                NOT_RECORDED)
            .add(
                Column.decimal("board-temperature", "Board temperature", "°C", 2),
                r -> r.beside().boardTemperatureCelsius(),
                NOT_RECORDED)
            .add(Column.place("source", "File and row"), r -> r.source().place())
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
