package lotproof.app.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import lotproof.app.files.WorkbookTables;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.layout.Times;
import lotproof.gather.tables.TableReaders;
import lotproof.study.BenchPlan;
import lotproof.study.Result;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** A command, and what commands share. */
public abstract class CliCommand implements Callable<Integer> {
  /** Where it runs; nowhere before it begins. */
  protected CliContext io = CliContext.NOWHERE;

  private final List<TextOptions> listed = new ArrayList<>();

  /** Gives the command options that are made from a list. */
  protected final <T extends TextOptions> T listed(T options) {
    listed.add(options);
    return options;
  }

  /** Says where it runs, and adds the options that are made from lists. */
  public final void begin(CliContext context, CommandSpec spec) {
    io = context;
    listed.forEach(options -> options.addTo(spec));
  }

  /** What a command prints as JSON; its schema is published. */
  public interface Message {}

  /** A command that can answer as JSON. */
  public abstract static class WithJson extends CliCommand {
    private static final int LAST = 100;

    @Option(names = "--json", order = LAST)
    protected boolean json;

    /** Answers as JSON or in words, and gives the exit code. */
    protected final int answer(int exit, Supplier<? extends Record> message, Runnable words) {
      if (json) {
        io.json(message.get());
      } else {
        words.run();
      }
      return exit;
    }
  }

  /** A command about one study folder. */
  public abstract static class OnStudy extends WithJson {
    @Parameters(index = "0", paramLabel = "STUDY")
    protected Path study = Path.of("");
  }

  /** The folder's contents; everything that is wrong with it ends the command. */
  public static StudyContents open(Path path) {
    return UnusableException.needed(folder(path).open());
  }

  /** The folder, which must be there. */
  public static StudyFolder folder(Path path) {
    refuse(!Files.exists(path), "there is no study folder " + path);
    refuse(
        !Files.isDirectory(path), path + " is not a folder; name the folder that holds study.yaml");
    return StudyFolder.at(path);
  }

  /** The folder's plan of the bench, if it has one. */
  public static Optional<BenchPlan> benchPlan(StudyFolder folder) {
    return UnusableException.needed(folder.bench().plan());
  }

  /** All kinds of file that the program can read. */
  public static TableReaders readers() {
    return new TableReaders(new WorkbookTables());
  }

  /** What is made; a wrong value ends the command with the reason. */
  public static <T> T checked(Supplier<T> made) {
    try {
      return made.get();
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong value"));
    }
  }

  /** Ends the command where something is wrong; the message is made like a format's. */
  public static void refuse(boolean wrong, String message, @Nullable Object... values) {
    if (wrong) {
      throw values.length == 0
          ? new UnusableException(message)
          : new UnusableException(message, values);
    }
  }

  /** A date that was given for an option, with a time of day or without one, as files write it. */
  public static String time(String option, String text) {
    Result<String> time = Times.typed(text);
    refuse(
        time.isRefused(), "%s: %s", option, time.isRefused() ? time.issues().get(0).message() : "");
    return time.get();
  }

  /** The value of an option that this call needs. */
  public static String needed(@Nullable String value, String option, String what) {
    if (value == null || value.isBlank()) {
      throw new UnusableException("missing option: " + option + ", " + what);
    }
    return value;
  }
}
