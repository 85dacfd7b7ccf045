package lotproof.report.page;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import java.util.Map;
import java.util.function.Supplier;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
import lotproof.report.chart.ChartDrawings;
import lotproof.report.model.Report;

/**
 * The report as one page, {@code report.html}: no network, no second file. It is written so that it
 * reads both as HTML and as XML, and so that it says everything without its script.
 */
public final class PageWriter implements ReportWriter {
  private static final String TEMPLATES = "lotproof.report.page.templates";

  private final TemplateEngine templates =
      TemplateEngine.createPrecompiled(
          null, ContentType.Html, PageWriter.class.getClassLoader(), TEMPLATES);
  private final PageAssets assets = PageAssets.load();

  private final Supplier<ChartDrawings> drawings;

  /** A writer that draws for itself. */
  public PageWriter() {
    this(ChartDrawings::new);
  }

  /** A writer that shares drawings with another writer of the same report. */
  public PageWriter(ChartDrawings shared) {
    this(() -> shared);
  }

  private PageWriter(Supplier<ChartDrawings> drawings) {
    this.drawings = drawings;
  }

  @Override
  public void write(Report report, OutputSink sink) {
    Map<String, Object> known =
        Map.of("report", report, "assets", assets, "drawings", drawings.get());
    sink.put(
        "report.html",
        out -> {
          StreamedOutput page = new StreamedOutput(out);
          templates.render("report.jte", known, page);
          page.finish();
        });
  }
}
