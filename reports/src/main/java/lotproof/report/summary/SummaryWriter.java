package lotproof.report.summary;

import com.openhtmltopdf.extend.FSObjectDrawer;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PDFontSupplier;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.render.DefaultObjectDrawerFactory;
import com.openhtmltopdf.util.XRLog;
import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.Map;
import lotproof.report.OutputSink;
import lotproof.report.ReportFont;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartDrawing;
import lotproof.report.model.Chart;
import lotproof.report.model.Level;
import lotproof.report.model.Report;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.font.PDType0Font;

/**
 * The report's first page as {@link #FILE}: one sheet of paper that can be signed and filed. Its
 * text can be searched, copied and read aloud. A report without calibration levels has none.
 */
public final class SummaryWriter implements ReportWriter {
  /** Name of the file. */
  public static final String FILE = "summary.pdf";

  private static final String TEMPLATES = "lotproof.report.page.templates";

  /** Seed of the document's identifier, which the library would take from the clock. */
  private static final long DOCUMENT = 1L;

  /** Between the widths of A4 and Letter, 595 and 612 points. */
  private static final float LETTER_FROM_POINTS = 603;

  private final TemplateEngine templates =
      TemplateEngine.createPrecompiled(
          null, ContentType.Html, SummaryWriter.class.getClassLoader(), TEMPLATES);
  private final Paper paper;

  /** Writes it for a size of paper. */
  public SummaryWriter(Paper paper) {
    this.paper = paper;
  }

  /** The size of paper that a summary was written for; A4 where that cannot be read. */
  public static Paper paper(Path file) {
    try (PDDocument document = Loader.loadPDF(file.toFile())) {
      float points = document.getPage(0).getMediaBox().getWidth();
      return points > LETTER_FROM_POINTS ? Paper.LETTER : Paper.A4;
    } catch (IOException | RuntimeException notReadable) {
      return Paper.A4;
    }
  }

  @Override
  public void write(Report report, OutputSink sink) {
    report.levels().stream()
        .filter(Level::leading)
        .findFirst()
        .ifPresent(level -> sink.put(FILE, out -> write(report, level, out)));
  }

  private void write(Report report, Level level, OutputStream out) throws IOException {
    StringOutput page = new StringOutput();
    templates.render("summary.jte", Map.of("report", report, "level", level, "paper", paper), page);
    XRLog.setLoggingEnabled(false);
    PDDocument document = new PDDocument();
    PdfRendererBuilder builder = new PdfRendererBuilder();
    builder.usePDDocument(document);
    builder.withHtmlContent(page.toString(), null);
    for (ReportFont font : ReportFont.values()) {
      builder.useFont(
          font(document, font), ReportFont.FAMILY, font.weight(), FontStyle.NORMAL, true);
    }
    builder.usePdfUaAccessibility(true);
    builder.withProducer("Lotproof");
    builder.useObjectDrawerFactory(charts(report));
    builder.toStream(OutputStream.nullOutputStream());
    try (PdfBoxRenderer renderer = builder.buildPdfRenderer()) {
      renderer.layout();
      renderer.createPDFKeepOpen();
      document.setDocumentId(DOCUMENT);
      document.getDocumentInformation().setCreationDate(null);
      document.save(out);
    }
  }

  private static DefaultObjectDrawerFactory charts(Report report) {
    DefaultObjectDrawerFactory factory = new DefaultObjectDrawerFactory();
    FSObjectDrawer drawer =
        (element, x, y, width, height, device, context, dots) -> {
          Chart chart = report.chart(element.getAttribute("data")).orElseThrow();
          device.drawWithGraphics(
              (float) x,
              (float) y,
              (float) width / dots,
              (float) height / dots,
              graphics ->
                  ChartDrawing.draw(chart, graphics, (float) width / dots, (float) height / dots));
          return Map.of();
        };
    factory.registerDrawer("chart", drawer);
    return factory;
  }

  /** A font without ligatures, since a reader cannot search or copy those. */
  private static PDFontSupplier font(PDDocument document, ReportFont font) throws IOException {
    try (InputStream in = font.trueType()) {
      TrueTypeFont read = new TTFParser().parse(new RandomAccessReadBuffer(in));
      read.setEnableGsub(false);
      return new PDFontSupplier(PDType0Font.load(document, read, true));
    }
  }
}
