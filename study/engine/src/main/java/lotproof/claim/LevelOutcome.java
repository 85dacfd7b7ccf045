package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.claim.premise.Assumption;
import lotproof.model.ErrorModel;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.components.FutureUnitLimits;

/** The figure of one calibration level, or the reason why there is none. */
public sealed interface LevelOutcome {

  /**
   * The study supports a figure.
   *
   * @param safestGrams the figure: {@code boundGrams} rounded outward to the study's step The
   *     number of every figure is in grams of the claim's form: plus or minus so much, or the
   *     constant part of "share of reading + constant"
   * @param boundGrams smallest supported figure before rounding: the larger of the two bounds plus
   *     the guard bands
   * @param fractionOfCapacity the figure as a fraction of rated capacity
   * @param modelGrams bound by the model of normal components, over all loads together
   * @param distributionFreeGrams largest error over the tested kits and loads, or the K-th largest
   *     over virtual kits; 0 with no tested kits where a claim is for a cell or a board alone
   * @param distributionFreeConfidence confidence that the asked content lies within that, without a
   *     model
   * @param supportedContentFraction content that the tested kits alone support at the asked
   *     confidence
   * @param testedKits kits behind the distribution-free bound
   * @param disjointKits how many of them share no unit
   * @param benchMassGrams guard band for the bench's reference masses
   * @param buyerMassGrams guard band for the buyer's calibration masses
   * @param betweenLoadsGrams guard band for loads between the tested ones; absent where the tested
   *     loads do not show the bend of the curve, and then the figure holds at the tested loads only
   * @param temperatureGrams guard band for the temperature correction; 0 without one
   * @param temperatureChangeKelvin change of temperature between calibration and use that the
   *     figure holds for; absent where calibration and use are at one temperature
   * @param referenceGrams guard band for the error of the reference pair itself; 0 where kits were
   *     measured
   * @param driftGrams what a drift of the bench may hide of how lots differ; 0 where lots can be
   *     told from time
   * @param sides allowances for effects that side tests measured
   * @param withinTheseLotsGrams the figure for these lots only, rounded outward, when lots are few
   *     or their spread is assumed
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
      OptionalDouble betweenLoadsGrams,
      double temperatureGrams,
      OptionalDouble temperatureChangeKelvin,
      double referenceGrams,
      double driftGrams,
      List<SideAllowance> sides,
      OptionalDouble withinTheseLotsGrams,
      List<PointLimit> points,
      int worstPoint,
      Explanation explanation,
      List<String> remarks)
      implements LevelOutcome {
    public Figure {
      sides = List.copyOf(sides);
      points = List.copyOf(points);
      remarks = List.copyOf(remarks);
    }

    /** Everything that is added to the bound for any kit. */
    public double guardGrams() {
      return benchMassGrams
          + buyerMassGrams
          + betweenLoadsGrams.orElse(0)
          + temperatureGrams
          + referenceGrams
          + driftGrams
          + sides.stream().mapToDouble(SideAllowance::grams).sum();
    }
  }

  /**
   * The study supports no figure at this level.
   *
   * @param reason why, in a sentence
   * @param assumption what was found against something that the figure assumes; absent where the
   *     reason is another
   */
  record NoFigure(String reason, Optional<Assumption> assumption) implements LevelOutcome {
    /** For a reason that is no assumption of the figure. */
    NoFigure(String reason) {
      this(reason, Optional.empty());
    }
  }

  /**
   * Errors at one load, rising or falling.
   *
   * @param loadKilograms the load
   * @param direction rising or falling
   * @param meanGrams estimated mean error of all kits
   * @param totalStandardDeviationGrams standard deviation of a future kit's error
   * @param withinGrams a future kit's error lies within plus or minus this, at the asked content
   *     and confidence
   * @param figureGrams {@code withinGrams} divided by the form's weight at the load, so that it
   *     compares with the figure
   * @param largestGrams largest error over the tested kits
   * @param contributions standard deviation by source, coarsest first
   */
  record PointLimit(
      double loadKilograms,
      Direction direction,
      double meanGrams,
      double totalStandardDeviationGrams,
      double withinGrams,
      double figureGrams,
      double largestGrams,
      List<Contribution> contributions) {
    public PointLimit {
      contributions = List.copyOf(contributions);
    }

    /** The limits of a model at all its points, in grams at the load. */
    static List<PointLimit> all(
        ErrorModel model, JudgedCurves judged, double content, double confidence) {
      return IntStream.range(0, model.points())
          .mapToObj(p -> of(model, judged, p, model.limits(p, content, confidence)))
          .toList();
    }

    private static PointLimit of(
        ErrorModel model, JudgedCurves judged, int p, FutureUnitLimits limits) {
      ErrorCurve.Point where = judged.place(p);
      double weight = judged.weight(p);
      double variance = model.sources(p).stream().mapToDouble(ErrorModel.Source::variance).sum();
      return new PointLimit(
          where.loadKilograms(),
          where.direction(),
          judged.sign() * weight * limits.mean(),
          weight * Math.sqrt(variance),
          weight * model.counted(limits),
          model.counted(limits),
          weight * Math.max(0, model.largestAt(p)),
          Contribution.of(model, judged, p));
    }
  }

  /**
   * One source of error at one load.
   *
   * @param role the source
   * @param title its name for people
   * @param standardDeviationGrams its standard deviation
   */
  record Contribution(Role role, String title, double standardDeviationGrams) {
    /** All sources of a model at a point, in grams at the load, coarsest first. */
    private static List<Contribution> of(ErrorModel model, JudgedCurves judged, int point) {
      double weight = judged.weight(point);
      return model.sources(point).stream()
          .map(s -> new Contribution(s.role(), s.title(), weight * Math.sqrt(s.fitted())))
          .toList();
    }
  }
}
