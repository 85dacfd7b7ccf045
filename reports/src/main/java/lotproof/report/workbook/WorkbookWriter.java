package lotproof.report.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.report.OutputSink;
import lotproof.report.model.Identity;
import lotproof.report.model.Sheet;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Workbook;
import lotproof.report.text.SanitizedText;
import org.apache.poi.ooxml.POIXMLProperties;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.util.LocaleUtil;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * A workbook as {@code report.xlsx}. Cells that follow from others hold live formulas, and columns
 * have names, so that a formula can be read. Rows go to the file as they are made, so that a large
 * study needs no more memory than a small one.
 */
public final class WorkbookWriter {
  private WorkbookWriter() {}

  /** Writes it. */
  public static void write(Workbook content, OutputSink sink) {
    sink.put("report.xlsx", out -> write(content, out));
  }

  private static void write(Workbook content, OutputStream out) throws IOException {
    XSSFWorkbook workbook = new XSSFWorkbook();
    Cells cells = new Cells(workbook);
    Layout layout = Layout.of(content.sheets());
    // parsing each formula would take longer than everything else; tests prove them instead
    workbook.setCellFormulaValidation(false);
    XSSFSheet summary = workbook.createSheet(SummarySheet.NAME);
    content.sheets().forEach(sheet -> workbook.createSheet(sheet.name()));
    nameColumns(content.tables(), workbook, layout);
    new SummarySheet(summary, cells, layout).fill(content);
    List<TableSheet> sheets = new ArrayList<>();
    // the library marks words of charts with the language of the machine unless told
    LocaleUtil.setUserLocale(Locale.UK);
    try {
      for (Sheet sheet : content.sheets()) {
        TableSheet tables = new TableSheet(sheet, cells, layout);
        sheets.add(tables);
        for (int i = 0; i < sheet.charts().size(); i++) {
          new NativeChart(sheet.charts().get(i), layout)
              .drawOn(workbook.getSheet(sheet.name()), tables.chartTop(i), tables.chartColumn());
        }
      }
    } finally {
      LocaleUtil.resetUserLocale();
    }
    setProperties(workbook.getProperties(), content.identity());
    workbook.setActiveSheet(0);
    try (SXSSFWorkbook stream = new StableWorkbook(workbook)) {
      for (TableSheet sheet : sheets) {
        sheet.fill(stream.getSheet(sheet.name()));
      }
      stream.write(out);
    }
  }

  private static void nameColumns(List<Table> tables, XSSFWorkbook workbook, Layout layout) {
    for (Table table : tables) {
      if (!table.rows().isEmpty()) {
        for (Column column : table.columns()) {
          Name name = workbook.createName();
          name.setNameName(Layout.columnName(table.id(), column.key()));
          name.setRefersToFormula(layout.column(table.id(), column.key()));
        }
      }
    }
  }

  private static void setProperties(POIXMLProperties properties, Identity identity) {
    POIXMLProperties.CoreProperties core = properties.getCoreProperties();
    core.setTitle(SanitizedText.clean(identity.title()));
    core.setSubjectProperty(SanitizedText.clean(identity.question()));
    core.setCreator("Lotproof");
    core.setDescription(SanitizedText.clean(identity.generatedFrom()));
    properties.getExtendedProperties().setApplication("Lotproof");
    POIXMLProperties.CustomProperties custom = properties.getCustomProperties();
    custom.addProperty("Record hash", SanitizedText.clean(identity.recordHash()));
    custom.addProperty("Seed", identity.seedText());
    custom.addProperty("Program version", SanitizedText.clean(identity.toolVersion()));
  }
}
