package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.Refusal;
import lotproof.model.ErrorModel;
import lotproof.model.FactorPlan;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.SideTest;

/** The figure of one calibration level, or the reason why there is none. */
public sealed interface LevelOutcome {

  /**
   * The study supports a figure. Grams are those of the claim's form: plus or minus so much, or the
   * constant part of "share of reading + constant".
   *
   * @param printableGrams the printable figure: {@code limitGrams} rounded outward to the study's
   *     step
   * @param limitGrams the larger of model and tested kits, plus the guard bands
   * @param modelGrams bound by the model of normal components, over all loads together
   * @param guards what is added to the bound for any kit
   * @param withinTheseLotsGrams the figure for these lots only, rounded outward, when lots are few
   *     or their spread is assumed
   * @param worstPoint index into {@code points} of the widest model limit
   */
  record Figure(
      double printableGrams,
      double limitGrams,
      double fractionOfCapacity,
      double modelGrams,
      Tested tested,
      GuardBands guards,
      OptionalDouble withinTheseLotsGrams,
      List<PointLimit> points,
      int worstPoint,
      Explanation explanation,
      List<Remark> remarks)
      implements LevelOutcome {
    public Figure {
      points = List.copyOf(points);
      remarks = List.copyOf(remarks);
    }

    /** The same figure with one more thing to know. */
    Figure with(Remark remark) {
      List<Remark> all = new ArrayList<>(remarks);
      all.add(remark);
      return new Figure(
          printableGrams,
          limitGrams,
          fractionOfCapacity,
          modelGrams,
          tested,
          guards,
          withinTheseLotsGrams,
          points,
          worstPoint,
          explanation,
          all);
    }

    /** Limits at the load where the model's is widest. */
    public PointLimit worst() {
      return points.get(worstPoint);
    }
  }

  /**
   * What the tested kits say without a model.
   *
   * @param largestGrams largest error over the tested kits and loads, or the K-th largest over
   *     virtual kits; 0 with no tested kits where a claim is for a cell or a board alone
   * @param confidence confidence that the asked content lies within that
   * @param contentFraction content that the tested kits alone support at the asked confidence
   * @param measured units that the claim is about, in kits or alone; of kits the same as {@code
   *     kits}
   */
  record Tested(
      double largestGrams,
      double confidence,
      double contentFraction,
      int kits,
      int disjointKits,
      int measured) {}

  /** The study supports no figure at this level. */
  record NoFigure(Refusal why) implements LevelOutcome {}

  /** What the reader of a figure must know. */
  sealed interface Remark {
    /** No kit was measured; the bound without a model is one of virtual kits, from the top. */
    record VirtualKits(int rank, int kits) implements Remark {}

    /**
     * The claim is for units alone, and no tested kit bounds the figure without a model.
     *
     * @param units how many of them were measured
     * @param kits in how many kits
     */
    record ModelOnly(int units, int kits) implements Remark {}

    /**
     * The figure is for units alone and wider than that for the kits that they are a part of.
     *
     * @param kitsGrams what the same runs give for kits, rounded outward
     * @param loadKilograms the load where the units' model limit is widest
     * @param own what is known of the units there
     * @param kits what is known of kits there
     */
    record WiderThanKits(
        Cause cause,
        double kitsGrams,
        double loadKilograms,
        Direction direction,
        KnownSpread own,
        KnownSpread kits)
        implements Remark {
      /** What does most to make it wider. */
      public enum Cause {
        /** On one partner for all, its own error is in every reading, and in no kit. */
        PARTNER,
        /** The largest tested unit counts; of kits, one further from the top of virtual kits. */
        LARGEST_TESTED,
        /** The runs say less surely how units spread than how kits do. */
        UNCERTAINTY
      }
    }

    /** A limit on one side depends more on normality. */
    record OneSided() implements Remark {}

    /** Lots widen the figure this many times, because they are few or assumed. */
    record LotsWiden(double ratio) implements Remark {}

    /** A supplementary test has too few runs. */
    record SideTestTooSmall(SideTest.Effect effect, int runs) implements Remark {}

    /** The runs of a supplementary test cannot be fitted. */
    record SideTestNotFitted(SideTest.Effect effect) implements Remark {}

    /** A factor that the model leaves out. */
    record LeftOut(FactorPlan.Note note) implements Remark {}
  }

  /**
   * Mean and spread at one load, in grams at the load.
   *
   * @param countedGrams the standard deviation that the bound counts with, because mean and spread
   *     are not known better
   */
  record KnownSpread(double meanGrams, double standardDeviationGrams, double countedGrams) {}

  /**
   * Errors at one load, rising or falling.
   *
   * @param meanGrams estimated mean error of all kits
   * @param totalStandardDeviationGrams standard deviation of a future kit's error
   * @param withinGrams a future kit's error lies within plus or minus this, at the asked content
   *     and confidence
   * @param figureGrams {@code withinGrams} divided by the form's weight at the load, so that it
   *     compares with the figure
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
        ErrorModel model, ErrorsInClaimForm judged, double content, double confidence) {
      return IntStream.range(0, model.points())
          .mapToObj(p -> of(model, judged, p, model.limits(p, content, confidence)))
          .toList();
    }

    private static PointLimit of(
        ErrorModel model, ErrorsInClaimForm judged, int p, FutureUnitLimits limits) {
      ErrorCurve.Point where = judged.place(p);
      double weight = judged.weight(p);
      double variance = model.sources(p).stream().mapToDouble(ErrorModel.Source::variance).sum();
      return new PointLimit(
          where.loadKilograms(),
          where.direction(),
          judged.form().sign() * weight * limits.mean(),
          weight * Math.sqrt(variance),
          weight * model.counted(limits),
          model.counted(limits),
          weight * Math.max(0, model.largestAt(p)),
          Contribution.of(model, judged, p));
    }
  }

  /** One source of error at one load. */
  record Contribution(Role role, String title, double standardDeviationGrams) {
    /** All sources of a model at a point, in grams at the load, coarsest first. */
    private static List<Contribution> of(ErrorModel model, ErrorsInClaimForm judged, int point) {
      double weight = judged.weight(point);
      return model.sources(point).stream()
          .map(s -> new Contribution(s.role(), s.title(), weight * Math.sqrt(s.fitted())))
          .toList();
    }
  }
}
