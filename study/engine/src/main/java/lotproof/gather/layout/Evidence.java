package lotproof.gather.layout;

import java.util.Optional;

/** What the texts of a file show about one of two ways in which all of them can be read. */
final class Evidence {
  private Optional<Boolean> settled = Optional.empty();
  private Optional<Sample> doubtful = Optional.empty();

  /** A text that can be read in both ways. */
  record Sample(String text, int line, String column) {}

  /** A text that can be read in one way only, whichever it is. */
  void settle(boolean way) {
    settled = settled.or(() -> Optional.of(way));
  }

  /** A text that can be read in both ways. */
  void doubt(String text, int line, String column) {
    if (doubtful.isEmpty()) {
      doubtful = Optional.of(new Sample(text, line, column));
    }
  }

  boolean isSettled() {
    return settled.isPresent();
  }

  /** Whether there was any text that the choice could matter for. */
  boolean matters() {
    return isSettled() || doubtful.isPresent();
  }

  /** Whether the texts are to be read in the first of the ways. */
  Optional<Boolean> way() {
    return settled;
  }

  /** The first doubtful text, when no other settles it. */
  Optional<Sample> doubt() {
    return isSettled() ? Optional.empty() : doubtful;
  }
}
