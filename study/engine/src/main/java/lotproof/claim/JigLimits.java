package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What the jig says of boards alone beside their error of reading.
 *
 * @param boards how many boards
 * @param content share of boards that each limit holds for
 * @param confidence confidence of each limit by itself, not of all together
 * @param limits gain, offset, noise and resolution
 */
public record JigLimits(int boards, double content, double confidence, List<Limit> limits) {
  public JigLimits {
    limits = List.copyOf(limits);
  }

  /** What is limited. */
  public enum Property {
    /** Deviation from the factory default factor, %. */
    GAIN,
    /** mV/V. */
    OFFSET,
    /** Of a sample, rms, g. */
    NOISE,
    /** Free of noise, parts of the capacity. */
    RESOLUTION
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
   * @param missing why there is no limit; absent where there is one
   */
  public record Limit(
      Property property,
      Kind kind,
      OptionalDouble value,
      OptionalDouble model,
      OptionalDouble tested,
      int runs,
      Optional<Missing> missing) {

    static Limit none(Property property, Kind kind, int runs, Missing missing) {
      return new Limit(
          property,
          kind,
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          runs,
          Optional.of(missing));
    }
  }

  /** How a limit is meant. */
  public enum Kind {
    ABOUT_ZERO,
    AT_MOST,
    AT_LEAST
  }

  /** Why there is no limit. */
  public enum Missing {
    FEWER_THAN_TWO_RUNS,
    NOT_FITTED,
    NO_NOISE
  }

  /** The limit of one property, if the study shows it. */
  public Optional<Limit> of(Property property) {
    return limits.stream()
        .filter(limit -> limit.property() == property && limit.value().isPresent())
        .findFirst();
  }

  /** The noise-free resolution in whole tenths of a bit, rounded down; empty without one. */
  public OptionalDouble resolutionBits() {
    return of(Property.RESOLUTION)
        .map(limit -> Math.floor(10 * Math.log(limit.value().orElseThrow()) / Math.log(2)) / 10)
        .map(OptionalDouble::of)
        .orElse(OptionalDouble.empty());
  }
}
