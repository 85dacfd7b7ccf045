package lotproof.app.files;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.folder.ReceivedFile;
import lotproof.gather.Grid;
import lotproof.gather.GridOutcome;
import lotproof.gather.Table.NumberStyle;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import org.apache.poi.ss.util.CellReference;

/** Sheets of a workbook as rows, one candidate for each sheet that holds something. */
final class SheetGrids {
  private SheetGrids() {}

  static GridOutcome of(ReceivedFile file, List<SheetContent> sheets, Mapping mapping) {
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
    return new GridOutcome.Found(taken.stream().map(sheet -> grid(file, sheet)).toList());
  }

  private static Grid grid(ReceivedFile file, SheetContent sheet) {
    List<DataIssue> issues = new ArrayList<>();
    for (SheetContent.Problem problem : sheet.problems()) {
      String letters = CellReference.convertNumToColString(problem.column());
      String message = "cell " + letters + problem.row() + " " + problem.what();
      issues.add(
          DataIssue.error(
              Code.VALUE_INVALID, file.name(), problem.row(), "column " + letters, "", message));
    }
    if (!sheet.hiddenRows().isEmpty()) {
      String message =
          "hidden rows were read as well; there are "
              + sheet.hiddenRows().size()
              + ", from here on";
      int first = sheet.hiddenRows().get(0);
      issues.add(DataIssue.warning(Code.VALUE_INVALID, file.name(), first, "", "", message));
    }
    return new Grid(
        sheet.name(),
        List.of(new Fact("format", "workbook")),
        '\0',
        NumberStyle.TYPED,
        Grid.Rows.of(sheet.rows()),
        issues);
  }

  private static GridOutcome refused(Code code, ReceivedFile file, String message) {
    return new GridOutcome.Refused(List.of(DataIssue.error(code, file.name(), 0, "", "", message)));
  }
}
