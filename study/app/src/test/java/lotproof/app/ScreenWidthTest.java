package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import java.util.Map;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import org.junit.jupiter.api.Test;

class ScreenWidthTest {
  @Test
  void aTerminalSaysItsWidthAndAFileHasAlwaysTheSame() {
    assertThat(ScreenWidth.of(true, Map.of("COLUMNS", "60"))).isEqualTo(60);
    assertThat(ScreenWidth.of(false, Map.of("COLUMNS", "60"))).isEqualTo(ScreenWidth.ELSEWHERE);
    assertThat(ScreenWidth.of(true, Map.of("COLUMNS", "400"))).isEqualTo(ScreenWidth.ELSEWHERE);
    assertThat(ScreenWidth.of(true, Map.of("COLUMNS", "3"))).isEqualTo(ScreenWidth.LEAST);
    assertThat(ScreenWidth.of(true, Map.of("COLUMNS", "wide")))
        .isBetween(ScreenWidth.LEAST, ScreenWidth.ELSEWHERE);
  }

  @Test
  void inSixtyColumnsATableOfManyColumnsIsReadRowByRow() {
    List<Column> columns = new java.util.ArrayList<>();
    List<Cell> cells = new java.util.ArrayList<>();
    for (int c = 0; c < 8; c++) {
      columns.add(Column.decimal("c" + c, "Column number " + c, "g", 3));
      cells.add(Cell.number(123456.789 + c));
    }
    Table table =
        new Table(
            "wide", "Too wide", Table.Role.READ, columns, List.of(new Row(cells)), Prose.none());
    StringWriter narrow = new StringWriter();
    new Screen(new PrintWriter(narrow), Palette.of(Palette.When.NEVER, false, "", 60)).show(table);
    StringWriter wide = new StringWriter();
    new Screen(new PrintWriter(wide), Palette.of(Palette.When.NEVER, false, "")).show(table);

    assertThat(narrow.toString().lines()).allMatch(line -> line.length() <= 60);
    assertThat(narrow.toString()).contains("Column number 7 [g]  123463.789");
    assertThat(wide.toString().lines().filter(line -> line.contains("123456.789"))).hasSize(1);
  }
}
