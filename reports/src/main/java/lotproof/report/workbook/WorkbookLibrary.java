package lotproof.report.workbook;

import java.io.IOException;
import java.io.UncheckedIOException;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** The library that writes workbooks. */
public final class WorkbookLibrary {
  private WorkbookLibrary() {}

  /** Has it read its schemas, which it does once and takes as long as a small workbook. */
  public static void load() {
    try (XSSFWorkbook workbook = new XSSFWorkbook()) {
      workbook.createSheet().getCTWorksheet();
      workbook.getPackage().revert();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
