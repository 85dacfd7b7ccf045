package lotproof.report.page;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.TemplateException;
import gg.jte.output.WriterOutput;
import java.io.BufferedWriter;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import lotproof.report.OutputSink;
import lotproof.report.ReportWriter;
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

  @Override
  public void write(Report report, OutputSink sink) {
    Map<String, Object> known = Map.of("report", report, "assets", assets);
    sink.put(
        "report.html",
        out -> {
          Writer page = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8));
          try {
            templates.render("report.jte", known, new WriterOutput(page));
          } catch (TemplateException e) {
            // a stream that fails is no fault of the template
            if (e.getCause() instanceof UncheckedIOException stream) {
              throw stream.getCause();
            }
            throw e;
          }
          page.flush();
        });
  }
}
