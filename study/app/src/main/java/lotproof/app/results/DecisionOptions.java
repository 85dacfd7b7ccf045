package lotproof.app.results;

import static lotproof.app.cli.CliCommand.refuse;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.app.cli.TextOptions;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.Nearest;
import lotproof.gather.layout.Times;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Screen;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** What a person says when deciding, and the decision that follows. */
final class DecisionOptions extends TextOptions {
  private static final String DECIDE = "--decide";
  private static final String UNDO = "--undo";
  private static final List<String> ACTIONS = List.of(DECIDE, UNDO);

  DecisionOptions() {
    add(DECIDE, "ACTION");
    add(UNDO, "DECISION");
    add("--unit", "SERIAL");
    add("--run", "RUN");
    add("--cause", "CAUSE");
    add("--why", "WORDS");
    add("--who", "NAME");
    add("--when", "TIME");
    add("--by", "RUN");
    add("--test", "CHARACTERISTIC");
    add("--limits", "LIMITS");
    add("--right-cell", "SERIAL");
    add("--right-board", "SERIAL");
  }

  /** Whether a decision is to be written; options of one must not stand alone. */
  boolean asked() {
    refuse(
        given(ACTIONS).isEmpty() && !given().isEmpty(),
        "%s belongs to --decide or --undo; name one of them",
        given().stream().findFirst().orElse(""));
    return !given().isEmpty();
  }

  /** The decision that the options state, named behind those of the folder. */
  Decision decision(StudyContents contents) {
    refuse(given(ACTIONS).size() > 1, "--decide and --undo are two decisions; write one at a time");
    needed("--who", "the person who decides");
    needed("--when", "when it was decided, such as 2026-03-05");
    return given(UNDO)
        .map(id -> withdrawal(contents, id))
        .orElseGet(() -> decided(contents, action(given(DECIDE).orElseThrow())));
  }

  private Decision made(
      StudyContents contents, Action action, Target target, String serial, String cause) {
    return new Decision(
        StudyFolder.nextName("D", contents.decisions().stream().map(Decision::id)),
        Times.typed(given("--when").orElseThrow()).value().orElse(given("--when").orElseThrow()),
        given("--who").orElseThrow(),
        action,
        target,
        serial,
        field(action),
        value(action),
        cause,
        given("--why").orElse(""),
        0);
  }

  private Optional<String> field(Action action) {
    boolean cell = given("--right-cell").isPresent();
    refuse(
        action == Action.CORRECTED && cell == given("--right-board").isPresent(),
        "corrected needs either --right-cell or --right-board");
    return switch (action) {
      case SCREENED -> Optional.of(needed("--test", "what production tests on every unit"));
      case CORRECTED -> Optional.of((cell ? Target.CELL : Target.BOARD).key());
      default -> Optional.empty();
    };
  }

  private Optional<String> value(Action action) {
    return switch (action) {
      case WITHDRAWN -> given(UNDO);
      case SCREENED -> Optional.of(needed("--limits", "such as \"at most 0.6 g\""));
      case RE_MEASURED -> Optional.of(needed("--by", "the later run"));
      case CORRECTED -> given("--right-cell").or(() -> given("--right-board"));
      default -> Optional.empty();
    };
  }

  private Decision withdrawal(StudyContents contents, String id) {
    List<String> ids = contents.decisions().stream().map(Decision::id).toList();
    refuse(
        !ids.contains(id),
        "--undo: there is no decision \"%s\"; %s",
        id,
        Nearest.hint(id, ids, "decisions"));
    Decision undone = contents.decisions().get(ids.indexOf(id));
    return made(
        contents,
        Action.WITHDRAWN,
        undone.target(),
        undone.serial(),
        needed("--cause", "why the decision does not hold"));
  }

  private Decision decided(StudyContents contents, Action action) {
    Optional<String> unit = given("--unit");
    Optional<String> run = given("--run");
    refuse(
        unit.isPresent() == run.isPresent(),
        "a decision is about either --unit or --run; name one");
    Target target = unit.map(serial -> kindOf(contents.study(), serial)).orElse(Target.RUN);
    String usual =
        switch (action) {
          case SCREENED -> Screen.CAUSE;
          // an exclusion needs a cause, which the folder asks for
          case EXCLUDED, CORRECTED -> "";
          default -> "none found";
        };
    String cause = given("--cause").filter(given -> !given.isEmpty()).orElse(usual);
    return made(contents, action, target, unit.or(() -> run).orElseThrow(), cause);
  }

  /** Whether a serial is a cell or a board of the study. */
  static Target kindOf(Study study, String serial) {
    List<String> known = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      if (study.units().serials(kind).contains(serial)) {
        return kind == UnitKind.CELL ? Target.CELL : Target.BOARD;
      }
      known.addAll(study.units().serials(kind));
    }
    throw new UnusableException(
        "\"%s\" is no unit of the study%s",
        serial,
        Nearest.to(serial, known).map(near -> "; did you mean \"" + near + "\"?").orElse(""));
  }

  private static Action action(String word) {
    String plain = word.strip().replace('-', ' ');
    List<Action> actions = new ArrayList<>(List.of(Action.values()));
    actions.remove(Action.WITHDRAWN);
    return actions.stream()
        .filter(action -> action.key().replace('-', ' ').equals(plain))
        .findFirst()
        .orElseThrow(
            () ->
                new UnusableException(
                    "--decide: \"%s\" is no action; write one of: %s%s",
                    word,
                    String.join(", ", actions.stream().map(Action::key).toList()),
                    plain.startsWith("with") ? "; to withdraw a decision use --undo" : ""));
  }
}
