package lotproof.app.cli;

import static lotproof.app.cli.CliCommand.refuse;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.IntStream;
import lotproof.report.text.SanitizedText;
import org.jline.reader.EndOfFileException;
import org.jline.reader.History;
import org.jline.reader.LineReader;
import org.jline.reader.LineReaderBuilder;
import org.jline.reader.impl.completer.StringsCompleter;
import org.jline.reader.impl.history.DefaultHistory;
import org.jline.terminal.Terminal;
import org.jline.terminal.TerminalBuilder;
import org.jspecify.annotations.Nullable;

/** Asks for lines: with editing, history and completion in a terminal, plainly from a pipe. */
public final class Typing {
  private static final int MOST_TRIES = 5;

  /** A pipe may have no end. */
  private static final int LONGEST_LINE = 100_000;

  private static final int MOST_LINES = 100_000;

  private final CliContext io;
  private final @Nullable BufferedReader pipe;
  private final History history = new DefaultHistory();
  private @Nullable Terminal terminal;
  private int lines;

  Typing(CliContext io, @Nullable BufferedReader pipe) {
    this.io = io;
    this.pipe = pipe;
  }

  private Terminal terminal() {
    try {
      Terminal open = terminal == null ? TerminalBuilder.builder().system(true).build() : terminal;
      terminal = open;
      return open;
    } catch (IOException e) {
      throw new UncheckedIOException("the terminal cannot be used", e);
    }
  }

  /** The width of the terminal; the most that is used where it has none. */
  int columns() {
    int width = pipe == null ? terminal().getWidth() : 0;
    return width > 0 ? width : CliContext.MOST_COLUMNS;
  }

  /**
   * One line, without spaces around it, with words that the tabulator key completes. Empty when
   * there are no more: the end of the pipe, or Ctrl-D. Ctrl-C ends the command.
   */
  public Optional<String> line(String prompt, List<String> completed) {
    if (pipe != null) {
      io.ask(prompt);
      Optional<String> line = pipedLine(pipe);
      io.say(line.orElse(""));
      return line.map(String::strip);
    }
    LineReader reader =
        LineReaderBuilder.builder()
            .terminal(terminal())
            .appName("lotproof")
            .history(history)
            .completer(
                new StringsCompleter(
                    completed.stream().filter(w -> w.equals(SanitizedText.clean(w))).toList()))
            .option(LineReader.Option.DISABLE_EVENT_EXPANSION, true)
            .build();
    try {
      return Optional.of(reader.readLine(SanitizedText.clean(prompt)).strip());
    } catch (EndOfFileException e) {
      return Optional.empty();
    }
  }

  /** The next line of the pipe. What stands behind the last line end may be cut off. */
  private Optional<String> pipedLine(BufferedReader from) {
    StringBuilder line = new StringBuilder();
    lines++;
    refuse(lines > MOST_LINES, "the input has more than " + MOST_LINES + " lines of answers");
    try {
      int c = from.read();
      while (c >= 0 && c != '\n') {
        line.append((char) c);
        refuse(
            line.length() > LONGEST_LINE,
            "a line of the input has more than " + LONGEST_LINE + " characters; it is no answer");
        c = from.read();
      }
      if (c >= 0) {
        return Optional.of(line.toString());
      }
    } catch (IOException e) {
      throw new UncheckedIOException("the input cannot be read", e);
    }
    if (!line.isEmpty()) {
      io.say("");
      io.say("  not taken, since its line has no end: " + line);
    }
    return Optional.empty();
  }

  /** Whether the person says yes. */
  public boolean yes(String question) {
    return line(question + " [y/n] ", List.of("yes", "no")).filter(Typing::isYes).isPresent();
  }

  public static boolean isYes(String answer) {
    return answer.equalsIgnoreCase("yes") || answer.equalsIgnoreCase("y");
  }

  /** The number of a choice counted from 1; nothing when none is made. */
  public Optional<Integer> choice(String question, List<String> choices) {
    List<String> numbers =
        IntStream.rangeClosed(1, choices.size()).mapToObj(String::valueOf).toList();
    Optional<String> no = Optional.of("type a number from 0 to " + choices.size());
    return choose(question, numbers, choices, text -> no).map(Integer::parseInt);
  }

  /**
   * One of some answers, by its number, or any other that will do; nothing when none is given.
   *
   * @param words what each of them means
   * @param whyNot why another answer will not do
   */
  public Optional<String> answer(
      String question,
      List<String> answers,
      List<String> words,
      Function<String, Optional<String>> whyNot) {
    List<String> shown =
        IntStream.range(0, answers.size())
            .mapToObj(i -> answers.get(i) + ": " + words.get(i))
            .toList();
    return choose(question, answers, shown, whyNot);
  }

  private Optional<String> choose(
      String question,
      List<String> answers,
      List<String> shown,
      Function<String, Optional<String>> whyNot) {
    io.say("");
    io.say(question);
    for (int i = 0; i < shown.size(); i++) {
      io.say("  " + (i + 1) + "  " + shown.get(i));
    }
    io.say("  0  none of these: keep nothing");
    for (int tries = 0; tries < MOST_TRIES; tries++) {
      String answer = line("Which one? ", answers).orElse("0");
      if (answer.equals("0")) {
        break;
      } else if (answer.matches("[1-9][0-9]?") && Integer.parseInt(answer) <= answers.size()) {
        return Optional.of(answers.get(Integer.parseInt(answer) - 1));
      }
      Optional<String> why = whyNot.apply(answer);
      if (why.isEmpty()) {
        return Optional.of(answer);
      }
      io.say("  " + why.get() + ".");
    }
    return Optional.empty();
  }

  void close() {
    if (terminal != null) {
      try {
        terminal.close();
      } catch (IOException e) {
        throw new UncheckedIOException("the terminal cannot be closed", e);
      }
    }
  }
}
