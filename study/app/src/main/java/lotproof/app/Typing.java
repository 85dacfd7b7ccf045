package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import lotproof.report.text.OutsideText;
import org.jline.reader.EndOfFileException;
import org.jline.reader.LineReader;
import org.jline.reader.LineReaderBuilder;
import org.jline.reader.UserInterruptException;
import org.jline.reader.impl.completer.StringsCompleter;
import org.jline.terminal.Terminal;
import org.jline.terminal.TerminalBuilder;
import org.jspecify.annotations.Nullable;

/** Asks for lines: with editing, history and completion in a terminal, plainly from a pipe. */
final class Typing implements AutoCloseable {
  private final Surroundings io;
  private final @Nullable Terminal terminal;
  private final @Nullable LineReader lines;
  private List<String> completions = List.of();

  Typing(Surroundings io) {
    this.io = io;
    if (io.terminal()) {
      try {
        Terminal opened = TerminalBuilder.builder().system(true).build();
        terminal = opened;
        lines =
            LineReaderBuilder.builder()
                .terminal(opened)
                .appName("lotproof")
                .completer(
                    (reader, line, candidates) ->
                        new StringsCompleter(completions).complete(reader, line, candidates))
                .option(LineReader.Option.DISABLE_EVENT_EXPANSION, true)
                .build();
      } catch (IOException e) {
        throw new UncheckedIOException("the terminal cannot be used", e);
      }
    } else {
      terminal = null;
      lines = null;
    }
  }

  /**
   * One line, without spaces around it. Empty when there are no more: the end of the pipe, Ctrl-D
   * or Ctrl-C.
   *
   * @param completed words that the tabulator key completes
   */
  Optional<String> line(String prompt, List<String> completed) {
    LineReader reader = lines;
    if (reader == null) {
      io.out().print(prompt);
      io.out().flush();
      try {
        Optional<String> line = wholeLine();
        io.out().println(line.orElse(""));
        return line.map(String::strip);
      } catch (IOException e) {
        throw new UncheckedIOException("what is typed cannot be read", e);
      }
    }
    completions = completed;
    io.out().flush();
    try {
      return Optional.of(reader.readLine(prompt).strip());
    } catch (EndOfFileException | UserInterruptException e) {
      return Optional.empty();
    }
  }

  /** The next line of the pipe. What stands behind the last line end may be cut off. */
  private Optional<String> wholeLine() throws IOException {
    StringBuilder line = new StringBuilder();
    int c = io.in().read();
    while (c >= 0 && c != '\n') {
      line.append((char) c);
      c = io.in().read();
    }
    if (c < 0 && !line.isEmpty()) {
      io.out().println();
      io.out()
          .println("  not taken, since its line has no end: " + OutsideText.clean(line.toString()));
    }
    return c < 0 ? Optional.empty() : Optional.of(line.toString());
  }

  @Override
  public void close() {
    Terminal opened = terminal;
    if (opened != null) {
      try {
        opened.close();
      } catch (IOException e) {
        throw new UncheckedIOException("the terminal cannot be closed", e);
      }
    }
  }
}
