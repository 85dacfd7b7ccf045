package lotproof.report.workbook;

import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** The library that writes workbooks. */
public final class WorkbookLibrary {
  private WorkbookLibrary() {}

  /** Has it read its schemas, which it does once and takes as long as a small workbook. */
  public static void load() {
    // not closed: it holds no file, and closing would pack it for nobody
    new XSSFWorkbook().createSheet();
  }
}
