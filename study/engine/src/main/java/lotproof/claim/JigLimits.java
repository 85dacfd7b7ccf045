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
 * What the jig says of boards alone beside their error of reading. Gain is the slope over the
 * factory default factor minus one; with a dummy bridge that is the board's own, with a reference
 * cell the cell's is in it.
 *
 * @param content share of boards that each limit holds for
 * @param confidence confidence of each limit by itself, not of all together
 */
public record JigLimits(int boards, double content, double confidence, List<Limit> limits) {
  private static final double PEAK_TO_PEAK = 6.6;

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
   * @param value the limit: the larger of the two below; for resolution what follows from noise
   * @param model limit by the mixed model; absent for resolution
   * @param tested the largest tested value; absent for resolution
   * @param missing why there is no limit; absent where there is one
   */
  public record Limit(
      Property property,
      Kind kind,
      OptionalDouble value,
      OptionalDouble model,
      OptionalDouble tested,
      int runs,
      Optional<Missing> missing) {}

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
    double nominal = study.kit().defaultFactorCountsPerKilogram();
    DoubleUnaryOperator fromNominal = counts -> 100 * (counts / nominal - 1);
    DoubleUnaryOperator asItIs = value -> value;
    Limit noise = limit(study, own, Property.NOISE, Characteristic.NOISE, asItIs);
    return Optional.of(
        new JigLimits(
            (int) own.stream().map(r -> r.run().board()).distinct().count(),
            study.claim().content(),
            study.claim().confidence(),
            List.of(
                limit(study, own, Property.GAIN, Characteristic.FACTOR, fromNominal),
                limit(study, own, Property.OFFSET, Characteristic.ZERO, asItIs),
                noise,
                resolution(study, noise))));
  }

  /** What the noise leaves: capacity over 6.6 times the noise, that 99.9 % of samples keep. */
  private static Limit resolution(Study study, Limit noise) {
    boolean known = noise.value().orElse(0) > 0;
    double span = PEAK_TO_PEAK * noise.value().orElse(1);
    return new Limit(
        Property.RESOLUTION,
        Kind.AT_LEAST,
        known
            ? OptionalDouble.of(1000 * study.kit().capacityKilograms() / span)
            : OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        noise.runs(),
        known ? Optional.empty() : noise.missing().or(() -> Optional.of(Missing.NO_NOISE)));
  }

  /** Upper limit of noise, or limit about zero; none where too few runs show it. */
  private static Limit limit(
      Study study,
      List<ReducedRun> runs,
      Property property,
      Characteristic characteristic,
      DoubleUnaryOperator scale) {
    boolean aboutZero = property != Property.NOISE;
    Kind kind = aboutZero ? Kind.ABOUT_ZERO : Kind.AT_MOST;
    MeasuredValues shown = new StudySpread(study).values(characteristic, runs);
    double[] scaled = Arrays.stream(shown.array()).map(scale).toArray();
    MeasuredValues values = shown.withoutInfluences().withValues(scaled);
    FactorPlan plan = FactorPlan.of(values);
    if (scaled.length < 2 || !(plan.fit(values) instanceof ComponentsFit fit)) {
      return new Limit(
          property,
          kind,
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          scaled.length,
          Optional.of(scaled.length < 2 ? Missing.FEWER_THAN_TWO_RUNS : Missing.NOT_FITTED));
    }
    FutureUnitLimits limits =
        FutureUnitLimits.ofSum(
            List.of(new FutureUnitLimits.Part(fit, ClaimWeights.of(study, plan, values))),
            0,
            study.claim().content(),
            study.claim().confidence());
    double tested = Arrays.stream(scaled).map(v -> aboutZero ? Math.abs(v) : v).max().orElseThrow();
    double model = aboutZero ? limits.symmetricHalfWidth() : limits.upper();
    return new Limit(
        property,
        kind,
        OptionalDouble.of(Math.max(tested, model)),
        OptionalDouble.of(model),
        OptionalDouble.of(tested),
        scaled.length,
        Optional.empty());
  }
}
