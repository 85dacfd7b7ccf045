package lotproof.app;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.IVersionProvider;
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

  /** The program with all its commands. */
  static CommandLine commandLine(Surroundings io) {
    LotproofCommand program = new LotproofCommand(io);
    CommandLine commandLine =
        new CommandLine(program)
            .addSubcommand(new PlanCommand(io, program))
            .addSubcommand(new RehearseCommand(io, program))
            .addSubcommand(new EnterCommand(io, program))
            .addSubcommand(new ImportCommand(io, program))
            .addSubcommand(new StatusCommand(io, program))
            .addSubcommand(new NoiseCommand(io, program))
            .addSubcommand(new ReviewCommand(io, program))
            .addSubcommand(new SpreadCommand(io, program))
            .addSubcommand(new ClaimCommand(io, program))
            .addSubcommand(new ReportCommand(io, program))
            .addSubcommand(new LimitsCommand(io, program))
            .addSubcommand(new WatchCommand(io, program))
            .setOut(io.out())
            .setErr(io.err())
            .setColorScheme(CommandLine.Help.defaultColorScheme(Ansi.OFF))
            .setCaseInsensitiveEnumValuesAllowed(true)
            .setExpandAtFiles(false)
            .setParameterExceptionHandler((wrong, args) -> Failures.usage(io, wrong))
            .setExecutionExceptionHandler(
                (failure, command, parsed) -> Failures.stopped(io, failure));
    if (io.terminal()) {
      commandLine.setUsageHelpWidth(helpWidth(ScreenWidth.of(true, System.getenv())));
    }
    return commandLine;
  }

  /** Help keeps to a narrow terminal, as far as its columns can. */
  static int helpWidth(int columns) {
    return Math.max(NARROWEST_HELP, Math.min(HELP_WIDTH, columns));
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
