package lotproof.gather.layout;

import java.util.Optional;

/** What the texts of a file show about one of two ways in which all of them can be read. */
final class Evidence {

  /** A text that can be read in both ways. */
  record Sample(String text, int line, String column) {}

  private Optional<Boolean> settled = Optional.empty();
  private Optional<Sample> doubtful = Optional.empty();

  /** Takes a text by the ways in which it can be read; one that means the same in both is none. */
  void take(boolean first, boolean second, String text, int line, String column) {
    if (first != second) {
      settled = settled.or(() -> Optional.of(first));
    } else if (first && doubtful.isEmpty()) {
      doubtful = Optional.of(new Sample(text, line, column));
    }
  }

  /** Whether the texts are to be read in the first of the ways. */
  Optional<Boolean> isFirst() {
    return settled;
  }

  /** The first doubtful text, when no other settles it. */
  Optional<Sample> doubt() {
    return settled.isPresent() ? Optional.empty() : doubtful;
  }
}
