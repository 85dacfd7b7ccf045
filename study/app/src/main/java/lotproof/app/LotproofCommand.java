package lotproof.app;

import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import lotproof.app.bench.EnterCommand;
import lotproof.app.bench.ImportCommand;
import lotproof.app.bench.NoiseCommand;
import lotproof.app.bench.PlanCommand;
import lotproof.app.bench.RehearseCommand;
import lotproof.app.bench.StatusCommand;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.CliContext.Color;
import lotproof.app.cli.Exit;
import lotproof.app.cli.OptionGroups;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.app.results.ClaimCommand;
import lotproof.app.results.LimitsCommand;
import lotproof.app.results.ReportCommand;
import lotproof.app.results.ReviewCommand;
import lotproof.app.results.SpreadCommand;
import lotproof.app.results.WatchCommand;
import lotproof.folder.text.UnitsOfMeasure;
import org.jline.reader.UserInterruptException;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;

/** The program itself; every job is one of its commands. */
@CommandLine.Command(
    name = "lotproof",
    mixinStandardHelpOptions = true,
    scope = ScopeType.INHERIT,
    resourceBundle = "lotproof.app.help",
    sortOptions = false,
    usageHelpWidth = LotproofCommand.HELP_WIDTH,
    synopsisSubcommandLabel = "COMMAND")
final class LotproofCommand implements Runnable {
  static final int HELP_WIDTH = 100;

  /** The library refuses less. */
  private static final int NARROWEST_HELP = 55;

  private final CliContext io;

  private LotproofCommand(CliContext io) {
    this.io = io;
  }

  @Option(names = "--color", paramLabel = "WHEN", defaultValue = "auto", scope = ScopeType.INHERIT)
  void color(Color when) {
    io.color(when);
  }

  static List<CliCommand> commands() {
    return List.of(
        new PlanCommand(),
        new RehearseCommand(),
        new EnterCommand(),
        new ImportCommand(),
        new StatusCommand(),
        new NoiseCommand(),
        new ReviewCommand(),
        new SpreadCommand(),
        new ClaimCommand(),
        new ReportCommand(),
        new LimitsCommand(),
        new WatchCommand());
  }

  /** The program with all its commands. */
  static CommandLine commandLine(CliContext io) {
    CommandLine program = new CommandLine(new LotproofCommand(io));
    program.getCommandSpec().version("lotproof " + Origin.programVersion());
    for (CliCommand command : commands()) {
      CommandLine line = new CommandLine(command);
      command.begin(io, line.getCommandSpec());
      program.addSubcommand(line);
      OptionGroups.arrange(line.getCommandSpec());
      line.getCommandSpec().usageMessage().abbreviateSynopsis(true);
    }
    return program
        .setOut(io.out())
        .setErr(io.err())
        .setColorScheme(CommandLine.Help.defaultColorScheme(Ansi.OFF))
        .setCaseInsensitiveEnumValuesAllowed(true)
        .registerConverter(OptionalDouble.class, text -> OptionalDouble.of(number(text)))
        .registerConverter(Double.class, LotproofCommand::number)
        .registerConverter(double.class, LotproofCommand::number)
        .registerConverter(int.class, LotproofCommand::whole)
        .setExpandAtFiles(false)
        .setUsageHelpWidth(Math.max(NARROWEST_HELP, Math.min(HELP_WIDTH, io.columns())))
        .setParameterExceptionHandler((wrong, args) -> usage(io, wrong))
        .setExecutionExceptionHandler((failure, command, parsed) -> stopped(io, failure));
  }

  private static double number(String text) {
    String way =
        UnitsOfMeasure.canBeThousands(text)
            ? "' can be read in two ways; write 1.5 with a point, and no mark between thousands"
            : "' is not a number; write digits, such as 0.95";
    return UnitsOfMeasure.typed(text)
        .orElseThrow(() -> new CommandLine.TypeConversionException("'" + text + way));
  }

  private static int whole(String text) {
    if (!text.matches("[+-]?[0-9]{1,9}")) {
      throw new CommandLine.TypeConversionException("'" + text + "' is not a whole number");
    }
    return Integer.parseInt(text);
  }

  /** The command line itself is wrong. */
  private static int usage(CliContext io, CommandLine.ParameterException wrong) {
    io.complain("lotproof: " + wrong.getMessage());
    if (wrong instanceof CommandLine.UnmatchedArgumentException unmatched
        && !unmatched.getSuggestions().isEmpty()) {
      io.complain("Did you mean: " + String.join(" or ", unmatched.getSuggestions()) + "?");
    }
    io.complain("See: " + wrong.getCommandLine().getCommandSpec().qualifiedName(" ") + " --help");
    return Exit.UNUSABLE;
  }

  /** The command stopped half-way. */
  static int stopped(CliContext io, Exception failure) {
    if (failure instanceof UnusableException unusable && !unusable.issues().isEmpty()) {
      io.showAll(unusable.issues());
    } else if (failure instanceof UnusableException) {
      io.complain("lotproof: " + failure.getMessage());
    } else if (failure instanceof UserInterruptException) {
      return Exit.INTERRUPTED;
    } else if (failure instanceof UncheckedIOException unread) {
      // what the file system said is often left out of its message
      Throwable cause = Objects.requireNonNull(unread.getCause());
      String kind = cause.getClass().getSimpleName().replace("Exception", "");
      io.complain(
          "lotproof: " + unread.getMessage() + " (" + kind + ": " + cause.getMessage() + ")");
    } else {
      return Main.fault(io, failure);
    }
    return Exit.UNUSABLE;
  }

  @Override
  public void run() {
    throw new UnusableException("name a command; lotproof --help lists them");
  }
}
