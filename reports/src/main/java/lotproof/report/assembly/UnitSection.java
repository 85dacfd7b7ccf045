package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.reduce.PairSummary;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.study.Characteristic;

/** What was found on each pair. */
final class UnitSection {
  private UnitSection() {}

  static Section of(StudyResult result, List<RecordedRun> runs) {
    return new Section(
        "units",
        "What was found on each pair and unit?",
        Prose.of(
            "Means over the runs of each pair, with the decided exclusions taken out. Non-linearity"
                + " refers to the {}.",
            result.study().referenceLine().description()),
        List.of(
            pairs(result.asDecided().pairs()),
            RunTables.units(result, runs),
            RunTables.runs(result, runs)));
  }

  private static Table pairs(List<PairSummary> pairs) {
    List<Column> columns = new ArrayList<>();
    columns.add(Column.serial("cell", "Cell"));
    columns.add(Column.serial("board", "Board"));
    columns.add(Column.count("runs", "Runs"));
    for (Characteristic c : Characteristic.values()) {
      columns.add(Column.significant(c.key(), c.title(), c.unit(), 6));
    }
    columns.add(Column.significant("repeatability", "Repeatability", "g", 3));
    List<Row> rows = new ArrayList<>();
    for (PairSummary pair : pairs) {
      List<Cell> cells = new ArrayList<>();
      cells.add(Cell.text(pair.cell()));
      cells.add(Cell.text(pair.board()));
      cells.add(Cell.number(pair.runs()));
      for (Characteristic c : Characteristic.values()) {
        cells.add(
            CellTexts.optional(Optional.ofNullable(pair.means().get(c)), "not shown by its runs"));
      }
      cells.add(CellTexts.optional(pair.repeatabilityGrams(), "one run"));
      rows.add(new Row(cells));
    }
    return new Table(
        "pairs", "Characteristics of each pair", Table.Role.EVIDENCE, columns, rows, Prose.none());
  }
}
