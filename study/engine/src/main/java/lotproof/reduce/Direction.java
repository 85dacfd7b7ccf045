package lotproof.reduce;

import java.util.Locale;

/**
 * Whether the load was being increased or decreased. The largest load and all before it are rising.
 */
public enum Direction {
  RISING,
  FALLING;

  /** The word used in files and reports. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
