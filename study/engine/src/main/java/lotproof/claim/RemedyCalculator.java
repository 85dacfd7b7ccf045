package lotproof.claim;

import java.util.ArrayList;
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
import lotproof.study.Study;

/**
 * What would make a wanted figure supportable, lever by lever, with numbers. Each lever is pulled
 * alone, from the estimates at hand; a new study has to confirm it.
 */
final class RemedyCalculator {
  private static final int MOST_LOTS = 200;

  private final Study study;
  private final FigureCalculator.Computed.Found found;
  private final FigureDetail detail;
  private final double wantedGrams;

  RemedyCalculator(
      Study study, FigureCalculator.Computed.Found found, FigureDetail detail, double wantedGrams) {
    this.study = study;
    this.found = found;
    this.detail = detail;
    this.wantedGrams = wantedGrams;
  }

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
    GuardBands guards = found.evidence().guards();
    double target = wantedGrams - guards.totalGrams();
    double massGrams =
        guards.of(GuardBands.Kind.BENCH_MASSES) + guards.of(GuardBands.Kind.BUYER_MASSES);
    boolean enough = found.outcome().limitGrams() - massGrams <= wantedGrams;
    if (target <= 0) {
      remedies.add(new Remedy.FinerMasses(massGrams, enough));
      return remedies;
    }
    remedies.add(sample(target));
    if (found.outcome().modelGrams() > target) {
      remedies.addAll(contributors(target));
    }
    if (massGrams > 0 && enough) {
      remedies.add(new Remedy.FinerMasses(massGrams, true));
    }
    remedies.add(
        new Remedy.SmallerContent(
            FigureDiagnostics.contentAt(detail.contentCurve(), wantedGrams),
            hasTested() ? kits().size() : 0,
            beyond(target)));
    return remedies;
  }

  /** More units or lots: the width that ignorance adds, against the width that is there. */
  private Remedy sample(double target) {
    double asEstimated = found.model().asEstimatedGrams(study.claim().content());
    if (!(target > asEstimated)) {
      return new Remedy.SampleDoesNotHelp(asEstimated + found.evidence().guards().totalGrams());
    }
    int beyond = beyond(target);
    if (beyond > 0) {
      // only ranks further in help
      return new Remedy.TestedKitsBeyond(
          beyond,
          DistributionFree.sampleSizeForExtreme(
              study.claim().content(), study.claim().confidence(), beyond + 1));
    }
    double ratio = target / asEstimated;
    return found.evidence().hasLots() ? lots(ratio) : units(ratio);
  }

  private boolean hasTested() {
    return found.evidence().hasTested(study.claim().subject());
  }

  private List<Integer> kits() {
    return found.evidence().tested(study.claim().subject()).first();
  }

  /** Tested kits beyond a target. */
  private int beyond(double target) {
    List<Double> largest = found.evidence().largest().values();
    return hasTested() ? (int) kits().stream().filter(i -> largest.get(i) > target).count() : 0;
  }

  /** Units by the chi-square ratio of claimed to true (methods: degrees of freedom). */
  private Remedy units(double ratio) {
    double have =
        found
            .model()
            .limits(
                found.outcome().worstPoint(), study.claim().content(), study.claim().confidence())
            .effectiveDegreesOfFreedom();
    double need = degreesOfFreedom(ratio, study.claim().confidence());
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
    double share = lotShare();
    int lots = most(Role.CELL_LOT, Role.BOARD_LOT);
    int units = most(Role.CELL, Role.BOARD);
    int perLot = Math.max(2, Math.round(units / (float) Math.max(1, lots)));
    OptionalInt enough =
        IntStream.rangeClosed(2, MOST_LOTS)
            .filter(
                l ->
                    ModifiedLargeSample.fewLotsFactor(l, perLot, share, study.claim().confidence())
                        <= ratio)
            .findFirst();
    return enough.isPresent()
        ? new Remedy.MoreLots(lots, Math.max(enough.getAsInt(), lots + 1), perLot)
        : new Remedy.LotsDoNotHelp(MOST_LOTS);
  }

  /** Levels of what belongs to the claim: of one kind, or the larger number of both. */
  private int most(Role ofCells, Role ofBoards) {
    int cells = found.evidence().largest().levels(ofCells);
    int boards = found.evidence().largest().levels(ofBoards);
    return switch (study.claim().subject()) {
      case KIT -> Math.max(cells, boards);
      case CELL -> cells;
      case BOARD -> boards;
    };
  }

  private double lotShare() {
    double lots = 0;
    double all = 0;
    LevelOutcome.PointLimit point = found.outcome().worst();
    for (LevelOutcome.Contribution c : point.contributions()) {
      double variance = c.standardDeviationGrams() * c.standardDeviationGrams();
      all += variance;
      lots += c.role() == Role.CELL_LOT || c.role() == Role.BOARD_LOT ? variance : 0;
    }
    return all > 0 ? lots / all : 0;
  }

  /** For each spread the share of it that may stay; with it the screen that would leave that. */
  private List<Remedy> contributors(double target) {
    // parts of one component share its role, so each role is looked at once
    List<Spread> spreads =
        detail.budget().stream()
            .filter(line -> line.contributor() instanceof Spread && line.costGrams() > 0)
            .sorted(Comparator.comparingDouble(BudgetLine::costGrams).reversed())
            .map(line -> (Spread) line.contributor())
            .toList();
    List<Remedy> remedies =
        spreads.stream()
            .map(Spread::role)
            .distinct()
            .flatMap(role -> contributor(role, target).stream())
            .toList();
    if (!remedies.isEmpty()) {
      return remedies;
    }
    Set<Role> all = everything();
    double share = boundWith(all, 0) > target ? 0 : largestShare(f -> boundWith(all, f) <= target);
    String largest = spreads.isEmpty() ? "" : spreads.get(0).title();
    return List.of(new Remedy.LessOfAllSpreads(largest, share));
  }

  private Set<Role> everything() {
    return Set.copyOf(found.model().roles());
  }

  /**
   * The largest share in 0..1 that passes a test which smaller ones pass too; 0 where none does.
   */
  private static double largestShare(DoublePredicate passes) {
    double low = 0;
    double high = 1;
    for (int i = 0; i < 30; i++) {
      double middle = (low + high) / 2;
      if (passes.test(middle)) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  private List<Remedy> contributor(Role role, double target) {
    if (boundWith(Set.of(role), 0) > target) {
      return List.of();
    }
    double share = largestShare(f -> boundWith(Set.of(role), f) <= target);
    double sd = sdOf(role);
    Remedy less = new Remedy.LessSpread(role, titleOf(role), sd, share);
    if ((role != Role.CELL && role != Role.BOARD) || share <= 0) {
      return List.of(less);
    }
    double limit = truncation(share);
    return List.of(less, new Remedy.Screen(role, limit * sd, 2 * normalBelow(limit) - 1));
  }

  private String titleOf(Role role) {
    return found.model().sources(found.outcome().worstPoint()).stream()
        .filter(source -> source.role() == role)
        .map(ErrorModel.Source::title)
        .findFirst()
        .orElse(role.title());
  }

  private double sdOf(Role role) {
    LevelOutcome.PointLimit point = found.outcome().worst();
    return point.contributions().stream()
        .filter(c -> c.role() == role)
        .mapToDouble(LevelOutcome.Contribution::standardDeviationGrams)
        .sum();
  }

  /** Bound over the loads with some roles' standard deviations brought down to a share. */
  private double boundWith(Set<Role> roles, double share) {
    double bound = 0;
    double now = 0;
    for (int p = 0; p < found.outcome().points().size(); p++) {
      bound =
          Math.max(
              bound,
              found
                  .model()
                  .boundAt(
                      p,
                      source -> roles.contains(source.role()),
                      share * share,
                      study.claim().content(),
                      study.claim().confidence()));
      now = Math.max(now, found.outcome().points().get(p).figureGrams());
    }
    // all loads together need this much more than the worst alone
    return bound * Math.max(1, found.outcome().modelGrams() / now);
  }

  /** The c at which a normal spread cut at c standard deviations on both sides keeps this share. */
  static double truncation(double share) {
    double low = 1e-6;
    double high = 8;
    for (int i = 0; i < 60; i++) {
      double c = (low + high) / 2;
      double density = Math.exp(-c * c / 2) / Math.sqrt(2 * Math.PI);
      double kept = Math.sqrt(Math.max(0, 1 - 2 * c * density / (2 * normalBelow(c) - 1)));
      if (kept < share) {
        low = c;
      } else {
        high = c;
      }
    }
    return low;
  }

  private static double normalBelow(double z) {
    return Conformity.probability(0, 1, new Zone(Double.NEGATIVE_INFINITY, z));
  }
}
