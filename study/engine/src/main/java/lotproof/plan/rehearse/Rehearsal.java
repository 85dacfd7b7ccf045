package lotproof.plan.rehearse;

import java.util.Arrays;
import java.util.Optional;
import java.util.function.IntConsumer;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import lotproof.model.Role;
import lotproof.plan.Draws;
import lotproof.plan.design.Layout;
import lotproof.statistics.JointNormalBound;
import lotproof.study.Design;
import lotproof.work.Parallel;

/**
 * Carries a planned study out many times on paper.
 *
 * <p>Each rehearsal draws lots, cells, boards, pairings and repeats from the assumed normal curves
 * (new ones each time), takes the errors of reading of every planned run, and forms the bound with
 * the model of the claim ({@link lotproof.model.ErrorModel}), to which guard bands are added; the
 * sum is rounded outward. Loads at which errors stay small beside the others are not fitted.
 *
 * <p>Rehearsal i draws from a stream of its own, so the result is the same for the same seed
 * whatever the number of threads.
 */
public final class Rehearsal {
  private static final double[] QUANTILES = {0.05, 0.25, 0.5, 0.75, 0.95};

  private final PlannedClaim question;
  private final SimulatedErrors errors;
  private final RehearsedDesign design;
  private final double[] means;
  private final double[][] future;
  private final boolean oneCellLot;
  private final boolean oneBoardLot;
  private final Optional<JointNormalBound> truth;

  private Rehearsal(Planned planned, RehearsedDesign design) {
    this.question = planned.question();
    this.design = design;
    this.errors = new SimulatedErrors(planned);
    this.means = planned.curves().meansGrams();
    // a reference stands in a lot of its own
    int others = planned.partners().isPresent() ? 1 : 0;
    this.oneCellLot = planned.layout().units().cellLots().size() - others == 1;
    this.oneBoardLot = planned.layout().units().boardLots().size() - others == 1;
    this.future = new double[means.length][means.length];
    for (Role source : AssumedCurves.SOURCES) {
      boolean given =
          (source == Role.CELL_LOT && oneCellLot) || (source == Role.BOARD_LOT && oneBoardLot);
      if (!given) {
        planned.curves().add(source, future);
      }
    }
    this.truth =
        oneCellLot || oneBoardLot
            ? Optional.empty()
            : Optional.of(new JointNormalBound(means, future, true));
  }

  /**
   * What is rehearsed.
   *
   * @param partners the reference partners, where no kit is measured
   */
  public record Planned(
      Layout layout,
      Optional<Design.ReferencePartners> partners,
      AssumedCurves curves,
      PlannedClaim question) {}

  /**
   * How often, with what, and who hears of it.
   *
   * @param threads how many work at once at most, 1 or more
   */
  public record Options(int times, long seed, int threads) {
    public Options {
      if (times < 1 || threads < 1) {
        throw new IllegalArgumentException(
            "times and threads must be 1 or more, were " + times + " and " + threads);
      }
    }
  }

  /** A result, or why there is none. */
  public sealed interface Outcome {
    /** The study was rehearsed. */
    record Rehearsed(RehearsalResult result) implements Outcome {}

    /** The design cannot support any figure. */
    record Not(String reason) implements Outcome {}
  }

  /**
   * Rehearses a planned study.
   *
   * @param done is told how many more rehearsals are done, from any thread
   */
  public static Outcome of(Planned planned, Options options, IntConsumer done) {
    RehearsedDesign.Outcome outcome = RehearsedDesign.of(planned);
    if (!(outcome instanceof RehearsedDesign.Outcome.Ready ready)) {
      return new Outcome.Not(((RehearsedDesign.Outcome.Not) outcome).reason());
    }
    return new Outcome.Rehearsed(new Rehearsal(planned, ready.design()).many(options, done));
  }

  /** What came of all rehearsals, each at its own index. */
  @SuppressWarnings("ArrayRecordComponent") // compared by no one
  private record Tally(
      double[] figure, double[] bound, double[] trueFigure, double[] wantedContent) {
    private Tally(int times) {
      this(new double[times], new double[times], new double[times], new double[times]);
    }
  }

  private RehearsalResult many(Options options, IntConsumer done) {
    Tally tally = new Tally(options.times());
    Parallel.map(
        IntStream.range(0, options.threads()).boxed().toList(),
        first -> {
          for (int i = first; i < options.times(); i += options.threads()) {
            one(i, Draws.of(options.seed(), i), tally);
            done.accept(1);
          }
          return first;
        });
    return result(tally);
  }

  private void one(int index, Draws draws, Tally tally) {
    SimulatedErrors.Drawn drawn = errors.draw(draws);
    JointNormalBound kits = truth.orElseGet(() -> ofTheseLots(drawn));
    tally.trueFigure[index] = kits.bound(question.content());
    question.wantedGrams().ifPresent(grams -> tally.wantedContent[index] = kits.within(grams));
    double bound = design.bound(drawn.byPoint());
    tally.bound[index] = bound;
    tally.figure[index] = question.printed(bound);
  }

  /** Kits of the one lot that the study is about. */
  private JointNormalBound ofTheseLots(SimulatedErrors.Drawn drawn) {
    double[] here = means.clone();
    for (int x = 0; x < here.length; x++) {
      here[x] += oneCellLot ? drawn.cellLots()[0][x] : 0;
      here[x] += oneBoardLot ? drawn.boardLots()[0][x] : 0;
    }
    return new JointNormalBound(here, future, true);
  }

  private RehearsalResult result(Tally tally) {
    int times = tally.figure.length;
    double[] sorted = Arrays.stream(tally.figure).sorted().toArray();
    return new RehearsalResult(
        times,
        (int) Arrays.stream(sorted).filter(Double::isInfinite).count(),
        Arrays.stream(tally.trueFigure).sum() / times,
        Arrays.stream(QUANTILES).mapToObj(fraction -> quantile(sorted, fraction)).toList(),
        share(times, i -> tally.figure[i] >= tally.trueFigure[i]),
        question.wantedGrams().stream().mapToObj(grams -> wanted(tally, grams)).findFirst());
  }

  private static RehearsalResult.QuantileGrams quantile(double[] sorted, double fraction) {
    int rank = (int) Math.ceil(fraction * sorted.length) - 1;
    return new RehearsalResult.QuantileGrams(fraction, sorted[Math.max(0, rank)]);
  }

  private static double share(int times, IntPredicate which) {
    return IntStream.range(0, times).filter(which).count() / (double) times;
  }

  private RehearsalResult.Wanted wanted(Tally tally, double grams) {
    int times = tally.figure.length;
    // as the verdict of the analysis: before rounding
    IntPredicate supports = i -> tally.bound[i] + question.guardGrams() <= grams;
    double share = share(times, supports);
    return new RehearsalResult.Wanted(
        grams,
        Arrays.stream(tally.wantedContent).sum() / times,
        share,
        Math.sqrt(share * (1 - share) / times),
        share(times, i -> supports.test(i) && tally.wantedContent[i] < question.content()));
  }
}
