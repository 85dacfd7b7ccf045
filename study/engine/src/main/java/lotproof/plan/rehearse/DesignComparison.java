package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.IntConsumer;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Layout;
import lotproof.plan.design.UnitsAtHand;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.RandomFactor;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchTimes;
import lotproof.study.Design;
import lotproof.study.UnitKind;

/**
 * Compares designs by what each can support: precision by expected information, the figure and the
 * chance of the wanted one by rehearsal.
 *
 * @param designs all that were compared
 * @param kitsForDistributionFree kits that the asked content and confidence need without a model
 * @param advice the recommended design and why
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
   * @param units units at hand
   * @param assumed what is taken to be true
   * @param question what is to be supported
   * @param times what the bench takes
   * @param mostHours bench hours that can be had, if limited
   * @param seed decides rings and rehearsals
   * @param threads how many work at once
   */
  public record Start(
      UnitsAtHand units,
      AssumedSpread assumed,
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
    List<DesignAssessment> designs = new ArrayList<>();
    for (DesignKind kind : DesignKind.values()) {
      designs.add(
          kind == DesignKind.REFERENCE_PARTNER
              ? onReferences(start, done)
              : new Assessing(start, kind).assess(done));
    }
    List<DesignAssessment> scaled = withPrecisionPerRun(designs);
    PlannedClaim question = start.question();
    return new DesignComparison(
        scaled,
        DistributionFree.sampleSizeForExtreme(question.content(), question.confidence(), 1),
        Advice.of(scaled, start));
  }

  /**
   * Two samples of one factor each: variances of cell + pairing + repeat and of board + pairing +
   * repeat, whose sum counts pairing and repeat twice.
   */
  private static DesignAssessment onReferences(Start start, IntConsumer done) {
    Assessing assessing = new Assessing(start, DesignKind.REFERENCE_PARTNER);
    AssumedSpread a = start.assumed();
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
        DesignKind.REFERENCE_PARTNER.key(),
        DesignKind.REFERENCE_PARTNER.words(),
        runs,
        cells,
        boards,
        start.times().sessionsFor(runs),
        start.times().hoursFor(runs),
        List.of(
            component("cell", a.cellGrams(), cellError),
            component("board", a.boardGrams(), boardError)),
        relative,
        1 / (2 * relative * relative),
        Math.sqrt(sum / (sum - rest)) - 1,
        0,
        0,
        0,
        assessing
            .rehearse(Layout.onReferences(start.units(), PARTNERS), Optional.of(PARTNERS), done)
            .map(assessing::support),
        Optional.empty(),
        List.of(
            "kits as buyers get them (none is tested)",
            "pairing",
            "the error of the reference units, common to all runs"));
  }

  private static DesignAssessment.ComponentPrecision component(
      String name, double grams, double errorOfVariance) {
    return new DesignAssessment.ComponentPrecision(
        name,
        grams,
        grams > 0 ? Optional.of(errorOfVariance / (2 * grams * grams)) : Optional.empty());
  }

  private static List<DesignAssessment> withPrecisionPerRun(List<DesignAssessment> designs) {
    DesignAssessment pairs =
        designs.stream()
            .filter(d -> d.design().equals(DesignKind.DISJOINT_PAIRS.key()))
            .findFirst()
            .orElseThrow();
    double unit = perRun(pairs);
    return designs.stream()
        .map(
            d ->
                new DesignAssessment(
                    d.design(),
                    d.words(),
                    d.runs(),
                    d.cells(),
                    d.boards(),
                    d.sessions(),
                    d.benchHours(),
                    d.components(),
                    d.totalRelativeStandardError(),
                    d.effectiveDegreesOfFreedom(),
                    d.overstatementFraction(),
                    perRun(d) / unit,
                    d.disjointKits(),
                    d.supportedContent(),
                    d.support(),
                    d.lotFactor(),
                    d.missing()))
        .toList();
  }

  private static double perRun(DesignAssessment d) {
    return 1 / (d.totalRelativeStandardError() * d.totalRelativeStandardError() * d.runs());
  }

  /** One design of kits. */
  private record Assessing(Start start, DesignKind kind) {
    DesignAssessment assess(IntConsumer done) {
      Layout layout = Layout.of(kind, start.units(), start.seed());
      LayoutModel model = new LayoutModel(layout, start.assumed(), true);
      LayoutModel withoutLots = new LayoutModel(layout, start.assumed(), false);
      Optional<ComponentsFit> full = expected(layout, model);
      Optional<ComponentsFit> sameLots = expected(layout, withoutLots);
      Optional<RehearsalResult> rehearsed = rehearse(layout, Optional.empty(), done);
      int runs = layout.meetings().size();
      int disjoint = Math.min(layout.used(UnitKind.CELL), layout.used(UnitKind.BOARD));
      List<String> missing = new ArrayList<>(model.missing());
      if (full.isEmpty()) {
        missing.add("the figure: this layout cannot tell its spreads apart");
      }
      // precision is compared as if lots were known not to differ, as the number of lots is the
      // same for all designs and its cost is shown on its own
      double relative = sameLots.map(p -> p.relativeStandardErrorOfTotal(Set.of())).orElse(1.0);
      return new DesignAssessment(
          kind.key(),
          kind.words(),
          runs,
          layout.used(UnitKind.CELL),
          layout.used(UnitKind.BOARD),
          start.times().sessionsFor(runs),
          start.times().hoursFor(runs),
          full.map(p -> components(model, p)).orElse(List.of()),
          relative,
          1 / (2 * relative * relative),
          0,
          0,
          disjoint,
          DistributionFree.contentOfExtreme(disjoint, start.question().confidence()),
          rehearsed.map(this::support),
          lotFactor(model, full, sameLots),
          missing);
    }

    private Optional<ComponentsFit> expected(Layout layout, LayoutModel model) {
      return ComponentsFitter.assumed(
                  layout.meetings().size(),
                  model.factors(),
                  model.variances(),
                  start.assumed().meanGrams())
              instanceof ComponentsFit fit
          ? Optional.of(fit)
          : Optional.empty();
    }

    Optional<RehearsalResult> rehearse(
        Layout layout, Optional<Design.ReferencePartners> partners, IntConsumer done) {
      return Rehearsal.of(
                  new Rehearsal.Planned(
                      layout, partners, AssumedCurves.atOneLoad(start.assumed()), start.question()),
                  new Rehearsal.Options(REHEARSALS, start.seed(), start.threads()),
                  done)
              instanceof Rehearsal.Outcome.Rehearsed rehearsed
          ? Optional.of(rehearsed.result())
          : Optional.empty();
    }

    private static List<DesignAssessment.ComponentPrecision> components(
        LayoutModel model, ComponentsFit precision) {
      List<DesignAssessment.ComponentPrecision> components = new ArrayList<>();
      double[] variances = model.variances();
      for (int k = 0; k < variances.length; k++) {
        String name = model.names().get(k);
        String shown = name.equals(RandomFactor.RESIDUAL) ? model.residualWords() : name;
        components.add(
            new DesignAssessment.ComponentPrecision(
                shown, Math.sqrt(variances[k]), precision.relativeStandardError(name)));
      }
      return components;
    }

    private DesignAssessment.Support support(RehearsalResult result) {
      double bound = result.medianGrams() - start.question().guardGrams();
      return new DesignAssessment.Support(
          result.medianGrams(),
          result.safest().get(result.safest().size() - 1).grams(),
          bound / result.trueFigureGrams(),
          result.wanted().map(RehearsalResult.Wanted::supportedFraction));
    }

    private Optional<Double> lotFactor(
        LayoutModel model, Optional<ComponentsFit> full, Optional<ComponentsFit> sameLots) {
      if (full.isEmpty() || sameLots.isEmpty() || model.fewestLots().isEmpty()) {
        return Optional.empty();
      }
      return Optional.of(symmetric(full.get()) / symmetric(sameLots.get()));
    }

    private double symmetric(ComponentsFit precision) {
      PlannedClaim question = start.question();
      return FutureUnitLimits.of(precision, Set.of(), question.content(), question.confidence())
          .symmetricHalfWidth();
    }
  }
}
