package lotproof.report.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Identity;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.SanitizedText;
import lotproof.report.workbook.Layout.Spot;
import lotproof.report.workbook.SheetPlan.Item;
import lotproof.report.workbook.SheetPlan.Kind;
import lotproof.report.workbook.SheetPlan.Page;
import org.apache.poi.ooxml.POIXMLProperties;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.util.LocaleUtil;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * The report as {@code report.xlsx}: the figure first, then tables, charts and explanations as
 * {@link SheetPlan} has them. Cells that follow from others hold live formulas; the last sheet
 * holds them against the program's own values. Columns have names, so that a formula can be read.
 * Rows go to the file as they are made, so that a large study needs no more memory than a small
 * one.
 */
public final class WorkbookWriter implements ReportWriter {
  @Override
  public void write(Report report, OutputSink sink) {
    sink.put("report.xlsx", new Assembly(report)::writeTo);
  }

  /** One workbook in the making. */
  private static final class Assembly {
    private final Report report;
    private final XSSFWorkbook workbook = new XSSFWorkbook();
    private final Styles styles = new Styles(workbook);
    private final SheetPlan plan;
    private final FormulaText formulas;

    Assembly(Report report) {
      this.report = report;
      this.plan = SheetPlan.of(report);
      this.formulas = new FormulaText(plan.layout());
    }

    void writeTo(OutputStream out) throws IOException {
      // parsing each formula would take longer than everything else; tests prove them instead
      workbook.setCellFormulaValidation(false);
      Table check = Recalculation.of(report.tables(), formulas);
      if (!check.rows().isEmpty()) {
        plan.add(check);
      }
      XSSFSheet figure = workbook.createSheet(plan.figure());
      XSSFSheet text = workbook.createSheet(plan.text());
      plan.pages().forEach(page -> workbook.createSheet(page.name()));
      nameColumns();
      new FigureSheet(figure, styles, formulas).fill(report, contents());
      new WordsSheet(styles).fillText(text, report);
      drawAll();
      setProperties(report.identity());
      workbook.setActiveSheet(0);
      try (SXSSFWorkbook stream = new StableWorkbook(workbook)) {
        fill(stream);
        stream.write(out);
      }
    }

    /** The library marks words of charts with the language of the machine unless told. */
    private void drawAll() {
      LocaleUtil.setUserLocale(Locale.UK);
      try {
        plan.pages().forEach(this::draw);
      } finally {
        LocaleUtil.resetUserLocale();
      }
    }

    /** What a stream of rows cannot hold. */
    private void draw(Page page) {
      XSSFSheet sheet = workbook.getSheet(page.name());
      int number = 0;
      for (Item item : page.items()) {
        if (item.block() instanceof ExplanationTree tree) {
          new WordsSheet(styles).fillTree(sheet, tree);
        } else if (item.block() instanceof Chart chart) {
          Spot spot = item.spot().orElseThrow();
          new NativeChart(chart, spot).drawOn(sheet, SheetPlan.chartTop(number++));
        }
      }
    }

    /** Rows of all sheets but those of words. */
    private void fill(SXSSFWorkbook stream) {
      TableSheet tables = new TableSheet(styles, formulas);
      for (Page page : plan.pages()) {
        if (page.kind() != Kind.EXPLANATION) {
          tables.fill(stream.getSheet(page.name()), page);
        }
      }
    }

    private List<FigureSheet.Entry> contents() {
      List<FigureSheet.Entry> contents = new ArrayList<>();
      contents.add(new FigureSheet.Entry("What the report says", plan.text()));
      plan.pages()
          .forEach(page -> contents.add(new FigureSheet.Entry(contents(page), page.name())));
      return contents;
    }

    private static String contents(Page page) {
      boolean charts = page.kind() == Kind.CHARTS;
      String what =
          page.items().size() == 1
              ? page.title()
              : page.items().stream()
                  .map(Assembly::title)
                  .collect(Collectors.joining(charts ? " " : "; "));
      return charts ? "Charts: " + what : what;
    }

    private static String title(Item item) {
      return item.block() instanceof Chart chart
          ? chart.caption().question()
          : item.table().title();
    }

    private void nameColumns() {
      for (Table table : report.tables()) {
        if (!table.rows().isEmpty()) {
          for (Column column : table.columns()) {
            Name name = workbook.createName();
            name.setNameName(Layout.columnName(table.id(), column.key()));
            name.setRefersToFormula(plan.layout().column(table.id(), column.key()));
          }
        }
      }
    }

    private void setProperties(Identity identity) {
      POIXMLProperties properties = workbook.getProperties();
      properties.getCoreProperties().setTitle(SanitizedText.clean(identity.title()));
      properties.getCoreProperties().setSubjectProperty(SanitizedText.clean(identity.question()));
      properties.getCoreProperties().setCreator("Lotproof");
      properties.getCoreProperties().setDescription(SanitizedText.clean(identity.generatedFrom()));
      properties.getExtendedProperties().setApplication("Lotproof");
      properties
          .getCustomProperties()
          .addProperty("Record hash", SanitizedText.clean(identity.recordHash()));
      properties.getCustomProperties().addProperty("Seed", identity.seedText());
      properties
          .getCustomProperties()
          .addProperty("Program version", SanitizedText.clean(identity.toolVersion()));
    }
  }
}
