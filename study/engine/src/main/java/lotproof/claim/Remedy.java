package lotproof.claim;

import java.util.OptionalDouble;

/**
 * What would make a wanted figure supportable.
 *
 * @param kind which lever
 * @param possible whether this lever alone would do, by the estimates at hand
 * @param amount the number that the sentence states, in its own unit; absent where there is none
 * @param sentence what to do and how much of it, or why it does not help
 */
public record Remedy(Kind kind, boolean possible, OptionalDouble amount, String sentence) {
  /** The levers. */
  public enum Kind {
    CALIBRATION_LEVEL,
    MORE_UNITS,
    MORE_LOTS,
    SCREEN,
    CONTRIBUTOR,
    MASSES,
    CONTENT
  }
}
