package lotproof.claim;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import lotproof.claim.premise.SubjectRuns;
import lotproof.model.ClaimWeights;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

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

  /** The limits; empty where the claim is for something else or has no jig. */
  static Optional<JigLimits> of(Study study, List<ReducedRun> runs) {
    if (study.claim().subject() != ClaimRequest.Subject.BOARD
        || study.design().reference().isEmpty()) {
      return Optional.empty();
    }
    List<ReducedRun> own = runs.stream().filter(r -> SubjectRuns.holds(study, r.run())).toList();
    return Optional.of(
        new JigLimits(
            (int) own.stream().map(r -> r.run().board()).distinct().count(),
            study.claim().content(),
            study.claim().confidence(),
            new Calculator(study, own).limits()));
  }

  /**
   * Gain is the slope over the factory default factor minus one; with a dummy bridge that is the
   * board's own, with a reference cell the cell's is in it. Resolution is what the noise leaves:
   * capacity over 6.6 times the noise, the span that 99.9 % of normal samples keep. Each limit
   * holds by itself, not all together.
   */
  private record Calculator(Study study, List<ReducedRun> runs) {
    private static final double PEAK_TO_PEAK = 6.6;

    private List<Limit> limits() {
      double nominal = study.kit().defaultFactorCountsPerKilogram();
      Limit noise = limit(Property.NOISE, Characteristic.NOISE, value -> value, Kind.AT_MOST);
      return List.of(
          limit(
              Property.GAIN,
              Characteristic.FACTOR,
              counts -> 100 * (counts / nominal - 1),
              Kind.ABOUT_ZERO),
          limit(Property.OFFSET, Characteristic.ZERO, value -> value, Kind.ABOUT_ZERO),
          noise,
          resolution(noise));
    }

    private Limit resolution(Limit noise) {
      if (!(noise.value().orElse(0) > 0)) {
        Missing reason = noise.missing().orElse(Missing.NO_NOISE);
        return Limit.none(Property.RESOLUTION, Kind.AT_LEAST, noise.runs(), reason);
      }
      double parts =
          1000 * study.kit().capacityKilograms() / (PEAK_TO_PEAK * noise.value().getAsDouble());
      return new Limit(
          Property.RESOLUTION,
          Kind.AT_LEAST,
          OptionalDouble.of(parts),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          noise.runs(),
          Optional.empty());
    }

    /** Limit about zero, or the upper limit; none where too few runs show it. */
    private Limit limit(
        Property property, Characteristic characteristic, DoubleUnaryOperator scale, Kind kind) {
      boolean aboutZero = kind == Kind.ABOUT_ZERO;
      MeasuredValues shown = new StudySpread(study).values(characteristic, runs);
      int count = shown.values().size();
      if (count < 2) {
        return Limit.none(property, kind, count, Missing.FEWER_THAN_TWO_RUNS);
      }
      MeasuredValues values =
          shown.withoutInfluences().withValues(Arrays.stream(shown.array()).map(scale).toArray());
      FactorPlan plan = FactorPlan.of(values);
      if (!(plan.fit(values) instanceof ComponentsFit fit)) {
        return Limit.none(property, kind, count, Missing.NOT_FITTED);
      }
      FutureUnitLimits limits =
          FutureUnitLimits.ofSum(
              List.of(new FutureUnitLimits.Part(fit, ClaimWeights.of(study, plan, values))),
              0,
              study.claim().content(),
              study.claim().confidence());
      double tested =
          values.values().stream()
              .mapToDouble(value -> aboutZero ? Math.abs(value) : value)
              .max()
              .orElseThrow();
      double model = aboutZero ? limits.symmetricHalfWidth() : limits.upper();
      return new Limit(
          property,
          kind,
          OptionalDouble.of(Math.max(tested, model)),
          OptionalDouble.of(model),
          OptionalDouble.of(tested),
          count,
          Optional.empty());
    }
  }
}
