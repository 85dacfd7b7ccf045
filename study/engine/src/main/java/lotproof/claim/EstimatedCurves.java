package lotproof.claim;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands;
import lotproof.model.ErrorModel;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;

/**
 * What a study has found of the error curves of kits at one calibration level, in the claim's form,
 * so that a study of the same kind can be simulated.
 *
 * @param places the points that count
 * @param worst index of the point with the widest bound
 * @param covariances for each role its covariance over the points; empty where kits were put
 *     together from halves on reference partners, whose bench error counts twice
 * @param guardGrams what is added to every bound, the error of reference partners and a drift of
 *     the bench left out
 */
@SuppressWarnings("ArrayRecordComponent") // compared by no one
public record EstimatedCurves(
    List<ErrorCurve.Point> places,
    int worst,
    double[] means,
    Optional<Map<Role, double[][]>> covariances,
    List<LevelOutcome.Contribution> atWorst,
    double guardGrams) {
  public EstimatedCurves {
    places = List.copyOf(places);
    atWorst = List.copyOf(atWorst);
  }

  static EstimatedCurves of(FigureCalculator.Computed.Found found) {
    ErrorModel model = found.model();
    LevelOutcome.Figure figure = found.outcome();
    GuardBands guards = found.evidence().guards();
    ErrorsInClaimForm judged = found.evidence().judged();
    return new EstimatedCurves(
        IntStream.range(0, judged.size()).mapToObj(judged::place).toList(),
        figure.worstPoint(),
        model.means(),
        model.isSum() ? Optional.empty() : Optional.of(model.covariances()),
        figure.worst().contributions(),
        guards.totalGrams()
            - guards.of(GuardBands.Kind.REFERENCE)
            - guards.of(GuardBands.Kind.DRIFT));
  }

  /** Variance of each role at the worst point, g². */
  public Map<Role, Double> variancesAtWorst() {
    Map<Role, Double> variances = new EnumMap<>(Role.class);
    for (LevelOutcome.Contribution c : atWorst) {
      variances.put(c.role(), c.standardDeviationGrams() * c.standardDeviationGrams());
    }
    return variances;
  }
}
