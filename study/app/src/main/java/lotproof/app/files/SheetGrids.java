package lotproof.app.files;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.folder.ReceivedFile;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Concealed;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.NumberStyle;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import org.apache.poi.ss.util.CellReference;

/** Sheets of a workbook as rows, one candidate for each sheet that holds something. */
final class SheetGrids {
  private SheetGrids() {}

  static Result<List<Grid>> of(ReceivedFile file, List<SheetContent> sheets, Mapping mapping) {
    List<SheetContent> filled = sheets.stream().filter(sheet -> !sheet.rows().isEmpty()).toList();
    if (filled.isEmpty()) {
      return refused(Code.FILE_EMPTY, file, "no sheet of the workbook holds anything");
    }
    Optional<String> wanted = mapping.setting(Setting.SHEET);
    List<SheetContent> taken =
        filled.stream().filter(s -> wanted.isEmpty() || s.name().equals(wanted.get())).toList();
    if (taken.isEmpty()) {
      String names = String.join(", ", filled.stream().map(SheetContent::name).toList());
      return refused(
          Code.FILE_TYPE,
          file,
          "no sheet \"" + wanted.orElse("") + "\" holds anything; the sheets are: " + names);
    }
    return Result.of(taken.stream().map(sheet -> grid(file, sheet, mapping)).toList());
  }

  private static Grid grid(ReceivedFile file, SheetContent sheet, Mapping mapping) {
    List<Concealed> left =
        sheet.concealed().stream().filter(part -> says(mapping, part.setting(), "leave")).toList();
    List<DataIssue> issues = new ArrayList<>();
    for (SheetContent.Problem problem : sheet.problems()) {
      if (left.stream().noneMatch(part -> covers(part, problem.row(), problem.column()))) {
        String letters = CellReference.convertNumToColString(problem.column());
        String message = "cell " + letters + problem.row() + " " + problem.what();
        issues.add(
            DataIssue.error(
                Code.VALUE_INVALID, file.name(), problem.row(), "column " + letters, "", message));
      }
    }
    List<Fact> facts = new ArrayList<>(List.of(new Fact("format", "workbook")));
    facts(sheet, mapping, facts);
    return new Grid(
        sheet.name(),
        facts,
        '\0',
        NumberStyle.TYPED,
        Grid.Rows.of(left.isEmpty() ? sheet.rows() : without(sheet.rows(), left)),
        issues,
        sheet.hidden(),
        sheet.concealed());
  }

  private static boolean says(Mapping mapping, Setting setting, String what) {
    return mapping.setting(setting).filter(what::equals).isPresent();
  }

  private static boolean covers(Concealed part, int row, int column) {
    return (part.row() == 0 || part.row() == row) && (part.column() < 0 || part.column() == column);
  }

  private static void facts(SheetContent sheet, Mapping mapping, List<Fact> facts) {
    for (Setting setting : List.of(Setting.HIDDEN, Setting.STRUCK)) {
      long parts = sheet.concealed().stream().filter(c -> c.setting() == setting).count();
      String what =
          setting == Setting.HIDDEN ? "hidden rows, columns and cells" : "values struck through";
      if (parts > 0 && mapping.setting(setting).isPresent()) {
        boolean taken = says(mapping, setting, "take");
        facts.add(new Fact(what, parts + (taken ? " taken, as told" : " left out, as told")));
      }
    }
  }

  /** The rows without what is hidden; values that are struck through are marked. */
  private static List<Row> without(List<Row> rows, List<Concealed> left) {
    Map<Integer, List<Concealed>> byRow =
        left.stream().collect(Collectors.groupingBy(Concealed::row));
    List<Concealed> columns = byRow.getOrDefault(0, List.of());
    List<Row> kept = new ArrayList<>();
    for (Row row : rows) {
      List<Concealed> parts = new ArrayList<>(byRow.getOrDefault(row.number(), List.of()));
      if (parts.stream().anyMatch(part -> part.column() < 0)) {
        continue;
      }
      parts.addAll(columns);
      List<Cell> cells = new ArrayList<>(row.cells());
      for (Concealed part : parts) {
        if (part.column() < cells.size()) {
          boolean struck = part.setting() == Setting.STRUCK;
          cells.set(part.column(), struck ? new Cell.LeftOut() : new Cell.Blank());
        }
      }
      Row done = new Row(row.number(), cells);
      if (!done.isBlank()) {
        kept.add(done);
      }
    }
    return kept;
  }

  private static Result<List<Grid>> refused(Code code, ReceivedFile file, String message) {
    return Result.refused(DataIssue.error(code, file.name(), 0, "", "", message));
  }
}
