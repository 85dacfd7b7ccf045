package lotproof.app;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;

/**
 * Fills in what was not told: asks a person, or takes the default, or says all that is missing at
 * once.
 */
final class PlanQuestions {
  private final Surroundings io;
  private final @Nullable Typing typing;
  private final List<String> missing = new ArrayList<>();

  PlanQuestions(Surroundings io, @Nullable Typing typing) {
    this.io = io;
    this.typing = typing;
  }

  /** Whether a person answers. */
  boolean asks() {
    return typing != null;
  }

  /**
   * One answer.
   *
   * @param given what was told, if it was
   * @param option the option that tells it
   * @param question what a person is asked
   * @param otherwise the default; null when there is none
   * @param read makes a value of the text, or throws {@link UnusableException}
   * @param anyway stands for the value where the text is missing, so that all that is missing can
   *     be named at once
   */
  <T> T answer(
      @Nullable String given,
      String option,
      String question,
      @Nullable String otherwise,
      Function<String, T> read,
      T anyway) {
    if (given != null) {
      return read.apply(given);
    }
    Typing person = typing;
    if (person != null) {
      return asked(person, question, otherwise, read);
    }
    if (otherwise != null) {
      return read.apply(otherwise);
    }
    missing.add(option);
    return anyway;
  }

  private <T> T asked(
      Typing person, String question, @Nullable String otherwise, Function<String, T> read) {
    while (true) {
      String prompt =
          question
              + (otherwise == null || otherwise.isEmpty() ? "" : " [" + otherwise + "]")
              + ": ";
      String typed =
          person
              .line(prompt, List.of())
              .orElseThrow(
                  () -> new UnusableException("the plan was broken off; nothing was written"));
      if (typed.isEmpty() && otherwise == null) {
        io.out().println("  this has no default");
        continue;
      }
      try {
        return read.apply(typed.isEmpty() && otherwise != null ? otherwise : typed);
      } catch (UnusableException e) {
        io.out().println("  " + e.getMessage());
      }
    }
  }

  /** Several answers, until an empty one. */
  List<String> several(
      List<String> given, String option, String question, Predicate<String> usable) {
    if (!given.isEmpty()) {
      return given;
    }
    Typing person = typing;
    if (person == null) {
      missing.add(option);
      return given;
    }
    List<String> answers = new ArrayList<>();
    while (true) {
      String typed =
          person
              .line(question + (answers.isEmpty() ? ": " : ", or Enter when done: "), List.of())
              .orElseThrow(
                  () -> new UnusableException("the plan was broken off; nothing was written"));
      if (typed.isEmpty() && !answers.isEmpty()) {
        return answers;
      }
      if (!typed.isEmpty() && usable.test(typed)) {
        answers.add(typed);
      }
    }
  }

  /** Ends the command when something without a default was not told. */
  void complete() {
    if (!missing.isEmpty()) {
      throw new UnusableException(
          "not told: "
              + String.join(", ", missing)
              + "; in a terminal, or with --ask, plan asks for them (lotproof plan --help)");
    }
  }
}
