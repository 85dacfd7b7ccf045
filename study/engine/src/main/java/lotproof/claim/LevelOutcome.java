package lotproof.claim;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.reduce.Direction;
import lotproof.spread.Role;

/** The figure of one calibration level, or the reason why there is none. */
public sealed interface LevelOutcome {

  /**
   * The study supports a figure.
   *
   * @param safestGrams the figure: {@code boundGrams} rounded outward to the study's step
   * @param boundGrams smallest supported figure before rounding: the larger of the two bounds plus
   *     the guard bands
   * @param fractionOfCapacity the figure as a fraction of rated capacity
   * @param modelGrams bound by the model of normal components, over all loads together
   * @param distributionFreeGrams largest size of error over the tested kits and loads
   * @param distributionFreeConfidence confidence that the asked content lies within that, without a
   *     model
   * @param supportedContentFraction content that the tested kits alone support at the asked
   *     confidence
   * @param testedKits kits behind the distribution-free bound
   * @param disjointKits how many of them share no unit
   * @param benchMassGrams guard band for the bench's reference masses
   * @param buyerMassGrams guard band for the buyer's calibration masses
   * @param withinTheseLotsGrams the figure for these lots only, rounded outward, when lots are few
   * @param points limits load by load
   * @param worstPoint index into {@code points} of the widest model limit
   * @param explanation the figure with everything behind it
   * @param remarks what the reader must know, in sentences
   */
  record Figure(
      double safestGrams,
      double boundGrams,
      double fractionOfCapacity,
      double modelGrams,
      double distributionFreeGrams,
      double distributionFreeConfidence,
      double supportedContentFraction,
      int testedKits,
      int disjointKits,
      double benchMassGrams,
      double buyerMassGrams,
      OptionalDouble withinTheseLotsGrams,
      List<PointLimit> points,
      int worstPoint,
      Explanation explanation,
      List<String> remarks)
      implements LevelOutcome {
    public Figure {
      points = List.copyOf(points);
      remarks = List.copyOf(remarks);
    }
  }

  /**
   * The study supports no figure at this level.
   *
   * @param reason why, in a sentence
   */
  record NoFigure(String reason) implements LevelOutcome {}

  /**
   * Errors at one load, rising or falling.
   *
   * @param loadKilograms the load
   * @param direction rising or falling
   * @param meanGrams estimated mean error of all kits
   * @param totalStandardDeviationGrams standard deviation of a future kit's error
   * @param withinGrams a future kit's error lies within plus or minus this, at the asked content
   *     and confidence
   * @param largestGrams largest size of error over the tested kits
   * @param contributions standard deviation by source, coarsest first
   */
  record PointLimit(
      double loadKilograms,
      Direction direction,
      double meanGrams,
      double totalStandardDeviationGrams,
      double withinGrams,
      double largestGrams,
      List<Contribution> contributions) {
    public PointLimit {
      contributions = List.copyOf(contributions);
    }
  }

  /**
   * One source of error at one load.
   *
   * @param role the source
   * @param title its name for people
   * @param standardDeviationGrams its standard deviation
   */
  record Contribution(Role role, String title, double standardDeviationGrams) {}
}
