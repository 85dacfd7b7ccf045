package lotproof.report.workbook;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.zip.Deflater;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Identity;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.OutsideText;
import org.apache.commons.compress.archivers.zip.Zip64Mode;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;
import org.apache.poi.ooxml.POIXMLProperties;
import org.apache.poi.ss.usermodel.ColorScaleFormatting;
import org.apache.poi.ss.usermodel.ConditionalFormattingRule;
import org.apache.poi.ss.usermodel.ConditionalFormattingThreshold;
import org.apache.poi.ss.usermodel.ExtendedColor;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * The report as {@code report.xlsx}: the figure first, then one sheet for each table, chart and
 * explanation. Cells that follow from others hold live formulas; the last sheet holds them against
 * the program's own values. Columns have names, so that a formula can be read.
 */
public final class WorkbookWriter implements ReportWriter {
  private static final String FIGURE = "figure";
  private static final String TEXT = "text";
  private static final String RECALCULATION = "recalculation";

  /** Order of the sheets: how it was found before how it is kept; others follow. */
  private static final List<String> ORDER =
      List.of(
          "figure",
          "study",
          "spread",
          "units",
          "readings",
          "review",
          "errors",
          "limits",
          "bench",
          "method",
          "glossary");

  /** Of a longer column mean and extremes are held against the program, not each cell. */
  private static final int ROWS_CHECKED_SINGLY = 60;

  private static final int ROWS_IN_MEMORY = 200;
  private static final int LONG_TABLE_ROWS = 60;

  @Override
  public void write(Report report, OutputSink sink) {
    try {
      sink.put("report.xlsx", new Assembly(report).bytes());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write the workbook", e);
    }
  }

  /** A table, chart or explanation with its sheet. */
  private record Place(XSSFSheet sheet, String title, Optional<Table> table, Block block) {}

  /** Leaves packing to {@link StableZip}, which has to pack everything anyway. */
  private static final class UnpackedStream extends SXSSFWorkbook {
    UnpackedStream(XSSFWorkbook template) {
      super(template, ROWS_IN_MEMORY);
    }

    @Override
    protected ZipArchiveOutputStream createArchiveOutputStream(OutputStream out) {
      ZipArchiveOutputStream archive = super.createArchiveOutputStream(out);
      archive.setLevel(Deflater.BEST_SPEED);
      return archive;
    }
  }

  /** One workbook in the making. */
  private static final class Assembly {
    private final Report report;
    private final XSSFWorkbook workbook = new XSSFWorkbook();
    private final SheetNames names = new SheetNames();
    private final Layout layout = new Layout();
    private final Styles styles = new Styles(workbook);
    private final FormulaText formulas = new FormulaText(layout);
    private final List<Place> places = new ArrayList<>();

    Assembly(Report report) {
      this.report = report;
    }

    byte[] bytes() throws IOException {
      // parsing each formula would take longer than everything else; tests prove them instead
      workbook.setCellFormulaValidation(false);
      XSSFSheet figure = workbook.createSheet(names.from(FIGURE));
      XSSFSheet text = workbook.createSheet(names.from(TEXT));
      report.sections().stream()
          .sorted(Comparator.comparingInt(section -> placeOf(section.id())))
          .forEach(section -> section.blocks().forEach(this::addPlace));
      Optional<Table> check = recalculation();
      check.ifPresent(table -> addPlace(table, table.title(), table));
      nameColumns();
      new FigureSheet(figure, styles, formulas).fill(report, contents(text));
      new WordsSheet(styles).fillText(text, report);
      List<Place> streamed = new ArrayList<>();
      for (Place place : places) {
        if (place.table().filter(table -> table.rows().size() > LONG_TABLE_ROWS).isPresent()
            && place.block() instanceof Table) {
          streamed.add(place);
        } else {
          fill(place);
        }
      }
      setProperties(report.identity());
      workbook.setActiveSheet(0);
      return packed(streamed);
    }

    private byte[] packed(List<Place> streamed) throws IOException {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      try (SXSSFWorkbook stream = new UnpackedStream(workbook)) {
        // the larger form of the archive's lengths cannot be read back as a stream
        stream.setZip64Mode(Zip64Mode.Never);
        for (Place place : streamed) {
          new TableSheet(styles, formulas)
              .fill(stream.getSheet(place.sheet().getSheetName()), place.table().orElseThrow());
        }
        stream.write(bytes);
        // closing would pack the parts once more, for nobody
        workbook.getPackage().revert();
      }
      return StableZip.repacked(bytes.toByteArray());
    }

    private void addPlace(Block block) {
      if (block instanceof Table table) {
        addPlace(table, table.title(), table);
      } else if (block instanceof Block.ChartBlock chart) {
        addPlace(block, chart.chart().caption().question(), ChartTable.of(chart.chart()));
      } else if (block instanceof ExplanationTree tree) {
        XSSFSheet sheet = workbook.createSheet(names.from(tree.treeId()));
        places.add(new Place(sheet, tree.title(), Optional.empty(), tree));
      }
    }

    private void addPlace(Block block, String title, Table table) {
      String id = block.id().orElse(table.tableId());
      XSSFSheet sheet = workbook.createSheet(names.from(id));
      layout.place(table, sheet.getSheetName());
      places.add(new Place(sheet, title, Optional.of(table), block));
    }

    private void fill(Place place) {
      if (place.block() instanceof ExplanationTree tree) {
        new WordsSheet(styles).fillTree(place.sheet(), tree);
        return;
      }
      Table table = place.table().orElseThrow();
      new TableSheet(styles, formulas).fill(place.sheet(), table);
      if (place.block() instanceof Block.ChartBlock block) {
        new NativeChart(place.sheet(), block.chart(), table).draw();
        if (block.chart() instanceof Chart.ResidualMap) {
          colorResiduals(place.sheet(), table);
        }
      }
    }

    private List<FigureSheet.Entry> contents(XSSFSheet text) {
      List<FigureSheet.Entry> contents = new ArrayList<>();
      contents.add(new FigureSheet.Entry("What the report says", text.getSheetName()));
      places.forEach(
          place ->
              contents.add(new FigureSheet.Entry(place.title(), place.sheet().getSheetName())));
      return contents;
    }

    private void nameColumns() {
      for (Table table : report.tables()) {
        if (!table.rows().isEmpty()) {
          for (Column column : table.columns()) {
            Name name = workbook.createName();
            name.setNameName(Layout.columnName(table.tableId(), column.key()));
            name.setRefersToFormula(layout.column(table.tableId(), column.key()));
          }
        }
      }
    }

    private static int placeOf(String section) {
      int place = ORDER.indexOf(section);
      return place < 0 ? ORDER.size() : place;
    }

    private Optional<Table> recalculation() {
      Recalculation recalculation = new Recalculation(RECALCULATION, ROWS_CHECKED_SINGLY, formulas);
      report.tables().forEach(recalculation::add);
      return recalculation.table();
    }

    private void colorResiduals(XSSFSheet sheet, Table table) {
      if (table.rows().isEmpty()) {
        return;
      }
      var formatting = sheet.getSheetConditionalFormatting();
      ConditionalFormattingRule rule = formatting.createConditionalFormattingColorScaleRule();
      ColorScaleFormatting scale = rule.getColorScaleFormatting();
      ConditionalFormattingThreshold[] thresholds = scale.getThresholds();
      thresholds[0].setRangeType(ConditionalFormattingThreshold.RangeType.MIN);
      thresholds[1].setRangeType(ConditionalFormattingThreshold.RangeType.NUMBER);
      thresholds[1].setValue(0d);
      thresholds[2].setRangeType(ConditionalFormattingThreshold.RangeType.MAX);
      scale.setThresholds(thresholds);
      scale.setColors(new ExtendedColor[] {color(0x9db4d6), color(0xffffff), color(0xf0b48a)});
      int first = Layout.HEAD_ROW + 1;
      formatting.addConditionalFormatting(
          new CellRangeAddress[] {
            new CellRangeAddress(first, first + table.rows().size() - 1, 2, 2)
          },
          rule);
    }

    private static XSSFColor color(int rgb) {
      return new XSSFColor(new byte[] {(byte) (rgb >> 16), (byte) (rgb >> 8), (byte) rgb}, null);
    }

    private void setProperties(Identity identity) {
      POIXMLProperties properties = workbook.getProperties();
      properties.getCoreProperties().setTitle(OutsideText.clean(identity.title()));
      properties.getCoreProperties().setSubjectProperty(OutsideText.clean(identity.question()));
      properties.getCoreProperties().setCreator("Lotproof");
      properties.getCoreProperties().setDescription(OutsideText.clean(identity.generatedFrom()));
      properties.getExtendedProperties().setApplication("Lotproof");
      properties
          .getCustomProperties()
          .addProperty("Record hash", OutsideText.clean(identity.recordHash()));
      properties.getCustomProperties().addProperty("Seed", identity.seedText());
      properties
          .getCustomProperties()
          .addProperty("Program version", OutsideText.clean(identity.toolVersion()));
    }
  }
}
