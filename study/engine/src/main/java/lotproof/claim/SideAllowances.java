package lotproof.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import lotproof.claim.LevelOutcome.Remark;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands.SideAllowance;
import lotproof.model.ClaimWeights;
import lotproof.model.ErrorModel;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.SideEffects;
import lotproof.spread.StudySpread;
import lotproof.spread.TestedKits;
import lotproof.study.ClaimRequest;
import lotproof.study.SideTest;
import lotproof.study.SideTest.Effect;
import lotproof.study.Study;

/**
 * What the side tests of a study add to every figure, and what they cannot say.
 *
 * <p>The effects of one run are a curve over its steps, and go the way of an error curve: mixed
 * model at each step, a bound over all steps together, and the largest tested effect; the largest
 * counts. Effects that grow with the load are taken at the study's largest load. The allowance is
 * added to the figure in full and not in squares: a scale that stands crooked or bears a load for
 * long does so at every reading, and how an effect goes with the error of the load run is not known
 * where few kits were tested for both. For two normal quantities the sum of two limits of the same
 * content is never below the limit of their sum, whatever their correlation; beyond that it is a
 * construction, of which docs/guarantees.md holds a simulation.
 *
 * @param gaps side tests that add nothing and cover nothing
 */
record SideAllowances(List<SideAllowance> measured, List<Remark> gaps) {
  SideAllowances {
    measured = List.copyOf(measured);
    gaps = List.copyOf(gaps);
  }

  /** The allowances of a study. */
  static SideAllowances of(Study study, List<LoadRun> runs) {
    List<SideAllowance> measured = new ArrayList<>();
    List<Remark> gaps = new ArrayList<>();
    double largestLoad = Collections.max(study.design().loadsKilograms());
    for (SideTest test : study.design().sideTests()) {
      if (study.claim().subject() == ClaimRequest.Subject.BOARD && test.effect() != Effect.DRIFT) {
        continue; // off-centre loads and creep are of the cell
      }
      SideEffects effects = new SideEffects(test, study.kit(), largestLoad);
      List<ErrorCurve> curves =
          runs.stream()
              .filter(run -> test.holds(run.name()))
              .flatMap(run -> effects.curve(run).stream())
              .toList();
      if (curves.size() < 2) {
        gaps.add(new Remark.SideTestTooSmall(test.effect(), curves.size()));
        continue;
      }
      allowance(study, test, ErrorsInClaimForm.of(curves, study.claim().form()))
          .ifPresentOrElse(
              measured::add, () -> gaps.add(new Remark.SideTestNotFitted(test.effect())));
    }
    return new SideAllowances(measured, gaps);
  }

  private static Optional<SideAllowance> allowance(
      Study study, SideTest test, ErrorsInClaimForm judged) {
    MeasuredValues largest = new StudySpread(study).errors(judged.curves(), judged.largest());
    double tested = Collections.max(judged.largest());
    int runs = judged.curves().size();
    // on a jig, where all share the partner, the units of the other kind are the kits
    int kits = TestedKits.of(largest.withoutSharedPartner()).disjoint().size();
    if (judged.size() == 0) {
      return Optional.of(new SideAllowance(test, 0, 0, 0, runs, kits, false));
    }
    FactorPlan plan = FactorPlan.of(largest);
    ModelPart part = ModelPart.ofAll(largest, plan, ClaimWeights.of(study, plan, largest));
    boolean fewLots = part.hasFewLots();
    ModelPart fitted = fewLots ? part.withoutLots(ClaimRequest.Subject.KIT) : part;
    if (!(ErrorModel.fit(List.of(fitted), judged.values(), Optional.empty())
        instanceof ErrorModel.Outcome.Fitted found)) {
      return Optional.empty();
    }
    double bound = found.model().boundGrams(study.claim().content(), study.claim().confidence());
    return Optional.of(
        new SideAllowance(test, Math.max(bound, tested), bound, tested, runs, kits, fewLots));
  }
}
