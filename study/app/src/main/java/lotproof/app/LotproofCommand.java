package lotproof.app;

import java.util.Arrays;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.BiFunction;
import java.util.function.Predicate;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;

/** The program itself; every job is one of its commands. */
@Command(
    name = "lotproof",
    mixinStandardHelpOptions = true,
    scope = ScopeType.INHERIT,
    versionProvider = LotproofCommand.Version.class,
    sortOptions = false,
    usageHelpWidth = LotproofCommand.HELP_WIDTH,
    synopsisSubcommandLabel = "COMMAND",
    header = "From load runs on cells and boards to the figure that can be printed.",
    optionListHeading = "%nOptions:%n",
    parameterListHeading = "%nWhat to name:%n",
    commandListHeading = "%nCommands:%n",
    descriptionHeading = "%n",
    footerHeading = "%nExamples:%n",
    footer = {
      "  lotproof report demo-data/hive-scale",
      "  lotproof claim demo-data/hive-scale",
      "  lotproof COMMAND --help"
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {
      "0:done",
      "1:the answer is no",
      "2:the command or its input cannot be used",
      "3:a fault of the program"
    })
final class LotproofCommand implements Runnable {
  static final int HELP_WIDTH = 100;

  /** The library refuses less. */
  private static final int NARROWEST_HELP = 55;

  private final Surroundings io;

  @Option(
      names = "--color",
      paramLabel = "WHEN",
      defaultValue = "auto",
      scope = ScopeType.INHERIT,
      description =
          "colour in the output: ${COMPLETION-CANDIDATES} (default: auto, in a terminal only)")
  private Palette.When color = Palette.When.AUTO;

  private LotproofCommand(Surroundings io) {
    this.io = io;
  }

  /**
   * One of the commands.
   *
   * @param header what it does, in a line; a constant, so that showing it loads no class
   * @param made makes it
   */
  private record Entry(
      String name, String header, BiFunction<Surroundings, LotproofCommand, Object> made) {}

  private static final List<Entry> ENTRIES =
      List.of(
          new Entry("plan", PlanCommand.HEADER, PlanCommand::new),
          new Entry("rehearse", RehearseCommand.HEADER, RehearseCommand::new),
          new Entry("enter", EnterCommand.HEADER, EnterCommand::new),
          new Entry("import", ImportCommand.HEADER, ImportCommand::new),
          new Entry("status", StatusCommand.HEADER, StatusCommand::new),
          new Entry("noise", NoiseCommand.HEADER, NoiseCommand::new),
          new Entry("review", ReviewCommand.HEADER, ReviewCommand::new),
          new Entry("spread", SpreadCommand.HEADER, SpreadCommand::new),
          new Entry("claim", ClaimCommand.HEADER, ClaimCommand::new),
          new Entry("report", ReportCommand.HEADER, ReportCommand::new),
          new Entry("limits", LimitsCommand.HEADER, LimitsCommand::new),
          new Entry("watch", WatchCommand.HEADER, WatchCommand::new));

  /** The program with all options of all commands. */
  static CommandLine commandLine(Surroundings io) {
    return commandLine(io, ENTRIES, entry -> true);
  }

  /**
   * The program for one call: it knows the command that begins the call; where none does, it knows
   * all, those that are not named anywhere by name only.
   */
  static CommandLine commandLine(Surroundings io, String... args) {
    Set<String> words = new HashSet<>(Arrays.asList(args));
    List<Entry> begins =
        ENTRIES.stream().filter(entry -> args.length > 0 && entry.name.equals(args[0])).toList();
    CommandLine commandLine =
        commandLine(io, begins.isEmpty() ? ENTRIES : begins, entry -> words.contains(entry.name));
    if (io.terminal() && !Collections.disjoint(words, Launcher.HELP)) {
      commandLine.setUsageHelpWidth(helpWidth(ScreenWidth.of(true, System.getenv())));
    }
    return commandLine;
  }

  /** Help keeps to a narrow terminal, as far as its columns can. */
  static int helpWidth(int columns) {
    return Math.max(NARROWEST_HELP, Math.min(HELP_WIDTH, columns));
  }

  private static CommandLine commandLine(
      Surroundings io, List<Entry> entries, Predicate<Entry> whole) {
    LotproofCommand program = new LotproofCommand(io);
    CommandLine commandLine = new CommandLine(program);
    for (Entry entry : entries) {
      if (whole.test(entry)) {
        commandLine.addSubcommand(entry.made.apply(io, program));
      } else {
        CommandSpec known = CommandSpec.create();
        known.usageMessage().header(entry.header);
        commandLine.addSubcommand(entry.name, known);
      }
    }
    return commandLine
        .setOut(io.out())
        .setErr(io.err())
        .setColorScheme(CommandLine.Help.defaultColorScheme(Ansi.OFF))
        .setCaseInsensitiveEnumValuesAllowed(true)
        .setExpandAtFiles(false)
        .setParameterExceptionHandler((wrong, args) -> Failures.usage(io, wrong))
        .setExecutionExceptionHandler((failure, command, parsed) -> Failures.stopped(io, failure));
  }

  /** Colours as asked for. */
  Palette palette() {
    String noColor = System.getenv("NO_COLOR");
    return Palette.of(
        color,
        io.terminal(),
        noColor == null ? "" : noColor,
        ScreenWidth.of(io.terminal(), System.getenv()));
  }

  @Override
  public void run() {
    throw new UnusableException("name a command; lotproof --help lists them");
  }

  /** Version of the jar. */
  static final class Version implements IVersionProvider {
    static String number() {
      String version = LotproofCommand.class.getPackage().getImplementationVersion();
      return version == null ? "development" : version;
    }

    @Override
    public String[] getVersion() {
      return new String[] {"lotproof " + number()};
    }
  }
}
