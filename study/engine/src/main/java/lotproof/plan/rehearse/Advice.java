package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.model.FactorPlan;
import lotproof.model.Role;
import lotproof.plan.design.DesignKind;
import lotproof.statistics.ModifiedLargeSample;
import lotproof.study.UnitKind;

/**
 * The recommended design and why.
 *
 * <p>The rule: leave out what does not fit into the bench hours, what tests no kits, and what
 * cannot tell cells from boards as long as something else is left. Of the rest take those that come
 * within the noise of the rehearsals of the best, by the chance of the wanted figure or else by the
 * median figure, and of those the one with the fewest bench hours. If that is a rotation of two and
 * time allows, repeat some of its pairs.
 *
 * @param withoutRepeats the same design without its repeats, where those were added for the sake of
 *     pairing
 * @param tellsCellsFromBoards whether it does, or nothing that fits does
 * @param shortest the shortest design, where another one is recommended
 * @param longer a design that takes more hours and gives no better figure, if there is one
 */
public record Advice(
    DesignKind design,
    Optional<DesignKind> withoutRepeats,
    boolean tellsCellsFromBoards,
    Optional<DesignKind> shortest,
    Optional<DesignKind> longer,
    List<Warning> warnings) {
  /** Chances closer than this are told apart by the draws, not by the designs. */
  private static final double SAME_CHANCE = 0.03;

  private static final double SAME_FIGURE = 1.03;
  private static final double GOOD_CHANCE = 0.8;

  public Advice {
    warnings = List.copyOf(warnings);
  }

  /** What a plan cannot mend. */
  public sealed interface Warning {
    /** No design fits into the bench hours; the shortest was taken. */
    record NothingFits(double availableHours, double shortestHours) implements Warning {}

    /**
     * The wanted figure is often out of reach.
     *
     * @param failsFraction share of such studies that do not support it
     * @param supportedGrams figure that 95 % support
     */
    record WantedFails(double failsFraction, double supportedGrams) implements Warning {}

    /** All units of a kind come from one lot. */
    record OneLot(UnitKind kind) implements Warning {}

    /**
     * Few lots cannot bound how lots differ.
     *
     * @param factor by which their spread has to be widened
     * @param better a number of lots that does better
     * @param units from as many units
     * @param betterFactor the factor then
     */
    record FewLots(
        UnitKind kind, int lots, double factor, int better, int units, double betterFactor)
        implements Warning {}

    /** The kits that share no unit support less than was asked, so the rest leans on normality. */
    record LeansOnNormality(int disjointKits, double supportedContent) implements Warning {}
  }

  static Advice of(List<DesignAssessment> designs, DesignComparison.Start start) {
    List<DesignAssessment> kits =
        designs.stream()
            .filter(design -> design.support().isPresent())
            // none of its kits is tested as a buyer gets it, so it is for those who ask for it
            .filter(design -> design.design() != DesignKind.REFERENCE_PARTNER)
            .toList();
    if (kits.isEmpty()) {
      throw new IllegalArgumentException(
          "no design can support a figure with these units; more units are needed");
    }
    List<Warning> warnings = new ArrayList<>();
    List<DesignAssessment> fitting = fitting(kits, start.mostHours(), warnings);
    List<DesignAssessment> telling = fitting.stream().filter(Advice::tellsCellsFromBoards).toList();
    DesignAssessment base = cheapestOfTheBest(telling.isEmpty() ? fitting : telling);
    DesignAssessment chosen = withRepeats(base, fitting);
    warn(chosen, start, warnings);
    return new Advice(
        chosen.design(),
        chosen.equals(base) ? Optional.empty() : Optional.of(base.design()),
        !telling.isEmpty(),
        kits.stream()
            .filter(design -> hours(design) < hours(base))
            .min(Comparator.comparingDouble(Advice::hours))
            .map(DesignAssessment::design),
        kits.stream()
            .filter(design -> hours(design) > hours(chosen))
            .filter(design -> median(design) >= median(chosen) / SAME_FIGURE)
            .max(Comparator.comparingDouble(Advice::hours))
            .map(DesignAssessment::design),
        warnings);
  }

  private static double hours(DesignAssessment design) {
    return design.effort().benchHours();
  }

  private static List<DesignAssessment> fitting(
      List<DesignAssessment> kits, OptionalDouble mostHours, List<Warning> warnings) {
    double most = mostHours.orElse(Double.POSITIVE_INFINITY);
    List<DesignAssessment> fitting = kits.stream().filter(d -> hours(d) <= most).toList();
    if (!fitting.isEmpty()) {
      return fitting;
    }
    DesignAssessment shortest =
        kits.stream().min(Comparator.comparingDouble(Advice::hours)).orElseThrow();
    warnings.add(new Warning.NothingFits(most, hours(shortest)));
    return List.of(shortest);
  }

  private static boolean tellsCellsFromBoards(DesignAssessment design) {
    return design.precision().components().stream().anyMatch(c -> c.role() == Role.CELL);
  }

  private static DesignAssessment cheapestOfTheBest(List<DesignAssessment> candidates) {
    double bestChance =
        candidates.stream().mapToDouble(design -> chance(design).orElse(0.0)).max().orElse(0);
    double bestFigure = candidates.stream().mapToDouble(Advice::median).min().orElse(0);
    boolean byChance = bestChance > SAME_CHANCE && bestChance < 1 - SAME_CHANCE;
    return candidates.stream()
        .filter(
            design ->
                byChance
                    ? chance(design).orElse(0.0) >= bestChance - SAME_CHANCE
                    : median(design) <= bestFigure * SAME_FIGURE
                        || (bestChance > 0 && chance(design).orElse(0.0) >= 1 - SAME_CHANCE))
        .min(Comparator.comparingDouble(Advice::hours))
        .orElseThrow();
  }

  private static DesignAssessment withRepeats(
      DesignAssessment base, List<DesignAssessment> fitting) {
    return fitting.stream()
        .filter(design -> design.design() == DesignKind.ROTATION_2_REPEATS)
        .filter(repeats -> base.design() == DesignKind.ROTATION_2)
        .findFirst()
        .orElse(base);
  }

  private static Optional<Double> chance(DesignAssessment design) {
    return design.support().flatMap(DesignAssessment.Support::chance);
  }

  private static double median(DesignAssessment design) {
    return design.support().orElseThrow().medianFigureGrams();
  }

  private static void warn(
      DesignAssessment chosen, DesignComparison.Start start, List<Warning> warnings) {
    chance(chosen)
        .filter(share -> share < GOOD_CHANCE)
        .ifPresent(
            share ->
                warnings.add(
                    new Warning.WantedFails(
                        1 - share, chosen.support().orElseThrow().unluckyFigureGrams())));
    for (UnitKind kind : UnitKind.values()) {
      int lots = start.units().lots(kind).size();
      if (lots == 1) {
        warnings.add(new Warning.OneLot(kind));
      } else if (lots < FactorPlan.LOTS_FOR_GENERAL_WORDING) {
        warnings.add(fewLots(kind, lots, start));
      }
    }
    if (chosen.supportedContent() < start.question().content()) {
      warnings.add(new Warning.LeansOnNormality(chosen.disjointKits(), chosen.supportedContent()));
    }
  }

  private static Warning fewLots(UnitKind kind, int lots, DesignComparison.Start start) {
    int units = start.units().serials(kind).size();
    double share =
        kind == UnitKind.CELL ? start.assumed().cellLotShare() : start.assumed().boardLotShare();
    double confidence = start.question().confidence();
    int better = Math.min(10, Math.max(FactorPlan.LOTS_FOR_GENERAL_WORDING, units / 2));
    return new Warning.FewLots(
        kind,
        lots,
        ModifiedLargeSample.fewLotsFactor(
            lots, Math.max(1, units / (double) lots), share, confidence),
        better,
        units,
        ModifiedLargeSample.fewLotsFactor(
            better, Math.max(1, units / (double) better), share, confidence));
  }
}
