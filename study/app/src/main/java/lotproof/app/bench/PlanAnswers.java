package lotproof.app.bench;

import static lotproof.app.cli.CliCommand.refuse;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Supplier;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.TextOptions;
import lotproof.app.cli.UnusableException;
import org.jspecify.annotations.Nullable;

/** The settings of a plan: from options, else from a person who is asked, else their defaults. */
final class PlanAnswers extends TextOptions {
  private CliContext io = CliContext.NOWHERE;
  private boolean asks;

  /** What the person typed, in order, and how much of it was used since the first question. */
  private final List<String> typed = new ArrayList<>();

  private int used;

  /** The person goes one question back: all answers but the last are used again. */
  @SuppressWarnings("serial")
  private static final class Back extends RuntimeException {
    private Back() {
      super(null, null, false, false);
    }
  }

  /** Asks all that a description needs, as often as the person goes back. */
  <T> T answered(Supplier<T> description) {
    while (true) {
      used = 0;
      try {
        return description.get();
      } catch (Back back) {
        typed.remove(typed.size() - 1);
      }
    }
  }

  PlanAnswers(Set<PlanSetting> settings) {
    settings.forEach(setting -> add(setting.option()));
  }

  /** Begins to answer: asks the person for what is missing, or else names all of it at once. */
  void begin(CliContext context, boolean person, Set<PlanSetting> settings) {
    io = context;
    asks = person;
    List<String> missing =
        settings.stream().filter(this::isMissing).map(setting -> setting.name).toList();
    refuse(
        !asks && !missing.isEmpty(),
        "%s%s; in a terminal, or with --ask, plan asks for them (lotproof plan --help)",
        missing.size() == 1 ? "missing option: " : "missing options: ",
        String.join(", ", missing));
  }

  boolean asks() {
    return asks;
  }

  /** Whether a setting has no default and was not given. */
  boolean isMissing(PlanSetting setting) {
    return setting.otherwise == null && value(setting.name).isEmpty();
  }

  /** The number that was given for a setting. */
  Optional<Double> number(PlanSetting setting) {
    return given(setting.name).map(text -> read(setting.name, text, PlanDraft::number));
  }

  /** The value of an option's text; what is wrong ends the command with the option's name. */
  static <T> T read(String option, String text, Function<String, T> reader) {
    try {
      return reader.apply(text);
    } catch (IllegalArgumentException e) {
      throw new UnusableException(option + ": " + e.getMessage());
    }
  }

  /** The value of a setting; the reader throws an IllegalArgumentException with a reason. */
  <T> T read(PlanSetting setting, Function<String, T> reader) {
    return read(setting, setting.otherwise, reader);
  }

  /** The value of a setting with a default that depends on others. */
  <T> T read(PlanSetting setting, @Nullable String otherwise, Function<String, T> reader) {
    String given = given(setting.name).orElse(asks ? null : otherwise);
    if (given != null) {
      return read(setting.name, given, reader);
    }
    String shown = otherwise == null || otherwise.isEmpty() ? "" : " [" + otherwise + "]";
    String question =
        question(setting) + ("".equals(otherwise) ? ", or Enter for none" : shown) + ": ";
    while (true) {
      String answer = typed(setting, question);
      String text = answer.isEmpty() ? otherwise : answer;
      Optional<T> read = text == null ? Optional.empty() : tried(setting, text, reader);
      if (read.isPresent()) {
        return read.get();
      } else if (text == null) {
        typed.remove(--used);
        io.say("  this has no default; ? says what it takes");
      }
    }
  }

  /** Several values, until an empty answer. */
  <T> List<T> readAll(PlanSetting setting, Function<String, T> reader) {
    Optional<List<String>> given = value(setting.name);
    if (given.isPresent()) {
      return given.get().stream().map(text -> read(setting.name, text, reader)).toList();
    }
    List<T> values = new ArrayList<>();
    while (true) {
      String answer =
          typed(setting, question(setting) + (values.isEmpty() ? ": " : ", or Enter when done: "));
      if (answer.isEmpty() && !values.isEmpty()) {
        return values;
      }
      tried(setting, answer, reader).ifPresent(values::add);
    }
  }

  /** What asks for a setting: its description, without what it says of defaults. */
  private String question(PlanSetting setting) {
    String plain = description(setting.name).replaceAll(" \\(default.*", "").replace("%%", "%");
    return Character.toUpperCase(plain.charAt(0)) + plain.substring(1);
  }

  /** The next answer: one that was typed before the person went back, or else a new one. */
  private String typed(PlanSetting setting, String question) {
    while (used == typed.size()) {
      String answer =
          io.typing()
              .line(question, List.of())
              .orElseThrow(() -> new UnusableException("planning cancelled; nothing was written"));
      if (answer.strip().equals("?")) {
        io.sayf(
            "  such as %s; Enter takes what stands in [ ]; back: one question back",
            setting.example);
      } else if (answer.strip().equals("back")) {
        if (!typed.isEmpty()) {
          throw new Back();
        }
        io.say("  this is the first question");
      } else {
        typed.add(answer);
      }
    }
    return typed.get(used++);
  }

  private <T> Optional<T> tried(PlanSetting setting, String text, Function<String, T> reader) {
    try {
      return Optional.of(read(setting.name, text, reader));
    } catch (UnusableException e) {
      io.say("  " + e.getMessage());
      typed.remove(--used);
      return Optional.empty();
    }
  }
}
