package lotproof.claim;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.DoubleStream;
import lotproof.claim.FigureDetail.ConfidencePoint;
import lotproof.claim.FigureDetail.ContentPoint;
import lotproof.model.ReferencePartners.VirtualKits;
import lotproof.statistics.summary.Summary;
import lotproof.statistics.tolerance.DistributionFree;

/**
 * Curves and limits beside a figure, all from the fits that the figure came from: nothing is fitted
 * again, the bounds are evaluated at other contents and confidences.
 *
 * @param normal whether nothing says that the errors are not normal in shape
 */
record FigureDiagnostics(FigureCalculator.Computed.Found found, boolean normal) {
  private static final double[] CONFIDENCES = {
    0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.925, 0.95, 0.975, 0.99, 0.995, 0.999
  };
  private static final double[] CONTENTS = {
    0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.925, 0.95, 0.975, 0.99, 0.995
  };

  private static final double[] GRID = {0.8, 0.9, 0.95, 0.99};

  FigureDetail detail() {
    FigureEvidence evidence = found.evidence();
    double content = evidence.content();
    double confidence = evidence.confidence();
    double guards = found.guardGrams();
    double[] disjoint = evidence.ascending(evidence.tested().disjoint());
    double[] tested =
        evidence
            .virtual()
            .map(VirtualKits::largest)
            .orElseGet(
                () ->
                    evidence.tested().first().stream()
                        .mapToDouble(evidence.largest().values()::get)
                        .toArray());
    return new FigureDetail(
        Summary.median(tested),
        with(CONFIDENCES, confidence)
            .mapToObj(
                c -> {
                  double bound = found.model().boundGrams(content, c);
                  return new ConfidencePoint(
                      bound + guards, c, testedConfidence(disjoint, bound, content));
                })
            .toList(),
        with(CONTENTS, content)
            .mapToObj(
                c -> {
                  double bound = found.model().boundGrams(c, confidence);
                  OptionalInt rank =
                      disjoint.length == 0
                          ? OptionalInt.empty()
                          : DistributionFree.rankFromEnd(disjoint.length, c, confidence);
                  return new ContentPoint(
                      c,
                      bound + guards,
                      rank.isPresent()
                          ? OptionalDouble.of(disjoint[disjoint.length - rank.getAsInt()] + guards)
                          : OptionalDouble.empty());
                })
            .toList(),
        grid(),
        new ErrorBudget(found).lines(),
        new LeaveOneOut(found).mostInfluential(),
        FigureChange.sum(found.outcome(), evidence.judged().form(), content));
  }

  private List<FigureDetail.GridPoint> grid() {
    LevelOutcome.Tested tested = found.outcome().tested();
    FigureEvidence evidence = found.evidence();
    return with(GRID, evidence.content())
        .boxed()
        .flatMap(
            content ->
                with(GRID, evidence.confidence())
                    .mapToObj(
                        confidence ->
                            new FigureDetail.GridPoint(
                                content,
                                confidence,
                                normal
                                        || content
                                            <= DistributionFree.contentOfExtreme(
                                                tested.disjointKits(), confidence)
                                    ? OptionalDouble.of(limit(content, confidence))
                                    : OptionalDouble.empty())))
        .toList();
  }

  private double limit(double content, double confidence) {
    double model = found.model().boundGrams(content, confidence);
    return Math.max(model, found.outcome().tested().largestGrams()) + found.guardGrams();
  }

  /** Confidence, by kits that share no unit, that the content lies within so many grams. */
  private static double testedConfidence(double[] disjoint, double grams, double content) {
    int n = disjoint.length;
    int below = (int) Arrays.stream(disjoint).filter(largest -> largest <= grams).count();
    return below == 0 ? 0 : DistributionFree.confidenceOfRank(n, content, n - below + 1);
  }

  /** The values with one more among them, ascending and each once. */
  private static DoubleStream with(double[] values, double asked) {
    return DoubleStream.concat(Arrays.stream(values), DoubleStream.of(asked)).distinct().sorted();
  }

  /** Confidence of the model that the content lies within a figure; 0 below the curve. */
  static double confidenceAt(List<ConfidencePoint> curve, double grams) {
    return between(curve.stream().map(p -> new double[] {p.grams(), p.byModel()}).toList(), grams);
  }

  /** Content that a figure supports; 0 below the curve. */
  static double contentAt(List<ContentPoint> curve, double grams) {
    return between(
        curve.stream().map(p -> new double[] {p.byModelGrams(), p.content()}).toList(), grams);
  }

  /** Between the points of a curve in straight lines of the log odds; beyond it its end. */
  private static double between(List<double[]> curve, double grams) {
    if (grams < curve.get(0)[0]) {
      return 0;
    }
    for (int i = 1; i < curve.size(); i++) {
      double[] from = curve.get(i - 1);
      double[] to = curve.get(i);
      if (grams < to[0]) {
        double share = (grams - from[0]) / (to[0] - from[0]);
        double low = Math.log(from[1] / (1 - from[1]));
        double high = Math.log(to[1] / (1 - to[1]));
        return 1 / (1 + Math.exp(-(low + share * (high - low))));
      }
    }
    return curve.get(curve.size() - 1)[1];
  }
}
