package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.IntConsumer;
import java.util.stream.IntStream;
import lotproof.model.Role;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Layout;
import lotproof.plan.rehearse.DesignAssessment.ComponentPrecision;
import lotproof.plan.rehearse.DesignAssessment.Effort;
import lotproof.plan.rehearse.DesignAssessment.Precision;
import lotproof.plan.rehearse.DesignAssessment.Support;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.Assumed;
import lotproof.study.BenchTimes;
import lotproof.study.Design;
import lotproof.study.UnitKind;
import lotproof.study.Units;

/**
 * Compares designs by what each can support: precision by expected information, the figure and the
 * chance of the wanted one by rehearsal.
 *
 * @param kitsForDistributionFree kits that the asked content and confidence need without a model
 */
public record DesignComparison(
    List<DesignAssessment> designs, int kitsForDistributionFree, Advice advice) {
  /** Rehearsals behind each design; the share of an even chance is known to 1.6 %. */
  public static final int REHEARSALS = 1000;

  public DesignComparison {
    designs = List.copyOf(designs);
  }

  /**
   * What a comparison starts from.
   *
   * @param mostHours bench hours that can be had, if limited
   * @param seed decides rings and rehearsals
   * @param threads how many work at once
   */
  public record Start(
      Units units,
      Assumed.AtLevel assumed,
      PlannedClaim question,
      BenchTimes times,
      OptionalDouble mostHours,
      long seed,
      int threads) {}

  /** Number of rehearsals that {@link #of} reports as done. */
  public static int work() {
    return DesignKind.values().length * REHEARSALS;
  }

  /** Stand for the references of any study, whatever their serials will be. */
  private static final Design.ReferencePartners PARTNERS =
      new Design.ReferencePartners("the reference cell", "the reference board", false);

  /** Compares all designs that the units allow. */
  public static DesignComparison of(Start start, IntConsumer done) {
    AssumedCurves curves = AssumedCurves.atOneLoad(start.assumed());
    Layout pairs = Layout.of(DesignKind.DISJOINT_PAIRS, start.units(), start.seed());
    Assessing assessing =
        new Assessing(
            start,
            curves,
            perRun(error(DesignModel.of(pairs).withoutLots(), curves), pairs.meetings().size()));
    List<DesignAssessment> designs = new ArrayList<>();
    for (DesignKind kind : DesignKind.values()) {
      designs.add(
          kind == DesignKind.REFERENCE_PARTNER
              ? assessing.onReferences(done)
              : assessing.kits(kind, done));
    }
    PlannedClaim question = start.question();
    return new DesignComparison(
        designs,
        DistributionFree.sampleSizeForExtreme(question.content(), question.confidence(), 1),
        Advice.of(designs, start));
  }

  /** Relative standard error of the total; 1 where the spreads cannot be told apart. */
  private static double error(DesignModel model, AssumedCurves curves) {
    return model
        .expected(curves, 0)
        .map(precision -> precision.relativeStandardErrorOfTotal(Set.of()))
        .orElse(1.0);
  }

  private static double perRun(double relative, int runs) {
    return 1 / (relative * relative * runs);
  }

  /**
   * Assesses single designs.
   *
   * @param pairsPerRun precision of disjoint pairs per run
   */
  private record Assessing(Start start, AssumedCurves curves, double pairsPerRun) {

    /**
     * Two samples of one factor each: variances of cell + pairing + repeat and of board + pairing +
     * repeat, whose sum counts pairing and repeat twice.
     */
    DesignAssessment onReferences(IntConsumer done) {
      Assumed.AtLevel a = start.assumed();
      int cells = start.units().serials(UnitKind.CELL).size();
      int boards = start.units().serials(UnitKind.BOARD).size();
      double rest = a.pairingVariance() + a.repeatVariance();
      double cellTotal = a.cellGrams() * a.cellGrams() + rest;
      double boardTotal = a.boardGrams() * a.boardGrams() + rest;
      double cellError = cellTotal * Math.sqrt(2.0 / (cells - 1));
      double boardError = boardTotal * Math.sqrt(2.0 / (boards - 1));
      double sum = cellTotal + boardTotal;
      double relative = Math.hypot(cellError, boardError) / (2 * sum);
      int runs = cells + boards + Layout.REFERENCE_RUNS;
      return new DesignAssessment(
          DesignKind.REFERENCE_PARTNER,
          effort(runs, cells, boards),
          new Precision(
              List.of(
                  component(Role.CELL, a.cellGrams(), cellError),
                  component(Role.BOARD, a.boardGrams(), boardError)),
              relative,
              1 / (2 * relative * relative),
              Math.sqrt(sum / (sum - rest)) - 1,
              perRun(relative, runs) / pairsPerRun),
          0,
          0,
          support(Layout.onReferences(start.units(), PARTNERS), Optional.of(PARTNERS), done),
          Optional.empty(),
          List.of());
    }

    private static ComponentPrecision component(Role role, double grams, double errorOfVariance) {
      return new ComponentPrecision(
          role,
          List.of(),
          grams,
          grams > 0 ? Optional.of(errorOfVariance / (2 * grams * grams)) : Optional.empty());
    }

    DesignAssessment kits(DesignKind kind, IntConsumer done) {
      Layout layout = Layout.of(kind, start.units(), start.seed());
      DesignModel model = DesignModel.of(layout);
      Optional<ComponentsFit> full = model.expected(curves, 0);
      int runs = layout.meetings().size();
      int cells = layout.used(UnitKind.CELL);
      int boards = layout.used(UnitKind.BOARD);
      int disjoint = Math.min(cells, boards);
      // precision is compared as if lots were known not to differ, as the number of lots is the
      // same for all designs and its cost is shown on its own
      double relative = error(model.withoutLots(), curves);
      return new DesignAssessment(
          kind,
          effort(runs, cells, boards),
          new Precision(
              full.map(precision -> components(model, precision)).orElse(List.of()),
              relative,
              1 / (2 * relative * relative),
              0,
              perRun(relative, runs) / pairsPerRun),
          disjoint,
          DistributionFree.contentOfExtreme(disjoint, start.question().confidence()),
          support(layout, Optional.empty(), done),
          lotFactor(model),
          model.plan().notes());
    }

    private Effort effort(int runs, int cells, int boards) {
      BenchTimes times = start.times();
      return new Effort(runs, cells, boards, times.sessionsFor(runs), times.hoursFor(runs));
    }

    private Optional<Support> support(
        Layout layout, Optional<Design.ReferencePartners> partners, IntConsumer done) {
      return Rehearsal.of(
                  new Rehearsal.Planned(layout, partners, curves, start.question()),
                  new Rehearsal.Options(REHEARSALS, start.seed(), start.threads()),
                  done)
              instanceof Rehearsal.Outcome.Rehearsed rehearsed
          ? Optional.of(support(rehearsed.result()))
          : Optional.empty();
    }

    private Support support(RehearsalResult result) {
      double bound = result.medianGrams() - start.question().guardGrams();
      return new Support(
          result.medianGrams(),
          result.safest().get(result.safest().size() - 1).grams(),
          bound / result.trueFigureGrams(),
          result.wanted().map(RehearsalResult.Wanted::supportedFraction));
    }

    private List<ComponentPrecision> components(DesignModel model, ComponentsFit precision) {
      double[] variances = model.variances(curves, 0);
      return IntStream.range(0, variances.length)
          .mapToObj(
              k -> {
                Role role = model.components().get(k);
                return new ComponentPrecision(
                    role,
                    model.heldBy(role),
                    Math.sqrt(variances[k]),
                    precision.relativeStandardError(role.component()));
              })
          .toList();
    }

    private Optional<Double> lotFactor(DesignModel model) {
      Optional<Double> ofSameLots = symmetric(model.withoutLots());
      return symmetric(model)
          .filter(full -> model.plan().hasLots())
          .flatMap(full -> ofSameLots.map(same -> full / same));
    }

    private Optional<Double> symmetric(DesignModel model) {
      PlannedClaim question = start.question();
      return model
          .expected(curves, 0)
          .map(
              fit ->
                  FutureUnitLimits.of(fit, Set.of(), question.content(), question.confidence())
                      .symmetricHalfWidth());
    }
  }
}
