package lotproof.study;

import java.util.stream.Stream;

/** Names such as D3, W1 or V2: a letter with a running number. */
public final class Numbering {
  private Numbering() {}

  /** The name after the largest number so far; other names are ignored. */
  public static String next(String letter, Stream<String> names) {
    int largest =
        names
            .filter(name -> name.matches(letter + "[0-9]{1,8}"))
            .mapToInt(name -> Integer.parseInt(name.substring(1)))
            .max()
            .orElse(0);
    return letter + (largest + 1);
  }
}
