package lotproof.report.page;

import gg.jte.TemplateOutput;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import lotproof.report.OutputSink;
import org.jspecify.annotations.Nullable;

/**
 * Sends a template's text out as it is made, in UTF-8. A stream that fails is written to no more;
 * {@link #finish} tells, so that the fault is not taken for one of the template.
 */
final class StreamedOutput implements TemplateOutput {
  private final BufferedOutputStream out;
  private @Nullable IOException fault;

  StreamedOutput(OutputStream out) {
    this.out = new BufferedOutputStream(out, OutputSink.BUFFER);
  }

  @Override
  public void writeContent(String text) {
    writeBinaryContent(text.getBytes(StandardCharsets.UTF_8));
  }

  @Override
  public void writeContent(String text, int from, int to) {
    writeContent(text.substring(from, to));
  }

  @Override
  public void writeBinaryContent(byte[] utf8) {
    if (fault != null) {
      return;
    }
    try {
      out.write(utf8);
    } catch (IOException e) {
      fault = e;
    }
  }

  /** Passes the rest on; the stream stays open. */
  void finish() throws IOException {
    if (fault != null) {
      throw fault;
    }
    out.flush();
  }
}
