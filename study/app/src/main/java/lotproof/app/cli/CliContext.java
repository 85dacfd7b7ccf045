package lotproof.app.cli;

import java.io.BufferedReader;
import java.io.PrintWriter;
import java.io.Writer;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.function.IntConsumer;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Block;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.text.SanitizedText;
import lotproof.report.text.TextReport;
import lotproof.report.words.Numbers;
import lotproof.study.DataIssue;
import me.tongfei.progressbar.ConsoleProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import org.apache.commons.text.WordUtils;
import org.jspecify.annotations.Nullable;

/** Where a command runs: what it prints to and reads from, its width and its colours. */
public final class CliContext implements AutoCloseable {
  /** Columns elsewhere than in a terminal, and the most in one. */
  public static final int MOST_COLUMNS = 80;

  static final int LEAST_COLUMNS = 40;

  private static final String RESET = "\u001B[0m";
  private static final Pattern COLOR = Pattern.compile("\u001B\\[(?:0|1|31|32)m");

  /** Where nobody reads or answers. */
  public static final CliContext NOWHERE =
      new CliContext(
          new PrintWriter(Writer.nullWriter()), new PrintWriter(Writer.nullWriter()), null, false);

  /** How the start of a line stands out. */
  public enum Style {
    /** A heading or key figure. */
    STRONG("\u001B[1m"),
    /** The answer is yes. */
    YES("\u001B[32m"),
    /** The answer is no. */
    NO("\u001B[31m");

    private final String code;

    Style(String code) {
      this.code = code;
    }
  }

  /** When to use colour. Nothing is said by colour alone. */
  public enum Color {
    AUTO,
    ALWAYS,
    NEVER;

    @Override
    public String toString() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  private final PrintWriter out;
  private final PrintWriter err;
  private final boolean terminal;
  private final Map<String, String> environment;
  private Color color = Color.AUTO;
  private final Typing typing;
  private int columns;

  /** A place to run a command; without input the terminal itself answers. */
  public CliContext(
      PrintWriter out, PrintWriter err, @Nullable BufferedReader in, boolean terminal) {
    this(out, err, in, terminal, System.getenv());
  }

  CliContext(
      PrintWriter out,
      PrintWriter err,
      @Nullable BufferedReader in,
      boolean terminal,
      Map<String, String> environment) {
    this.out = out;
    this.err = err;
    this.terminal = terminal;
    this.environment = environment;
    this.typing = new Typing(this, in);
  }

  public PrintWriter out() {
    return out;
  }

  public PrintWriter err() {
    return err;
  }

  public boolean terminal() {
    return terminal;
  }

  public void color(Color when) {
    color = when;
  }

  private boolean colored() {
    boolean wanted = terminal && environment.getOrDefault("NO_COLOR", "").isEmpty();
    return color == Color.ALWAYS || (color == Color.AUTO && wanted);
  }

  /** The person or the pipe that answers questions. */
  public Typing typing() {
    return typing;
  }

  /**
   * How many columns text may take: in a terminal its width, between limits that keep tables
   * readable; elsewhere always the same, so that a file does not depend on a window.
   */
  public int columns() {
    if (columns == 0) {
      columns = terminal ? Math.max(LEAST_COLUMNS, Math.min(MOST_COLUMNS, width())) : MOST_COLUMNS;
    }
    return columns;
  }

  private int width() {
    String said = environment.getOrDefault("COLUMNS", "");
    return said.matches("[1-9]\\d{0,4}") ? Integer.parseInt(said) : typing().columns();
  }

  /** Prints a line. */
  public void say(String line) {
    out.println(broken(SanitizedText.clean(line)));
    out.flush();
  }

  /** Prints a line whose start stands out. */
  public void say(Style style, String start, String rest) {
    if (!colored()) {
      say(start + rest);
      return;
    }
    String styled = style.code + SanitizedText.clean(start) + RESET;
    out.println(broken(styled + SanitizedText.clean(rest)));
    out.flush();
  }

  /** Prints a line made like {@link String#format}. */
  public void sayf(String format, @Nullable Object... values) {
    say(String.format(Locale.ROOT, format, values));
  }

  /** Prints a line where complaints go. */
  public void complain(String line) {
    out.flush();
    String clean = SanitizedText.clean(line);
    // elsewhere than in a terminal a complaint stays one line, which a log can be searched for
    err.println(terminal ? broken(clean) : clean);
    err.flush();
  }

  /** Asks for something: a line that is not ended. */
  void ask(String prompt) {
    out.print(SanitizedText.clean(prompt));
    out.flush();
  }

  /** Shows data issues where complaints go. */
  public void showAll(List<DataIssue> issues) {
    Issues.print(issues, Integer.MAX_VALUE, this);
  }

  /** Shows the first of many data issues, errors before warnings. */
  public void showFirst(List<DataIssue> issues) {
    Issues.print(issues, Issues.FIRST, this);
  }

  /** Does work, and says what it is when it takes long. */
  public <T> T during(String task, Supplier<T> work) {
    return counted(task, -1, done -> work.get());
  }

  /**
   * Does work of known size, or -1, and says so on stderr when it takes longer than a second; the
   * work is given where to report, from any thread, how much more is done.
   */
  public <T> T counted(String task, long amount, Function<IntConsumer, T> work) {
    return counted(task, amount, work, Duration.ofSeconds(1));
  }

  <T> T counted(String task, long amount, Function<IntConsumer, T> work, Duration patience) {
    AtomicInteger done = new AtomicInteger();
    Executor later = CompletableFuture.delayedExecutor(patience.toMillis(), TimeUnit.MILLISECONDS);
    CompletableFuture<Optional<Progress>> shown = new CompletableFuture<>();
    long begin = System.nanoTime();
    later.execute(() -> show(Numbers.sentence(SanitizedText.clean(task)), amount, shown));
    try {
      return work.apply(
          more -> {
            int all = done.addAndGet(more);
            shown.getNow(Optional.empty()).ifPresent(progress -> progress.to(all));
          });
    } finally {
      synchronized (shown) {
        shown.complete(Optional.empty());
      }
      long seconds = Duration.ofNanos(System.nanoTime() - begin).toSeconds();
      shown.join().ifPresent(progress -> progress.end(seconds));
    }
  }

  /** What is shown of work that takes long, until it ends. */
  private interface Progress {
    void to(int done);

    void end(long seconds);
  }

  private void show(String task, long amount, CompletableFuture<Optional<Progress>> shown) {
    synchronized (shown) {
      if (!shown.isDone()) {
        shown.complete(Optional.of(terminal && amount >= 0 ? bar(task, amount) : line(task)));
      }
    }
  }

  /** What is done now, and how long it took: {@code Analysing 1395 readings ... 5 s}. */
  private Progress line(String task) {
    out.flush();
    err.print(task + " ...");
    err.flush();
    return new Progress() {
      @Override
      public void to(int done) {
        // the amount is not known
      }

      @Override
      public void end(long seconds) {
        err.println(" " + seconds + " s");
        err.flush();
      }
    };
  }

  private static Progress bar(String task, long amount) {
    ProgressBar bar =
        new ProgressBarBuilder()
            .setTaskName(task)
            .setInitialMax(amount)
            .setStyle(ProgressBarStyle.ASCII)
            .setConsumer(new ConsoleProgressBarConsumer(System.err))
            .build();
    return new Progress() {
      @Override
      public void to(int done) {
        bar.stepTo(done);
      }

      @Override
      public void end(long seconds) {
        bar.close();
      }
    };
  }

  /** Prints the program's answer as JSON. */
  public void json(Object message) {
    out.print(ResultJson.of(message));
    out.flush();
  }

  /** Shows sections, in detail or with what is read first. */
  public void show(List<Section> sections, boolean details) {
    print(text(details).sections(sections));
  }

  /** Shows blocks. */
  public void show(List<? extends Block> blocks) {
    print(text(true).of(blocks));
  }

  /** Shows a table below an empty line, unless it has no row. */
  public void show(Table table) {
    if (!table.rows().isEmpty()) {
      say("");
      print(text(true).of(List.of(table)));
    }
  }

  /** Makes text for this width. */
  public TextReport text(boolean details) {
    return new TextReport(columns(), colored(), details);
  }

  /** Prints what {@link #text} made. */
  public void print(String text) {
    out.print(text);
    out.flush();
  }

  /**
   * A line that holds nothing a terminal would obey but our own colours, broken between words where
   * it is longer than the terminal is wide, with the rest set in. A path that is longer than a line
   * stays whole, so that it can be copied.
   */
  private String broken(String line) {
    if (line.length() <= LEAST_COLUMNS) {
      return line;
    }
    int width = columns();
    if (COLOR.matcher(line).replaceAll("").length() <= width) {
      return line;
    }
    String words = line.stripLeading();
    String indent = " ".repeat(line.length() - words.length());
    String next = System.lineSeparator() + indent + "  ";
    boolean cut = !words.contains("/") && !words.contains("\\");
    return indent + WordUtils.wrap(words, width - indent.length() - 2, next, cut);
  }

  @Override
  public void close() {
    out.flush();
    err.flush();
    typing.close();
  }
}
