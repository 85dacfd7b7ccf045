package lotproof.report.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Identity;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.SanitizedText;
import lotproof.report.workbook.SheetPlan.Item;
import lotproof.report.workbook.SheetPlan.Page;
import org.apache.poi.ooxml.POIXMLProperties;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.util.LocaleUtil;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * The report as {@code report.xlsx}: the figure first, then sections, long tables and charts as
 * {@link SheetPlan} has them. Cells that follow from others hold live formulas; the last sheet
 * holds them against the program's own values. Columns have names, so that a formula can be read.
 * Rows go to the file as they are made, so that a large study needs no more memory than a small
 * one.
 */
public final class WorkbookWriter implements ReportWriter {
  @Override
  public void write(Report report, OutputSink sink) {
    sink.put("report.xlsx", out -> write(report, out));
  }

  private static void write(Report report, OutputStream out) throws IOException {
    XSSFWorkbook workbook = new XSSFWorkbook();
    Cells cells = new Cells(workbook);
    SheetPlan plan = SheetPlan.of(report);
    // parsing each formula would take longer than everything else; tests prove them instead
    workbook.setCellFormulaValidation(false);
    Table check = Recalculation.of(report.tables(), plan.layout());
    if (!check.rows().isEmpty()) {
      plan.add(check);
    }
    XSSFSheet summary = workbook.createSheet(SheetPlan.SUMMARY);
    plan.pages().forEach(page -> workbook.createSheet(page.name()));
    nameColumns(report, workbook, plan.layout());
    new SummarySheet(summary, cells).fill(report, plan.layout(), contents(plan));
    // the library marks words of charts with the language of the machine unless told
    LocaleUtil.setUserLocale(Locale.UK);
    try {
      plan.pages().forEach(page -> draw(workbook.getSheet(page.name()), page));
    } finally {
      LocaleUtil.resetUserLocale();
    }
    setProperties(workbook.getProperties(), report.identity());
    workbook.setActiveSheet(0);
    try (SXSSFWorkbook stream = new StableWorkbook(workbook)) {
      TableSheet tables = new TableSheet(cells, plan.layout());
      plan.pages().forEach(page -> tables.fill(stream.getSheet(page.name()), page));
      stream.write(out);
    }
  }

  /** What a stream of rows cannot hold. */
  private static void draw(XSSFSheet sheet, Page page) {
    for (Item item : page.items()) {
      if (item.block() instanceof Chart chart) {
        new NativeChart(chart, item.spot().orElseThrow()).drawOn(sheet, item.top());
      }
    }
  }

  private static Map<String, String> contents(SheetPlan plan) {
    Map<String, String> contents = new LinkedHashMap<>();
    for (Page page : plan.pages()) {
      String titles =
          page.items().stream()
              .map(Item::block)
              .map(
                  block -> block instanceof Chart chart ? chart.caption().question() : title(block))
              .filter(title -> !title.isEmpty() && !title.equals(page.title()))
              .collect(Collectors.joining("; "));
      contents.put(page.name(), page.title() + (titles.isEmpty() ? "" : ": " + titles));
    }
    return contents;
  }

  private static String title(Block block) {
    return block instanceof Table table
        ? table.title()
        : block instanceof ExplanationTree tree ? tree.title() : "";
  }

  private static void nameColumns(Report report, XSSFWorkbook workbook, Layout layout) {
    for (Table table : report.tables()) {
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
