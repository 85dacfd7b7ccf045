package lotproof.report.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.util.ArrayList;
import java.util.List;
import javax.xml.stream.XMLStreamException;
import lotproof.report.model.Chart.Caption;
import lotproof.report.text.OutsideText;
import org.apache.poi.ooxml.POIXMLDocumentPart;
import org.apache.poi.ooxml.POIXMLRelation;
import org.apache.poi.xssf.usermodel.XSSFFactory;
import org.apache.poi.xssf.usermodel.XSSFRelation;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/**
 * The charts of one sheet (SpreadsheetML drawings, ECMA-376 part 1, section 20.5), with words for
 * those who cannot see them.
 */
final class SheetCharts extends POIXMLDocumentPart {
  private static final String SHEET_DRAWING =
      "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing";
  private static final String DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/main";
  private static final String CHART = "http://schemas.openxmlformats.org/drawingml/2006/chart";
  private static final String RELATIONSHIPS =
      "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

  private record Framed(int top, Caption caption, String relation) {}

  private final List<Framed> frames = new ArrayList<>();

  private SheetCharts() {}

  /** Makes room for charts on a sheet that has none yet. */
  static SheetCharts on(XSSFSheet sheet) {
    SheetCharts charts = new SheetCharts();
    sheet
        .getCTWorksheet()
        .addNewDrawing()
        .setId(related(sheet, XSSFRelation.DRAWINGS, charts).getRelationship().getId());
    return charts;
  }

  /**
   * Adds a chart at the left of the sheet.
   *
   * @param top its first row, counted from 0
   * @param caption what it asks and shows
   */
  void add(int top, Caption caption, ChartPlot plot) {
    ChartPart part = new ChartPart(OutsideText.clean(caption.question()), plot);
    String relation = related(this, XSSFRelation.CHART, part).getRelationship().getId();
    frames.add(new Framed(top, caption, relation));
  }

  private static RelationPart related(
      POIXMLDocumentPart parent, POIXMLRelation kind, POIXMLDocumentPart part) {
    XSSFFactory giving =
        new XSSFFactory() {
          @Override
          public POIXMLDocumentPart newDocumentPart(POIXMLRelation descriptor) {
            return part;
          }
        };
    return parent.createRelationship(kind, giving, parent.getNextPartNumber(kind, 1), false);
  }

  @Override
  protected void commit() throws IOException {
    try (OutputStream out = getPackagePart().getOutputStream()) {
      MarkupWriter.write(out, markup -> () -> write(markup));
    }
  }

  private void write(MarkupWriter out) throws XMLStreamException {
    out.element(
        "xdr:wsDr",
        () -> {
          for (int i = 0; i < frames.size(); i++) {
            int number = i + 1;
            Framed framed = frames.get(i);
            out.element("xdr:twoCellAnchor", () -> frame(out, number, framed), "editAs", "twoCell");
          }
        },
        "xmlns:xdr",
        SHEET_DRAWING,
        "xmlns:a",
        DRAWING);
  }

  private static void frame(MarkupWriter out, int number, Framed framed) throws XMLStreamException {
    int end = framed.top() + SheetPlan.CHART_ROWS;
    out.element("xdr:from", () -> corner(out, 0, framed.top()));
    out.element("xdr:to", () -> corner(out, SheetPlan.CHART_COLUMNS, end));
    out.element(
        "xdr:graphicFrame",
        () -> {
          out.element(
              "xdr:nvGraphicFramePr",
              () -> {
                out.empty(
                    "xdr:cNvPr",
                    "id",
                    Integer.toString(number + 1),
                    "name",
                    "Chart " + number,
                    "descr",
                    OutsideText.clean(framed.caption().answer()),
                    "title",
                    OutsideText.clean(framed.caption().question()));
                out.empty("xdr:cNvGraphicFramePr");
              });
          out.element(
              "xdr:xfrm",
              () -> {
                out.empty("a:off", "x", "0", "y", "0");
                out.empty("a:ext", "cx", "0", "cy", "0");
              });
          out.element("a:graphic", () -> chart(out, framed));
        });
    out.empty("xdr:clientData");
  }

  private static void corner(MarkupWriter out, int column, int row) throws XMLStreamException {
    out.words("xdr:col", Integer.toString(column));
    out.words("xdr:colOff", "0");
    out.words("xdr:row", Integer.toString(row));
    out.words("xdr:rowOff", "0");
  }

  private static void chart(MarkupWriter out, Framed framed) throws XMLStreamException {
    out.element(
        "a:graphicData",
        () ->
            out.empty(
                "c:chart", "xmlns:c", CHART, "xmlns:r", RELATIONSHIPS, "r:id", framed.relation()),
        "uri",
        CHART);
  }

  /** A chart in a part of its own, written when the workbook is. */
  private static final class ChartPart extends POIXMLDocumentPart {
    private final String title;
    private final ChartPlot plot;

    ChartPart(String title, ChartPlot plot) {
      this.title = title;
      this.plot = plot;
    }

    @Override
    protected void commit() throws IOException {
      try (OutputStream out = getPackagePart().getOutputStream()) {
        MarkupWriter.write(out, markup -> () -> new ChartMarkup(markup, title, plot).write());
      }
    }
  }
}
