package lotproof.report.words;

/** Counted nouns. */
final class Counts {
  private Counts() {}

  /** {@code 1 run}, {@code 3 runs}. */
  static String of(long count, String noun) {
    return count + " " + (count == 1 ? noun : noun + "s");
  }
}
