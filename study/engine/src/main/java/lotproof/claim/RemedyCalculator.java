package lotproof.claim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.DoublePredicate;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.Contributor.Spread;
import lotproof.claim.evidence.GuardBands;
import lotproof.model.ErrorModel;
import lotproof.model.Role;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.ModifiedLargeSample;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.ClaimRequest.LevelRequest;

/**
 * What would make a wanted figure supportable, lever by lever, with numbers. Each lever is pulled
 * alone, from the estimates at hand; a new study has to confirm it.
 */
record RemedyCalculator(
    FigureCalculator.Computed.Found found, FigureDetail detail, double wantedGrams) {
  private static final int MOST_LOTS = 200;

  /** A spread below this is none. */
  private static final double NOTHING_GRAMS = 1e-6;

  /**
   * All levers.
   *
   * @param supporting other levels of the same study whose limit is within the wanted figure
   */
  List<Remedy> all(List<LevelRequest> supporting) {
    List<Remedy> remedies = new ArrayList<>();
    if (!supporting.isEmpty()) {
      remedies.add(new Remedy.OtherLevels(supporting));
    }
    GuardBands guards = evidence().guards();
    double target = wantedGrams - guards.totalGrams();
    double massGrams =
        guards.of(GuardBands.Kind.BENCH_MASSES) + guards.of(GuardBands.Kind.BUYER_MASSES);
    boolean enough = found.outcome().limitGrams() - massGrams <= wantedGrams;
    if (target <= 0) {
      remedies.add(new Remedy.FinerMasses(massGrams, enough));
      return remedies;
    }
    double[] tested = evidence().ascending(evidence().tested().first());
    int beyond = (int) Arrays.stream(tested).filter(grams -> grams > target).count();
    remedies.add(sample(target, beyond));
    if (found.outcome().modelGrams() > target) {
      remedies.addAll(spreads(target));
    }
    if (massGrams > 0 && enough) {
      remedies.add(new Remedy.FinerMasses(massGrams, true));
    }
    remedies.add(
        new Remedy.SmallerContent(
            FigureDiagnostics.contentAt(detail.contentCurve(), wantedGrams),
            tested.length,
            beyond));
    return remedies;
  }

  private FigureEvidence evidence() {
    return found.evidence();
  }

  /**
   * More units or lots: the width that ignorance adds, against the width that is there.
   *
   * @param beyond tested kits beyond the target
   */
  private Remedy sample(double target, int beyond) {
    double asEstimated = found.model().asEstimatedGrams(evidence().content());
    if (!(target > asEstimated)) {
      return new Remedy.SampleDoesNotHelp(asEstimated + found.guardGrams());
    }
    if (beyond > 0) {
      // only ranks further in help
      return new Remedy.TestedKitsBeyond(
          beyond,
          DistributionFree.sampleSizeForExtreme(
              evidence().content(), evidence().confidence(), beyond + 1));
    }
    double ratio = target / asEstimated;
    return evidence().parts().stream().anyMatch(part -> part.plan().hasLots())
        ? lots(ratio)
        : units(ratio);
  }

  /** Units by the chi-square ratio of claimed to true (methods: degrees of freedom). */
  private Remedy units(double ratio) {
    double have =
        found
            .model()
            .limits(found.outcome().worstPoint(), evidence().content(), evidence().confidence())
            .effectiveDegreesOfFreedom();
    double need = degreesOfFreedom(ratio, evidence().confidence());
    int units = most(Role.CELL, Role.BOARD);
    return new Remedy.MoreUnits(units, (int) Math.ceil(units * need / Math.max(1, have)));
  }

  /**
   * Degrees of freedom at which the upper limit of a standard deviation is this much wider than the
   * estimate, by Wilson and Hilferty's approximation.
   */
  static double degreesOfFreedom(double ratio, double confidence) {
    double z = DistributionQuantiles.normal(confidence);
    double u = (-z + Math.sqrt(z * z + 4 * (1 - Math.pow(ratio, -2.0 / 3)))) / 2;
    return 2 / (9 * u * u);
  }

  /** Lots, with as many units in each as now: one population with the estimated share of lots. */
  private Remedy lots(double ratio) {
    double share = variance(Role.CELL_LOT, Role.BOARD_LOT) / variance(Role.values());
    int lots = most(Role.CELL_LOT, Role.BOARD_LOT);
    int units = most(Role.CELL, Role.BOARD);
    int perLot = Math.max(2, Math.round(units / (float) Math.max(1, lots)));
    OptionalInt enough =
        IntStream.rangeClosed(2, MOST_LOTS)
            .filter(
                l ->
                    ModifiedLargeSample.fewLotsFactor(l, perLot, share, evidence().confidence())
                        <= ratio)
            .findFirst();
    return enough.isPresent()
        ? new Remedy.MoreLots(lots, Math.max(enough.getAsInt(), lots + 1), perLot)
        : new Remedy.LotsDoNotHelp(MOST_LOTS);
  }

  /** Levels of what belongs to the claim: of one kind, or the larger number of both. */
  private int most(Role ofCells, Role ofBoards) {
    int cells = evidence().largest().levels(ofCells);
    int boards = evidence().largest().levels(ofBoards);
    return switch (evidence().subject()) {
      case KIT -> Math.max(cells, boards);
      case CELL -> cells;
      case BOARD -> boards;
    };
  }

  /** Variance of some roles together at the worst load. */
  private double variance(Role... roles) {
    return found.outcome().worst().contributions().stream()
        .filter(c -> List.of(roles).contains(c.role()))
        .mapToDouble(c -> c.standardDeviationGrams() * c.standardDeviationGrams())
        .sum();
  }

  /** For each spread the share of it that may stay; with it the screen that would leave that. */
  private List<Remedy> spreads(double target) {
    // parts of one component share its role, so each role is looked at once
    List<Spread> spreads =
        detail.budget().stream()
            .filter(line -> line.contributor() instanceof Spread && line.costGrams() > 0)
            .filter(line -> line.grams() > NOTHING_GRAMS)
            .sorted(Comparator.comparingDouble(BudgetLine::costGrams).reversed())
            .map(line -> (Spread) line.contributor())
            .toList();
    List<Remedy> remedies =
        spreads.stream()
            .map(Spread::role)
            .distinct()
            .flatMap(role -> spread(role, target).stream())
            .toList();
    if (!remedies.isEmpty()) {
      return remedies;
    }
    double share = largestShare(Set.copyOf(found.model().roles()), target);
    String largest = spreads.isEmpty() ? "" : spreads.get(0).title();
    return List.of(new Remedy.LessOfAllSpreads(largest, share));
  }

  private List<Remedy> spread(Role role, double target) {
    double share = largestShare(Set.of(role), target);
    double sd = Math.sqrt(variance(role));
    if (share <= 0 || sd <= NOTHING_GRAMS) {
      return List.of();
    }
    String title =
        found.model().sources(found.outcome().worstPoint()).stream()
            .filter(source -> source.role() == role)
            .map(ErrorModel.Source::title)
            .findFirst()
            .orElse(role.title());
    Remedy less = new Remedy.LessSpread(role, title, sd, share);
    if (role != Role.CELL && role != Role.BOARD) {
      return List.of(less);
    }
    double limit = truncation(share);
    double yield = Conformity.probability(0, 1, Zone.symmetric(limit));
    return List.of(less, new Remedy.Screen(role, limit * sd, yield));
  }

  /** The share of some standard deviations that may stay; 0 where not even none would do. */
  private double largestShare(Set<Role> roles, double target) {
    return boundWith(roles, 0) > target
        ? 0
        : lastThatPasses(share -> boundWith(roles, share) <= target, 0, 1);
  }

  /** The largest number between two that passes a test which smaller ones pass too. */
  private static double lastThatPasses(DoublePredicate passes, double from, double to) {
    double low = from;
    double high = to;
    for (int i = 0; i < 50; i++) {
      double middle = (low + high) / 2;
      if (passes.test(middle)) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** Bound over the loads with some roles' standard deviations brought down to a share. */
  private double boundWith(Set<Role> roles, double share) {
    double bound = 0;
    double now = 0;
    for (int p = 0; p < found.outcome().points().size(); p++) {
      double one =
          found
              .model()
              .boundAt(
                  p,
                  source -> roles.contains(source.role()),
                  share * share,
                  evidence().content(),
                  evidence().confidence());
      bound = Math.max(bound, one);
      now = Math.max(now, found.outcome().points().get(p).figureGrams());
    }
    // all loads together need this much more than the worst alone
    return bound * Math.max(1, found.outcome().modelGrams() / now);
  }

  /** The c at which a normal spread cut at c standard deviations on both sides keeps this share. */
  static double truncation(double share) {
    return lastThatPasses(
        c -> {
          double density = Math.exp(-c * c / 2) / Math.sqrt(2 * Math.PI);
          double inside = Conformity.probability(0, 1, Zone.symmetric(c));
          return Math.sqrt(Math.max(0, 1 - 2 * c * density / inside)) < share;
        },
        1e-6,
        8);
  }
}
