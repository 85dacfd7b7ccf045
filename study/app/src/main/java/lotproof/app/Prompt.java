package lotproof.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import lotproof.gather.layout.Question;
import lotproof.report.text.OutsideText;

/** Questions to the person at the terminal. No answer is never taken for one. */
final class Prompt {
  private static final int MOST_TRIES = 5;

  private final Surroundings io;
  private final BufferedReader answers;

  Prompt(Surroundings io, BufferedReader answers) {
    this.io = io;
    this.answers = answers;
  }

  /** One line; nothing at the end of input. */
  Optional<String> line(String text) {
    io.out().print(text + " ");
    io.out().flush();
    try {
      return Optional.ofNullable(answers.readLine()).map(String::strip);
    } catch (IOException e) {
      throw new UncheckedIOException("the terminal cannot be read", e);
    }
  }

  /** Whether the person says yes. */
  boolean yes(String text) {
    Optional<String> answer = line(text + " [y/n]");
    return answer.filter(a -> a.equalsIgnoreCase("y") || a.equalsIgnoreCase("yes")).isPresent();
  }

  /** The number of a choice counted from 1; nothing when none is made. */
  Optional<Integer> choice(String text, List<String> choices) {
    io.out().println();
    io.out().println(OutsideText.clean(text));
    for (int i = 0; i < choices.size(); i++) {
      io.out().println("  " + (i + 1) + "  " + OutsideText.clean(choices.get(i)));
    }
    io.out().println("  0  none of these: keep nothing");
    for (int tries = 0; tries < MOST_TRIES; tries++) {
      Optional<String> answer = line("Which one?");
      if (answer.isEmpty() || answer.get().equals("0")) {
        return Optional.empty();
      }
      if (answer.get().matches("[1-9][0-9]?") && Integer.parseInt(answer.get()) <= choices.size()) {
        return Optional.of(Integer.parseInt(answer.get()));
      }
      io.out().println("Give a number from 0 to " + choices.size() + ".");
    }
    return Optional.empty();
  }

  /** The value of the answer to a question. */
  Optional<String> answer(Question question) {
    List<String> choices =
        question.choices().stream().map(c -> c.value() + ": " + c.words()).toList();
    return choice(question.text(), choices).map(n -> question.choices().get(n - 1).value());
  }
}
