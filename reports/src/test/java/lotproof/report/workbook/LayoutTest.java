package lotproof.report.workbook;

import static lotproof.report.model.Format.decimals;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.List;
import java.util.stream.Stream;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Sheet;
import lotproof.report.model.TableBuilder;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Formulas as a spreadsheet computes them. */
class LayoutTest {
  /** A table whose column x holds 2, nothing, -6 and 1. */
  private static double computed(Formula formula, int row) throws IOException {
    var table =
        new TableBuilder<Cell>("cells", "T")
            .add("X [g]", decimals(1), cell -> cell)
            .of(
                Stream.of(Cell.number(2), Cell.missing("lost"), Cell.number(-6), Cell.number(1))
                    .toList());
    Layout layout = Layout.of(List.of(Sheet.of("it's", table)));
    try (XSSFWorkbook workbook = new XSSFWorkbook()) {
      XSSFSheet sheet = workbook.createSheet("it's");
      for (int r = 0; r < table.rows().size(); r++) {
        var cell = sheet.createRow(3 + r).createCell(0);
        table.rows().get(r).cells().get(0).number().ifPresent(cell::setCellValue);
      }
      var name = workbook.createName();
      name.setNameName(Layout.columnName("cells", "x"));
      name.setRefersToFormula(layout.column("cells", "x"));
      var cell = workbook.createSheet("other").createRow(0).createCell(0);
      cell.setCellFormula(layout.text(formula, "cells", row));
      FormulaEvaluator evaluator = workbook.getCreationHelper().createFormulaEvaluator();
      return evaluator.evaluate(cell).getNumberValue();
    }
  }

  @Test
  void followTheCells() throws IOException {
    Range x = Range.column("cells", "x");
    assertThat(computed(Formula.of("AVERAGE({})", x), 0)).isEqualTo(-1);
    // deviations 3, -5, 2: sum of squares 38, divided by n - 1 = 2
    assertThat(computed(Formula.of("STDEV({})", x), 0)).isCloseTo(Math.sqrt(19), within(1e-12));
    assertThat(computed(Formula.of("{}*{}", "x", -0.5), 2)).isEqualTo(3);
    assertThat(
            computed(
                Formula.of("{}-{}", Range.cell("cells", "x", 0), Formula.of("{}-{}", 1, 5)), 0))
        .isEqualTo(6);
    assertThat(computed(Formula.of("SUM({})", new Range("cells", "x", Rows.of(0, 2, 3))), 0))
        .isEqualTo(-3);
    List<Range> parts = List.of(Range.cell("cells", "x", 0), Range.cell("cells", "x", 2));
    assertThat(computed(Formula.furthest(parts), 0)).isEqualTo(-6);
    assertThat(computed(Formula.call("MAX", parts), 0)).isEqualTo(2);
  }

  @ParameterizedTest
  @CsvSource({
    "47.3, 10, 50",
    "50, 10, 50",
    "50.0000000001, 10, 50",
    "50.00001, 10, 60",
    "0.30000000000000004, 0.1, 0.3",
    "-47.3, 10, -50",
    "0, 10, 0",
  })
  void roundFiguresOutward(double value, double step, double expected) throws IOException {
    assertThat(computed(Formula.roundedOutward(value, step), 0)).isCloseTo(expected, within(1e-12));
  }

  @Test
  void nameWhatIsThere() {
    assertThat(Rows.of(1, 2, 3, 7)).containsExactly(new Rows(1, 3), new Rows(7, 7));
    assertThatThrownBy(() -> Formula.of("{}+{}", 1)).hasMessageContaining("1 parts");
    assertThatThrownBy(() -> computed(Formula.of("{}", "y"), 0)).hasMessageContaining("\"y\"");
    assertThatThrownBy(() -> computed(Formula.of("{}", Range.cell("u", "x", 0)), 0))
        .hasMessageContaining("no table u");
  }
}
