package lotproof.folder.text;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.text.similarity.JaroWinklerSimilarity;

/** The known word that a person most likely meant. */
public final class Nearest {
  /** Below this similarity a suggestion misleads more often than it helps; chosen by trial. */
  private static final double WORTH_NAMING = 0.75;

  private static final JaroWinklerSimilarity SIMILARITY = new JaroWinklerSimilarity();

  private Nearest() {}

  /** The most similar of the known words, when one is similar at all; the first of equals. */
  public static Optional<String> to(String word, Collection<String> known) {
    return known.stream()
        .filter(candidate -> similarity(word, candidate) >= WORTH_NAMING)
        .max(Comparator.comparingDouble(candidate -> similarity(word, candidate)));
  }

  /** For messages: the nearest word as a question, or else the list of what is known. */
  public static String hint(String word, Collection<String> known, String whatIsKnown) {
    return to(word, known)
        .map(near -> "did you mean \"" + near + "\"?")
        .orElseGet(() -> whatIsKnown + ": " + String.join(", ", known));
  }

  private static double similarity(String word, String candidate) {
    return SIMILARITY.apply(word.toLowerCase(Locale.ROOT), candidate.toLowerCase(Locale.ROOT));
  }
}
