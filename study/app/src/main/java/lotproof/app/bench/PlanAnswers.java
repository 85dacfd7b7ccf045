package lotproof.app.bench;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.UnusableException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** The settings of a plan: from options, else from a person who is asked, else their defaults. */
final class PlanAnswers {
  private final CliContext io;
  private final Map<PlanSetting, OptionSpec> options = new EnumMap<>(PlanSetting.class);
  private boolean asks;

  PlanAnswers(CliContext io) {
    this.io = io;
    PlanSetting.STUDY.forEach(setting -> options.put(setting, setting.spec()));
  }

  void addTo(CommandSpec spec) {
    options.values().forEach(spec::addOption);
  }

  /**
   * Begins to answer.
   *
   * @param person whether a person is asked for what is missing; else all of it is named at once
   * @param also further options that are missing
   */
  void begin(boolean person, List<String> also) {
    asks = person;
    List<String> missing = new ArrayList<>();
    options.forEach(
        (setting, option) -> {
          if (setting.otherwise == null && option.getValue() == null) {
            missing.add(setting.option);
          }
        });
    missing.addAll(also);
    if (!asks && !missing.isEmpty()) {
      throw new UnusableException(
          "%s%s; in a terminal, or with --ask, plan asks for them (lotproof plan --help)",
          missing.size() == 1 ? "missing option: " : "missing options: ",
          String.join(", ", missing));
    }
  }

  /**
   * The value of a setting.
   *
   * @param reader makes a value of the text, or throws an IllegalArgumentException with the reason
   */
  <T> T read(PlanSetting setting, Function<String, T> reader) {
    return read(setting, setting.otherwise, reader);
  }

  /** The value of a setting with a default that depends on others. */
  <T> T read(PlanSetting setting, @Nullable String otherwise, Function<String, T> reader) {
    OptionSpec option = options.get(setting);
    String given = option == null ? null : option.getValue();
    if (given != null || !asks) {
      String text = given == null ? Objects.requireNonNull(otherwise) : given;
      return PlanParsers.read(setting.option, text, reader);
    }
    String shown = otherwise == null || otherwise.isEmpty() ? "" : " [" + otherwise + "]";
    String question =
        setting.question() + ("".equals(otherwise) ? ", or Enter for none" : shown) + ": ";
    while (true) {
      String typed = typed(question);
      if (typed.isEmpty() && otherwise == null) {
        io.say("  this has no default");
        continue;
      }
      try {
        String text = typed.isEmpty() ? Objects.requireNonNull(otherwise) : typed;
        return PlanParsers.read(setting.option, text, reader);
      } catch (UnusableException e) {
        io.say("  " + e.getMessage());
      }
    }
  }

  /** Several values, until an empty answer. */
  <T> List<T> readAll(PlanSetting setting, Function<String, T> reader) {
    List<T> values = new ArrayList<>();
    List<String> given = Objects.requireNonNull(options.get(setting)).getValue();
    if (given != null) {
      given.forEach(text -> values.add(PlanParsers.read(setting.option, text, reader)));
      return values;
    }
    while (true) {
      String typed =
          typed(setting.question() + (values.isEmpty() ? ": " : ", or Enter when done: "));
      if (typed.isEmpty() && !values.isEmpty()) {
        return values;
      }
      try {
        values.add(PlanParsers.read(setting.option, typed, reader));
      } catch (UnusableException e) {
        io.say("  " + e.getMessage());
      }
    }
  }

  private String typed(String question) {
    return io.typing()
        .line(question, List.of())
        .orElseThrow(() -> new UnusableException("planning cancelled; nothing was written"));
  }
}
