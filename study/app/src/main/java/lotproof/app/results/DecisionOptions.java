package lotproof.app.results;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyContents;
import lotproof.folder.text.Nearest;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Numbering;
import lotproof.study.Screen;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** What a person says when deciding, and the decision that follows. */
final class DecisionOptions {
  private static final Set<String> DETAILS =
      Set.of(
          "--unit",
          "--run",
          "--cause",
          "--why",
          "--who",
          "--when",
          "--by",
          "--test",
          "--limits",
          "--right-cell",
          "--right-board");

  @Spec(Spec.Target.MIXEE)
  private CommandSpec spec = CommandSpec.create();

  @Option(
      names = "--decide",
      paramLabel = "ACTION",
      description =
          "write a decision: excluded, \"stays in\", re-measured, screened or corrected; needs"
              + " --unit or --run, --who, --when and --cause")
  private @Nullable String decide;

  @Option(
      names = "--undo",
      paramLabel = "DECISION",
      description = "write a line that withdraws this decision; nothing is erased")
  private @Nullable String undo;

  @Option(names = "--unit", paramLabel = "SERIAL", description = "the cell or board it is about")
  private @Nullable String unit;

  @Option(names = "--run", paramLabel = "RUN", description = "the run it is about")
  private @Nullable String run;

  @Option(
      names = "--cause",
      paramLabel = "CAUSE",
      description = "the cause; agreed causes stand in study.yaml")
  private @Nullable String cause;

  @Option(names = "--why", paramLabel = "WORDS", description = "the evidence, in words")
  private String why = "";

  @Option(names = "--who", paramLabel = "NAME", description = "the person who decides")
  private @Nullable String who;

  @Option(
      names = "--when",
      paramLabel = "TIME",
      description = "when it was decided, such as 2026-03-05 or 2026-03-05T09:30")
  private @Nullable String when;

  @Option(
      names = "--by",
      paramLabel = "RUN",
      description =
          "for re-measured: the later run. The first counts unless --cause is an agreed one")
  private @Nullable String by;

  @Option(
      names = "--test",
      paramLabel = "CHARACTERISTIC",
      description = "for screened: what production tests on every unit, such as noise")
  private @Nullable String test;

  @Option(
      names = "--limits",
      paramLabel = "LIMITS",
      description = "for screened: such as \"at most 0.6 g\" or \"between 1.97 and 2.03 mV/V\"")
  private @Nullable String limits;

  @Option(
      names = "--right-cell",
      paramLabel = "SERIAL",
      description = "for corrected: the run's cell")
  private @Nullable String rightCell;

  @Option(
      names = "--right-board",
      paramLabel = "SERIAL",
      description = "for corrected: the run's board")
  private @Nullable String rightBoard;

  /** Whether a decision is to be written. */
  boolean asked() {
    return decide != null || undo != null;
  }

  /** Ends the command when options of a decision stand without one. */
  void mustBeUnused() {
    spec.commandLine().getParseResult().matchedOptions().stream()
        .map(OptionSpec::longestName)
        .filter(DETAILS::contains)
        .findFirst()
        .ifPresent(
            name -> {
              throw new UnusableException(
                  name + " belongs to --decide or --undo; name one of them");
            });
  }

  /** The decision that the options state, named behind those of the folder. */
  Decision decision(StudyContents contents) {
    if (decide != null && undo != null) {
      throw new UnusableException("--decide and --undo are two decisions; write one at a time");
    }
    String person = CliCommand.needed(who, "--who", "the person who decides");
    String time = CliCommand.needed(when, "--when", "when it was decided, such as 2026-03-05");
    return undo == null
        ? decided(contents, person, time, action(String.valueOf(decide)))
        : withdrawal(contents, person, time, undo);
  }

  private Decision withdrawal(StudyContents contents, String person, String time, String name) {
    List<Decision> all = contents.decisions();
    Decision undone =
        all.stream()
            .filter(d -> d.id().equals(name))
            .findFirst()
            .orElseThrow(
                () ->
                    new UnusableException(
                        "--undo: there is no decision \""
                            + name
                            + "\"; "
                            + Nearest.hint(
                                name, all.stream().map(Decision::id).toList(), "decisions")));
    String reason = CliCommand.needed(cause, "--cause", "why the decision does not hold");
    return new Decision(
        nextId(all),
        time,
        person,
        Action.WITHDRAWN,
        undone.target(),
        undone.serial(),
        Optional.empty(),
        Optional.of(name),
        reason,
        why,
        0);
  }

  private Decision decided(StudyContents contents, String person, String time, Action action) {
    Target target = target(contents.study());
    String serial = String.valueOf(target == Target.RUN ? run : unit);
    Optional<String> field = Optional.empty();
    Optional<String> value = Optional.empty();
    String reason = Optional.ofNullable(cause).orElse("");
    switch (action) {
      case SCREENED -> {
        field =
            Optional.of(CliCommand.needed(test, "--test", "what production tests on every unit"));
        value = Optional.of(CliCommand.needed(limits, "--limits", "such as \"at most 0.6 g\""));
        reason = reason.isEmpty() ? Screen.CAUSE : reason;
      }
      case RE_MEASURED -> {
        value = Optional.of(CliCommand.needed(by, "--by", "the later run"));
        reason = reason.isEmpty() ? "none found" : reason;
      }
      case CORRECTED -> {
        if ((rightCell == null) == (rightBoard == null)) {
          throw new UnusableException("corrected needs either --right-cell or --right-board");
        }
        field = Optional.of(rightCell == null ? Target.BOARD.word() : Target.CELL.word());
        value = Optional.ofNullable(rightCell == null ? rightBoard : rightCell);
      }
      case STAYS_IN -> reason = reason.isEmpty() ? "none found" : reason;
      default -> {
        // an exclusion needs a cause, which the folder asks for
      }
    }
    return new Decision(
        nextId(contents.decisions()),
        time,
        person,
        action,
        target,
        serial,
        field,
        value,
        reason,
        why,
        0);
  }

  private Target target(Study study) {
    if ((unit == null) == (run == null)) {
      throw new UnusableException("a decision is about either --unit or --run; name one");
    }
    return run != null ? Target.RUN : kindOf(study, String.valueOf(unit));
  }

  /** Whether a serial is a cell or a board of the study. */
  static Target kindOf(Study study, String serial) {
    List<String> known = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      if (study.lotBySerial(kind).containsKey(serial)) {
        return kind == UnitKind.CELL ? Target.CELL : Target.BOARD;
      }
      study.lots(kind).forEach(lot -> known.addAll(lot.serials()));
    }
    throw new UnusableException(
        "\""
            + serial
            + "\" is no unit of the study"
            + Nearest.to(serial, known).map(near -> "; did you mean \"" + near + "\"?").orElse(""));
  }

  private static Action action(String word) {
    String plain = word.strip().replace('-', ' ');
    return Arrays.stream(Action.values())
        .filter(a -> a != Action.WITHDRAWN && a.word().replace('-', ' ').equals(plain))
        .findFirst()
        .orElseThrow(
            () ->
                new UnusableException(
                    "--decide: \""
                        + word
                        + "\" is no action; write one of: "
                        + Arrays.stream(Action.values())
                            .filter(a -> a != Action.WITHDRAWN)
                            .map(Action::word)
                            .collect(Collectors.joining(", "))
                        + (plain.startsWith("with") ? "; to withdraw a decision use --undo" : "")));
  }

  private static String nextId(List<Decision> decisions) {
    return Numbering.next("D", decisions.stream().map(Decision::id));
  }
}
