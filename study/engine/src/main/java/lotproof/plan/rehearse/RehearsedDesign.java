package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.model.CurveValues;
import lotproof.model.ErrorModel;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.model.ReferencePartners;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.FutureUnitLimits;

/**
 * A planned study with the model that the claim would fit to its runs. Fits start from what is
 * taken to be true.
 */
final class RehearsedDesign {
  /**
   * A point whose total variance is below this share of the largest, and whose bound is expected to
   * stay below half of the widest, decides no figure and is not fitted; the model widens its bound
   * over all points together by what it finds at points from a quarter on.
   */
  private static final double LEAST_VARIANCE_SHARE = 1 / 6.0;

  private static final double LEAST_BOUND_SHARE = 0.5;

  /** Fits end within a fifth of a standard error of the top. */
  private static final double NEAR_ENOUGH = 0.04;

  private final List<ModelPart> parts;
  private final Optional<ReferencePartners> partners;
  private final PlannedClaim question;
  private final int[] points;

  /** For each part and point what the fit would be if it hit the truth. */
  private final List<List<ComponentsFit>> expected;

  private RehearsedDesign(
      List<ModelPart> parts,
      Optional<ReferencePartners> partners,
      PlannedClaim question,
      List<List<ComponentsFit>> expected) {
    this.parts = parts;
    this.partners = partners;
    this.question = question;
    this.expected = expected;
    double[] limits = new double[expected.get(0).size()];
    double[] variances = new double[limits.length];
    for (int p = 0; p < limits.length; p++) {
      FutureUnitLimits ifTrue = limits(p);
      limits[p] = ifTrue.symmetricHalfWidth();
      variances[p] = ifTrue.totalSd() * ifTrue.totalSd();
    }
    double widest = LEAST_BOUND_SHARE * Arrays.stream(limits).max().orElse(0);
    double largest = LEAST_VARIANCE_SHARE * Arrays.stream(variances).max().orElse(0);
    this.points =
        IntStream.range(0, limits.length)
            .filter(p -> limits[p] >= widest || variances[p] >= largest)
            .toArray();
  }

  /** A design, or why it can support no figure. */
  sealed interface Outcome {
    /** It can be rehearsed. */
    record Ready(RehearsedDesign design) implements Outcome {}

    /** It cannot. */
    record Not(String reason) implements Outcome {}
  }

  static Outcome of(Rehearsal.Planned planned) {
    MeasuredValues labelled = DesignModel.labelled(planned.layout());
    if (planned.partners().isEmpty()) {
      DesignModel model = DesignModel.of(planned.layout());
      List<ModelPart> all = List.of(ModelPart.ofAll(labelled, model.plan(), ComponentWeights.ALL));
      return of(all, Optional.empty(), planned);
    }
    ReferencePartners.Outcome outcome =
        ReferencePartners.of(
            planned.partners().get(), labelled, (plan, values) -> ComponentWeights.ALL);
    return outcome instanceof ReferencePartners.Outcome.Joined joined
        ? of(joined.partners().halves(), Optional.of(joined.partners()), planned)
        : new Outcome.Not(
            "the reference pair has to be measured at least twice, and at least two cells and two"
                + " boards have to meet it");
  }

  private static Outcome of(
      List<ModelPart> parts, Optional<ReferencePartners> partners, Rehearsal.Planned planned) {
    List<List<ComponentsFit>> expected = new ArrayList<>();
    for (ModelPart part : parts) {
      DesignModel model = new DesignModel(part.labelled(), part.plan());
      List<ComponentsFit> fits = new ArrayList<>();
      for (int p = 0; p < planned.curves().points(); p++) {
        Optional<ComponentsFit> found = model.expected(planned.curves(), p);
        if (found.isEmpty()) {
          return new Outcome.Not("its runs cannot tell the spreads of the units apart");
        }
        fits.add(found.get());
      }
      expected.add(fits);
    }
    return new Outcome.Ready(new RehearsedDesign(parts, partners, planned.question(), expected));
  }

  /** The limits at a point if all estimates hit the truth. */
  private FutureUnitLimits limits(int point) {
    List<FutureUnitLimits.Part> all = new ArrayList<>();
    for (int h = 0; h < parts.size(); h++) {
      ComponentsFit fit = expected.get(h).get(point);
      all.add(new FutureUnitLimits.Part(fit, parts.get(h).weights()));
    }
    // the mean stands in each part
    double shift = -(parts.size() - 1) * all.get(0).fit().mean();
    return FutureUnitLimits.ofSum(all, shift, question.content(), question.confidence());
  }

  /** The bound before the masses, g; infinite when there is none. */
  double bound(double[][] byPoint) {
    if (partners.isEmpty()) {
      CurveValues values = new CurveValues(byPoint, true);
      return Math.max(values.largest(), ofModel(values));
    }
    ReferencePartners.VirtualKits kits = partners.get().kits(byPoint, true);
    return kits.guardGrams() + Math.max(kits.boundGrams(), ofModel(kits.values()));
  }

  private double ofModel(CurveValues values) {
    CurveValues decisive = values.at(points);
    ErrorModel.Outcome outcome = ErrorModel.fit(parts, decisive, Optional.of(new FromTruth()));
    if (!(outcome instanceof ErrorModel.Outcome.Fitted)) {
      outcome = ErrorModel.fit(parts, decisive, Optional.empty());
    }
    return outcome instanceof ErrorModel.Outcome.Fitted fitted
        ? fitted.model().boundGrams(question.content(), question.confidence())
        : Double.POSITIVE_INFINITY;
  }

  private final class FromTruth implements ErrorModel.Start {
    @Override
    public FitOptions of(int point, int half, List<ComponentsFit> before) {
      ComponentsFit truth = expected.get(half).get(points[point]);
      if (before.isEmpty()) {
        return FitOptions.REML.from(truth, truth.variances(), NEAR_ENOUGH);
      }
      // as far from the truth as at the point before
      double[] near = truth.variances();
      double[] trueBefore = expected.get(half).get(points[point - 1]).variances();
      double[] fitted = before.get(point - 1).variances();
      for (int k = 0; k < near.length; k++) {
        near[k] = trueBefore[k] > 0 ? near[k] * fitted[k] / trueBefore[k] : fitted[k];
      }
      return FitOptions.REML.from(truth, near, NEAR_ENOUGH);
    }

    @Override
    public boolean ofTheseRuns() {
      return true;
    }
  }
}
