package lotproof.report.page;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
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
    sink.put("report.html", page(report));
  }

  /** The page as text. */
  public String page(Report report) {
    StringOutput out = new StringOutput();
    templates.render(
        "report.jte", Map.of("report", report, "assets", assets, "drawings", drawings.get()), out);
    return out.toString();
  }
}
