package lotproof.claim.upkeep;

import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.upkeep.ProductionTest.CannotProtect;
import lotproof.claim.upkeep.ProductionTest.Why;
import lotproof.statistics.summary.Summary;

/**
 * What the tests of finished kits and of units on a jig have in common: the study's errors, what
 * production reads and how well, and the figure to protect.
 *
 * @param figureGrams the figure to protect
 * @param addedGrams what the figure adds for any kit
 */
record PlannedTest(
    ProductionReadings errors, LimitOptions options, double figureGrams, double addedGrams) {

  /** The figure less what it adds for any kit. */
  double roomGrams() {
    return figureGrams - addedGrams;
  }

  /** Points that production reads. */
  List<Integer> tested() {
    return IntStream.range(0, errors.points().size())
        .filter(
            i ->
                errors.sameReading()
                    || Summary.sd(errors.readings().at(i)) > ErrorsInClaimForm.FIXED_POINT_GRAMS)
        .filter(
            i -> {
              PointLimit point = errors.points().get(i);
              return options.reads(point.loadKilograms(), point.direction());
            })
        .boxed()
        .toList();
  }

  /** The probability at each load with which a kit keeps the figure at all of them (Bonferroni). */
  double perLoad() {
    return 1 - (1 - options.conformity()) / errors.points().size();
  }

  /** The standard normal quantile that leaves the rest of that outside what counts. */
  double quantile() {
    return errors.quantile(perLoad());
  }

  /** Standard uncertainty of one reading of the tester at a point: as stated, or as the bench's. */
  double tester(int point) {
    return options.testerUncertaintyGrams().isPresent()
        ? options.testerUncertaintyGrams().getAsDouble() / errors.weight(point)
        : Math.max(1e-6, errors.repeat(point));
  }

  /** Why no test protects the figure, whatever its kind. */
  Optional<CannotProtect> blocked() {
    if (options.testerUncertaintyGrams().isEmpty() && !errors.repeatability().isKnown()) {
      return why(
          new Why.RepeatabilityNotKnown(
              errors.repeatability().degreesOfFreedom(), Repeatability.NEEDED));
    }
    if (tested().isEmpty()) {
      return why(
          new Why.NoTestedLoad(
              errors.points().stream().map(PointLimit::loadKilograms).distinct().toList()));
    }
    return roomGrams() > 0 ? Optional.empty() : why(new Why.NothingLeft(addedGrams));
  }

  private static Optional<CannotProtect> why(Why why) {
    return Optional.of(new CannotProtect(why));
  }

  /** Why a load that leaves nothing cannot be protected. */
  CannotProtect noRoom(int at, double offsetGrams, double allowanceGrams, boolean predicted) {
    PointLimit point = errors.points().get(at);
    return new CannotProtect(
        new Why.NoRoom(
            point.loadKilograms(),
            point.direction(),
            offsetGrams,
            addedGrams,
            allowanceGrams,
            predicted));
  }
}
