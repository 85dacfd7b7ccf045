package lotproof.claim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Supplier;
import java.util.stream.DoubleStream;
import lotproof.claim.FigureDetail.ConfidencePoint;
import lotproof.claim.FigureDetail.ContentPoint;
import lotproof.claim.FigureDetail.GuaranteedLimit;
import lotproof.model.ReferencePartners.VirtualKits;
import lotproof.model.Role;
import lotproof.spread.TestedKits;
import lotproof.statistics.summary.Summary;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;
import lotproof.work.Parallel;

/**
 * Curves and limits beside a figure, all from the fits that the figure came from: nothing is fitted
 * again, the bounds are evaluated at other contents and confidences.
 */
final class FigureDiagnostics {
  private static final double[] CONFIDENCES = {
    0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.925, 0.95, 0.975, 0.99, 0.995, 0.999
  };
  private static final double[] CONTENTS = {
    0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.925, 0.95, 0.975, 0.99, 0.995
  };

  /** Standard deviations of the test's repeatability in the guard band of a guaranteed limit. */
  private static final double COVERAGE = 2;

  private final Study study;
  private final FigureCalculator.Computed.Found found;
  private final double[] testedAscending;
  private final double[] disjointAscending;

  FigureDiagnostics(Study study, FigureCalculator.Computed.Found found) {
    this.study = study;
    this.found = found;
    FigureEvidence evidence = found.evidence();
    List<Double> largest = evidence.largest().values();
    TestedKits kits = evidence.tested(study.claim().subject());
    boolean tested = evidence.hasTested(study.claim().subject());
    this.testedAscending =
        evidence
            .virtual()
            .map(VirtualKits::largest)
            .orElseGet(() -> kits.first().stream().mapToDouble(largest::get).sorted().toArray());
    this.disjointAscending =
        tested
            ? kits.disjoint().stream().mapToDouble(largest::get).sorted().toArray()
            : new double[0];
  }

  FigureDetail detail() {
    ClaimRequest claim = study.claim();
    Supplier<List<ConfidencePoint>> confidences = Parallel.begin(() -> confidenceCurve(claim));
    Supplier<List<ContentPoint>> contents = Parallel.begin(() -> contentCurve(claim));
    List<FigureDetail.LeftOut> leftOut = new LeaveOneOut(study, found).mostInfluential();
    return new FigureDetail(
        limitKinds(),
        confidences.get(),
        contents.get(),
        new ErrorBudget(study, found).lines(),
        leftOut);
  }

  private double guards() {
    return found.evidence().guards().totalGrams();
  }

  private List<ConfidencePoint> confidenceCurve(ClaimRequest claim) {
    List<ConfidencePoint> curve = new ArrayList<>();
    for (double confidence : with(CONFIDENCES, claim.confidence())) {
      double bound = found.model().boundGrams(claim.content(), confidence);
      curve.add(
          new ConfidencePoint(
              bound + guards(), confidence, testedConfidence(bound, claim.content())));
    }
    return curve;
  }

  /** Confidence, by kits that share no unit, that the content lies within so many grams. */
  private double testedConfidence(double grams, double content) {
    int n = disjointAscending.length;
    int below = 0;
    while (below < n && disjointAscending[below] <= grams) {
      below++;
    }
    return below == 0 ? 0 : DistributionFree.confidenceOfRank(n, content, n - below + 1);
  }

  private List<ContentPoint> contentCurve(ClaimRequest claim) {
    List<ContentPoint> curve = new ArrayList<>();
    for (double content : with(CONTENTS, claim.content())) {
      double bound = found.model().boundGrams(content, claim.confidence());
      curve.add(new ContentPoint(content, bound + guards(), testedGrams(content)));
    }
    return curve;
  }

  private OptionalDouble testedGrams(double content) {
    int n = disjointAscending.length;
    if (n == 0) {
      return OptionalDouble.empty();
    }
    OptionalInt rank = DistributionFree.rankFromEnd(n, content, study.claim().confidence());
    return rank.isPresent()
        ? OptionalDouble.of(disjointAscending[n - rank.getAsInt()] + guards())
        : OptionalDouble.empty();
  }

  /** The values with one more among them, ascending and each once. */
  private static double[] with(double[] values, double asked) {
    return DoubleStream.concat(Arrays.stream(values), DoubleStream.of(asked))
        .distinct()
        .sorted()
        .toArray();
  }

  private FigureDetail.LimitKinds limitKinds() {
    double typical = Summary.median(testedAscending);
    return new FigureDetail.LimitKinds(typical, found.outcome().limitGrams(), guaranteed());
  }

  /**
   * Acceptance at the content quantile as estimated, so that the rejected share is the rest of the
   * content; guard band: all that is added to the figure, and twice the repeatability of a test.
   */
  private GuaranteedLimit guaranteed() {
    List<Role> roles = found.model().roles();
    // of units of one kind on one partner the residual is what a repeat changes
    boolean oneKind =
        roles.contains(Role.CELL) != roles.contains(Role.BOARD) && roles.contains(Role.RESIDUAL);
    boolean repeated = roles.contains(Role.PAIR) || roles.contains(Role.KIT) || oneKind;
    if (!repeated) {
      return new GuaranteedLimit.NotKnown();
    }
    double repeatability = 0;
    for (LevelOutcome.PointLimit point : found.outcome().points()) {
      double weight = study.claim().form().weight(point.loadKilograms());
      for (LevelOutcome.Contribution contribution : point.contributions()) {
        if (contribution.role() == Role.RESIDUAL) {
          repeatability = Math.max(repeatability, contribution.standardDeviationGrams() / weight);
        }
      }
    }
    double content = study.claim().content();
    double acceptance = found.model().asEstimatedGrams(content);
    double guard = guards() + COVERAGE * repeatability;
    return new GuaranteedLimit.Known(acceptance + guard, acceptance, guard, content);
  }

  /**
   * Confidence of the model that the content lies within a figure, between the points of the curve
   * in straight lines of the log odds; the ends of the curve beyond them.
   */
  static double confidenceAt(List<ConfidencePoint> curve, double grams) {
    if (grams <= curve.get(0).grams()) {
      return grams == curve.get(0).grams() ? curve.get(0).byModel() : 0;
    }
    for (int i = 1; i < curve.size(); i++) {
      ConfidencePoint from = curve.get(i - 1);
      ConfidencePoint to = curve.get(i);
      if (grams < to.grams()) {
        double share = (grams - from.grams()) / (to.grams() - from.grams());
        return between(from.byModel(), to.byModel(), share);
      }
    }
    return curve.get(curve.size() - 1).byModel();
  }

  /** Content that a figure supports, likewise; 0 below the curve. */
  static double contentAt(List<ContentPoint> curve, double grams) {
    if (grams < curve.get(0).byModelGrams()) {
      return 0;
    }
    for (int i = 1; i < curve.size(); i++) {
      ContentPoint from = curve.get(i - 1);
      ContentPoint to = curve.get(i);
      if (grams < to.byModelGrams()) {
        double share = (grams - from.byModelGrams()) / (to.byModelGrams() - from.byModelGrams());
        return between(from.content(), to.content(), share);
      }
    }
    return curve.get(curve.size() - 1).content();
  }

  private static double between(double from, double to, double share) {
    double low = Math.log(from / (1 - from));
    double high = Math.log(to / (1 - to));
    return 1 / (1 + Math.exp(-(low + share * (high - low))));
  }
}
