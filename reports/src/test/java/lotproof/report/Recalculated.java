package lotproof.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.List;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** Lets a spreadsheet's engine compute a workbook anew. */
public final class Recalculated {
  private Recalculated() {}

  /** Asserts that each formula gives the value that the program wrote, and counts them. */
  public static int formulas(byte[] xlsx) throws IOException {
    int formulas = 0;
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(xlsx))) {
      FormulaEvaluator evaluator = workbook.getCreationHelper().createFormulaEvaluator();
      for (var sheet : workbook) {
        for (var row : sheet) {
          for (var cell : row) {
            if (cell.getCellType() == CellType.FORMULA
                // the engine knows no probabilities below zero; LibreOffice's test does
                && !cell.getCellFormula().contains("NORMSDIST")) {
              formulas++;
              String where =
                  sheet.getSheetName() + "!" + cell.getAddress() + ": " + cell.getCellFormula();
              var again = evaluator.evaluate(cell);
              if (cell.getCachedFormulaResultType() == CellType.STRING) {
                assertThat(again.getStringValue()).as(where).isEqualTo(cell.getStringCellValue());
                continue;
              }
              // differences of kilograms in grams, of which the engine keeps 15 digits, and what is
              // the difference of such from a step
              boolean grams = List.of("Errors", "Breakdown").contains(sheet.getSheetName());
              double rounding = grams ? 1e-9 : 1e-12;
              double written = cell.getNumericCellValue();
              assertThat(again.getNumberValue())
                  .as("%s: %s", where, again)
                  .isCloseTo(written, within(Math.max(rounding, 1e-9 * Math.abs(written))));
            }
          }
        }
      }
    }
    return formulas;
  }

  /** For a workbook on the disk. */
  public static void main(String[] files) throws IOException {
    for (String file : files) {
      int formulas = formulas(java.nio.file.Files.readAllBytes(java.nio.file.Path.of(file)));
      System.out.println(file + ": " + formulas + " formulas");
    }
  }
}
