package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntConsumer;
import lotproof.plan.Draws;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Meeting;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.ExpectedPrecision;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FoldedNormal;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.study.AssumedSpread;
import lotproof.study.UnitKind;

/**
 * Carries a planned study out many times on paper.
 *
 * <p>Each rehearsal draws lots, cells, boards, pairings and repeats from the assumed normal spread
 * (new ones each time), takes the error of reading of every planned run at the load where it is
 * largest, fits the model of the analysis, and forms the figure as the analysis does at that load:
 * the larger of the limit about zero for a future kit and the largest size of error over the tested
 * kits, plus the masses, rounded outward. The bound over all loads together, which the analysis
 * adds, is not rehearsed: at level {@code none} it adds next to nothing, after a calibration some
 * per cent.
 *
 * <p>Rehearsal i draws from a stream of its own, so the result is the same for the same seed
 * whatever the number of threads.
 */
public final class Rehearsal {
  private static final double[] QUANTILES = {0.05, 0.25, 0.5, 0.75, 0.95};
  private static final int CHUNK = 16;

  private final Layout layout;
  private final AssumedSpread assumed;
  private final PlannedClaim question;
  private final LayoutModel model;
  private final ComponentsFit structure;
  private final double futureSd;
  private final int[] cellLot;
  private final int[] boardLot;
  private final int[] pairOf;
  private final int pairs;

  private Rehearsal(
      Layout layout,
      AssumedSpread assumed,
      PlannedClaim question,
      LayoutModel model,
      ComponentsFit structure) {
    this.layout = layout;
    this.assumed = assumed;
    this.question = question;
    this.model = model;
    this.structure = structure;
    this.futureSd = Math.sqrt(model.futureVariance());
    this.cellLot = layout.units().lotOf(UnitKind.CELL);
    this.boardLot = layout.units().lotOf(UnitKind.BOARD);
    this.pairOf = new int[layout.meetings().size()];
    Map<List<Integer>, Integer> numbers = new HashMap<>();
    for (int i = 0; i < pairOf.length; i++) {
      Meeting meeting = layout.meetings().get(i);
      List<Integer> key = List.of(meeting.cell(), meeting.board());
      Integer number = numbers.get(key);
      if (number == null) {
        number = numbers.size();
        numbers.put(key, number);
      }
      pairOf[i] = number;
    }
    this.pairs = numbers.size();
  }

  /**
   * How often, with what, and who hears of it.
   *
   * @param times rehearsals, 1 or more
   * @param seed decides all draws
   * @param threads how many work at once, 1 or more
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
   * Rehearses a layout.
   *
   * @param done is told how many more rehearsals are done, from any thread
   */
  public static Outcome of(
      Layout layout,
      AssumedSpread assumed,
      PlannedClaim question,
      Options options,
      IntConsumer done) {
    LayoutModel model = new LayoutModel(layout, assumed, true);
    ExpectedPrecision.Outcome outcome =
        ExpectedPrecision.of(
            layout.meetings().size(), model.factors(), model.variances(), assumed.meanGrams());
    if (!(outcome instanceof ExpectedPrecision.Outcome.Expected expected)) {
      return new Outcome.Not(((ExpectedPrecision.Outcome.Not) outcome).reason());
    }
    Rehearsal rehearsal =
        new Rehearsal(layout, assumed, question, model, expected.precision().fit());
    return new Outcome.Rehearsed(rehearsal.many(options, done));
  }

  /** What came of all rehearsals, each at its own index. */
  private static final class Tally {
    private final double[] figure;
    private final double[] bound;
    private final double[] trueMean;

    Tally(int times) {
      figure = new double[times];
      bound = new double[times];
      trueMean = new double[times];
    }
  }

  private RehearsalResult many(Options options, IntConsumer done) {
    Tally tally = new Tally(options.times());
    AtomicInteger next = new AtomicInteger();
    List<Thread> workers = new ArrayList<>();
    List<RuntimeException> failures = java.util.Collections.synchronizedList(new ArrayList<>());
    Runnable work =
        () -> {
          try {
            for (int from = next.getAndAdd(CHUNK);
                from < options.times();
                from = next.getAndAdd(CHUNK)) {
              int to = Math.min(options.times(), from + CHUNK);
              for (int i = from; i < to; i++) {
                one(i, Draws.of(options.seed(), i), tally);
              }
              done.accept(to - from);
            }
          } catch (RuntimeException e) {
            failures.add(e);
          }
        };
    for (int t = 1; t < options.threads(); t++) {
      Thread worker = new Thread(work, "rehearsal-" + t);
      worker.setDaemon(true);
      workers.add(worker);
      worker.start();
    }
    work.run();
    for (Thread worker : workers) {
      joined(worker);
    }
    if (!failures.isEmpty()) {
      throw failures.get(0);
    }
    return result(tally);
  }

  private static void joined(Thread worker) {
    try {
      worker.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("the rehearsal was interrupted", e);
    }
  }

  private void one(int index, Draws draws, Tally tally) {
    double[] cellLots = normal(layout.units().cellLots().size(), assumed.cellLotVariance(), draws);
    double[] boardLots =
        normal(layout.units().boardLots().size(), assumed.boardLotVariance(), draws);
    double[] cells = normal(cellLot.length, assumed.cellVariance(), draws);
    double[] boards = normal(boardLot.length, assumed.boardVariance(), draws);
    double[] pairing = normal(pairs, assumed.pairingVariance(), draws);
    double repeat = Math.sqrt(assumed.repeatVariance());
    double[] values = new double[pairOf.length];
    double largest = 0;
    for (int i = 0; i < values.length; i++) {
      Meeting meeting = layout.meetings().get(i);
      values[i] =
          assumed.meanGrams()
              + cellLots[cellLot[meeting.cell()]]
              + cells[meeting.cell()]
              + boardLots[boardLot[meeting.board()]]
              + boards[meeting.board()]
              + pairing[pairOf[i]]
              + repeat * draws.gaussian();
      largest = Math.max(largest, Math.abs(values[i]));
    }
    tally.trueMean[index] =
        assumed.meanGrams()
            + (cellLots.length == 1 ? cellLots[0] : 0)
            + (boardLots.length == 1 ? boardLots[0] : 0);
    FitOutcome outcome = ComponentsFitter.quickRefit(structure, values);
    if (outcome instanceof ComponentsFit fit) {
      FutureUnitLimits limits =
          FutureUnitLimits.of(
              fit, model.finestFirst(), Set.of(), question.content(), question.confidence());
      double bound = Math.max(largest, limits.symmetricHalfWidth());
      tally.bound[index] = bound;
      tally.figure[index] = question.printed(bound);
    } else {
      tally.bound[index] = Double.POSITIVE_INFINITY;
      tally.figure[index] = Double.POSITIVE_INFINITY;
    }
  }

  private static double[] normal(int count, double variance, Draws draws) {
    double sd = Math.sqrt(variance);
    double[] values = new double[count];
    for (int i = 0; i < count; i++) {
      values[i] = sd * draws.gaussian();
    }
    return values;
  }

  private RehearsalResult result(Tally tally) {
    int times = tally.figure.length;
    double[] sorted = tally.figure.clone();
    Arrays.sort(sorted);
    int without = (int) Arrays.stream(sorted).filter(Double::isInfinite).count();
    int holds = 0;
    double trueFigure = 0;
    for (int i = 0; i < times; i++) {
      double content = FoldedNormal.content(tally.trueMean[i], futureSd, tally.figure[i]);
      holds += content >= question.content() ? 1 : 0;
      trueFigure += FoldedNormal.halfWidth(tally.trueMean[i], futureSd, question.content()) / times;
    }
    List<RehearsalResult.QuantileGrams> quantiles = new ArrayList<>();
    for (double fraction : QUANTILES) {
      int rank = (int) Math.ceil(fraction * times) - 1;
      quantiles.add(new RehearsalResult.QuantileGrams(fraction, sorted[Math.max(0, rank)]));
    }
    return new RehearsalResult(
        times,
        without,
        trueFigure,
        quantiles,
        holds / (double) times,
        wanted(tally, question.wantedGrams()));
  }

  private Optional<RehearsalResult.Wanted> wanted(Tally tally, OptionalDouble asked) {
    if (asked.isEmpty()) {
      return Optional.empty();
    }
    double grams = asked.getAsDouble();
    int times = tally.figure.length;
    int supported = 0;
    int wrongly = 0;
    double trueContent = 0;
    for (int i = 0; i < times; i++) {
      double content = FoldedNormal.content(tally.trueMean[i], futureSd, grams);
      trueContent += content / times;
      // as the verdict of the analysis: before rounding
      if (tally.bound[i] + question.guardGrams() <= grams) {
        supported++;
        wrongly += content < question.content() ? 1 : 0;
      }
    }
    double share = supported / (double) times;
    return Optional.of(
        new RehearsalResult.Wanted(
            grams,
            trueContent,
            share,
            Math.sqrt(share * (1 - share) / times),
            wrongly / (double) times));
  }
}
