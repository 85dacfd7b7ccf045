package lotproof.report.assembly;

import java.util.List;
import java.util.function.ToDoubleFunction;
import lotproof.claim.StudyResult;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.study.Reading;

/** Every reading with the file and row that it came from. */
final class ReadingSection {
  /** Id of the table; its rows are the readings of the result's runs, one run after the other. */
  static final String READINGS = "readings";

  private static final String NOT_RECORDED = "not recorded";

  private ReadingSection() {}

  static Section of(StudyResult result) {
    Table table =
        new Table(
            READINGS,
            "All readings as recorded",
            Table.Role.EVIDENCE,
            List.of(
                Column.text("run", "Run"),
                Column.text("session", "Session"),
                Column.count("step", "Step"),
                Column.serial("cell", "Cell"),
                Column.serial("board", "Board"),
                Column.decimal("load", "Load", "kg", decimals(result, Reading::loadKilograms)),
                Column.decimal(
                    "output", "Output", "counts", decimals(result, Reading::outputCounts)),
                Column.significant("noise", "Noise", "counts", 4),
                Column.decimal("cell-temperature", "Cell temperature", "°C", 2),
                Column.decimal("board-temperature", "Board temperature", "°C", 2),
                Column.place("source", "File and row")),
            result.runs().stream()
                .flatMap(run -> run.readings().stream())
                .map(ReadingSection::row)
                .toList(),
            Prose.text("Before any correction or exclusion."));
    return new Section("readings", "Which readings is it all from?", Prose.none(), List.of(table));
  }

  private static int decimals(StudyResult result, ToDoubleFunction<Reading> value) {
    return result.runs().stream()
        .flatMap(run -> run.readings().stream())
        .mapToInt(reading -> CellTexts.decimals(value.applyAsDouble(reading)))
        .max()
        .orElse(0);
  }

  private static Row row(Reading reading) {
    return Row.of(
        Cell.text(reading.run()),
        Cell.text(reading.session()),
        Cell.number(reading.step()),
        Cell.text(reading.cell()),
        Cell.text(reading.board()),
        Cell.number(reading.loadKilograms()),
        Cell.number(reading.outputCounts()),
        CellTexts.optional(reading.noiseCounts(), NOT_RECORDED),
        CellTexts.optional(reading.cellTemperatureCelsius(), NOT_RECORDED),
        CellTexts.optional(reading.boardTemperatureCelsius(), NOT_RECORDED),
        Cell.text(reading.source().place()));
  }
}
