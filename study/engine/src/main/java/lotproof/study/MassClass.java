package lotproof.study;

import java.util.Arrays;
import java.util.Optional;

/**
 * Accuracy class of a weight by OIML R 111-1:2004.
 *
 * <p>Limits of error are looked up in the table of limits in lotproof.reduce.
 */
public enum MassClass {
  E1("E1"),
  E2("E2"),
  F1("F1"),
  F2("F2"),
  M1("M1"),
  M1_2("M1-2"),
  M2("M2"),
  M2_3("M2-3"),
  M3("M3");

  private final String word;

  MassClass(String word) {
    this.word = word;
  }

  /** The class as the standard writes it. */
  public String word() {
    return word;
  }

  /** The class that is written so, if there is one. */
  public static Optional<MassClass> ofWord(String word) {
    return Arrays.stream(values()).filter(c -> c.word.equals(word)).findFirst();
  }
}
