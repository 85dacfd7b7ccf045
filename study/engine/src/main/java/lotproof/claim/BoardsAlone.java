package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import lotproof.reduce.ReducedRun;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
import lotproof.study.Design;
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

  /** The limits in a sentence; empty where the claim is for something else or has no jig. */
  static Optional<String> words(Study study, List<ReducedRun> runs) {
    if (study.claim().subject() != ClaimSubject.BOARD || study.design().reference().isEmpty()) {
      return Optional.empty();
    }
    Design.ReferencePartners jig = study.design().reference().get();
    List<ReducedRun> own =
        runs.stream()
            .filter(r -> r.run().cell().equals(jig.cell()) && !r.run().board().equals(jig.board()))
            .toList();
    List<String> limits = new BoardsAlone(study, own).limits();
    if (limits.isEmpty()) {
      return Optional.empty();
    }
    ClaimRequest claim = study.claim();
    return Optional.of(
        "Boards on the "
            + (jig.dummyBridge() ? "dummy bridge " : "reference cell ")
            + jig.cell()
            + ", each limit for "
            + Numbers.percent(claim.content())
            + " % of boards with "
            + Numbers.percent(claim.confidence())
            + " % confidence: "
            + String.join("; ", limits)
            + ".");
  }

  private List<String> limits() {
    List<String> limits = new ArrayList<>();
    double nominal = study.kit().defaultFactorCountsPerKilogram();
    limit(Characteristic.FACTOR, counts -> 100 * (counts / nominal - 1), true)
        .ifPresent(
            percent -> limits.add(text("gain within ±%.3g %% of the default factor", percent)));
    limit(Characteristic.ZERO, value -> value, true)
        .ifPresent(value -> limits.add(text("offset within ±%.3g mV/V", value)));
    OptionalDouble noise = limit(Characteristic.NOISE, value -> value, false);
    noise.ifPresent(grams -> limits.add(text("noise of a sample up to %.3g g rms", grams)));
    if (noise.isPresent() && noise.getAsDouble() > 0) {
      double parts = 1000 * study.kit().capacityKilograms() / (PEAK_TO_PEAK * noise.getAsDouble());
      limits.add(
          text("resolution free of noise %.3g parts of the capacity", parts)
              + text(" (%.1f bits)", Math.log(parts) / Math.log(2)));
    }
    return limits;
  }

  private static String text(String format, double value) {
    return String.format(Locale.ROOT, format, value);
  }

  /** Limit about zero, or the upper limit; empty where too few runs show it. */
  private OptionalDouble limit(
      Characteristic characteristic, DoubleUnaryOperator scale, boolean aboutZero) {
    MeasuredValues shown = new StudySpread(study).values(characteristic, runs);
    if (shown.values().size() < 2) {
      return OptionalDouble.empty();
    }
    MeasuredValues values =
        new MeasuredValues(
            shown.key(),
            shown.title(),
            shown.unit(),
            shown.values().stream().map(scale::applyAsDouble).toList(),
            Map.copyOf(shown.labels()));
    FactorPlan plan = FactorPlan.of(values);
    if (!(ErrorModel.fit(values, plan, Optional.empty()) instanceof ComponentsFit fit)) {
      return OptionalDouble.empty();
    }
    FutureUnitLimits limits =
        FutureUnitLimits.ofSum(
            List.of(
                new FutureUnitLimits.Part(
                    fit, plan.finestFirst(), ClaimWeights.of(study, plan, values))),
            0,
            study.claim().content(),
            study.claim().confidence());
    double tested =
        values.values().stream()
            .mapToDouble(value -> aboutZero ? Math.abs(value) : value)
            .max()
            .orElseThrow();
    return OptionalDouble.of(
        Math.max(tested, aboutZero ? limits.symmetricHalfWidth() : limits.upper()));
  }
}
