package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import lotproof.claim.JigLimits.Kind;
import lotproof.claim.JigLimits.Limit;
import lotproof.claim.JigLimits.Missing;
import lotproof.claim.JigLimits.Property;
import lotproof.claim.evidence.SubjectRuns;
import lotproof.model.ClaimWeights;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.reduce.ReducedRun;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.Characteristic;
import lotproof.study.ClaimSubject;
import lotproof.study.Study;

/**
 * What the jig says of boards alone beside their error of reading: gain, offset, noise and
 * resolution, each as a limit for a future board at the claim's content and confidence (the larger
 * of the mixed model's limit and the largest tested value). Gain is the slope over the factory
 * default factor minus one; with a dummy bridge that is the board's own, with a reference cell the
 * cell's is in it. Resolution is what the noise leaves: capacity over 6.6 times the noise, the span
 * that 99.9 % of normal samples keep. Each limit holds by itself, not all together.
 */
final class BoardsAlone {
  private static final double PEAK_TO_PEAK = 6.6;

  private final Study study;
  private final List<ReducedRun> runs;

  private BoardsAlone(Study study, List<ReducedRun> runs) {
    this.study = study;
    this.runs = runs;
  }

  /** The limits; empty where the claim is for something else or has no jig. */
  static Optional<JigLimits> limits(Study study, List<ReducedRun> runs) {
    if (study.claim().subject() != ClaimSubject.BOARD || study.design().reference().isEmpty()) {
      return Optional.empty();
    }
    List<ReducedRun> own =
        runs.stream()
            .filter(r -> SubjectRuns.holds(study, r.run().cell(), r.run().board()))
            .toList();
    return Optional.of(
        new JigLimits(
            (int) own.stream().map(r -> r.run().board()).distinct().count(),
            study.claim().content(),
            study.claim().confidence(),
            new BoardsAlone(study, own).limits()));
  }

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
        shown
            .withoutInfluences()
            .withValues(shown.values().stream().map(scale::applyAsDouble).toList());
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
