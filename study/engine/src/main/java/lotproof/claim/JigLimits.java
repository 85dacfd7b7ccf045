package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What the jig says of boards alone beside their error of reading.
 *
 * @param partner what they were on, such as {@code the dummy bridge D1}
 * @param boards how many boards
 * @param content share of boards that each limit holds for
 * @param confidence confidence of each limit by itself, not of all together
 * @param limits gain, offset, noise and resolution
 */
public record JigLimits(
    String partner, int boards, double content, double confidence, List<Limit> limits) {
  public JigLimits {
    limits = List.copyOf(limits);
  }

  /** What is limited. */
  public enum Property {
    GAIN("Gain, from the factory default factor", "%"),
    OFFSET("Offset", "mV/V"),
    NOISE("Noise of a sample, rms", "g"),
    RESOLUTION("Resolution free of noise", "parts of the capacity");

    private final String title;
    private final String unit;

    Property(String title, String unit) {
      this.title = title;
      this.unit = unit;
    }

    /** The name shown to people. */
    public String title() {
      return title;
    }

    /** Unit of its numbers. */
    public String unit() {
      return unit;
    }
  }

  /**
   * One limit.
   *
   * @param property what is limited
   * @param kind how the limit is meant
   * @param value the limit: the larger of the two below; for resolution what follows from noise
   * @param model limit by the mixed model; absent for resolution
   * @param tested the largest tested value; absent for resolution
   * @param runs runs that show the property
   * @param missing why there is no limit; empty where there is one
   */
  public record Limit(
      Property property,
      Kind kind,
      OptionalDouble value,
      OptionalDouble model,
      OptionalDouble tested,
      int runs,
      String missing) {

    static Limit none(Property property, Kind kind, int runs, String reason) {
      return new Limit(
          property,
          kind,
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          runs,
          reason);
    }
  }

  /** How a limit is meant. */
  public enum Kind {
    ABOUT_ZERO("within plus or minus"),
    AT_MOST("at most"),
    AT_LEAST("at least");

    private final String words;

    Kind(String words) {
      this.words = words;
    }

    /** The words before the number. */
    public String words() {
      return words;
    }
  }

  /** The limit of one property, if the study shows it. */
  public Optional<Limit> of(Property property) {
    return limits.stream()
        .filter(limit -> limit.property() == property && limit.value().isPresent())
        .findFirst();
  }
}
