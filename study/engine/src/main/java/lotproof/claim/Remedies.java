package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.DoublePredicate;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.model.ErrorModel;
import lotproof.model.Role;
import lotproof.spread.TestedKits;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.FewLots;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.ClaimSubject;
import lotproof.study.Study;

/**
 * What would make a wanted figure supportable, lever by lever, with numbers. Each lever is pulled
 * alone, from the estimates at hand; a new study has to confirm it.
 */
final class Remedies {
  private static final int MOST_LOTS = 200;

  private final Study study;
  private final FigureCalculator.Computed.Found found;
  private final FigureDetail detail;
  private final double wantedGrams;

  Remedies(
      Study study, FigureCalculator.Computed.Found found, FigureDetail detail, double wantedGrams) {
    this.study = study;
    this.found = found;
    this.detail = detail;
    this.wantedGrams = wantedGrams;
  }

  /**
   * All levers.
   *
   * @param supporting other levels of the same study whose bound is within the wanted figure
   */
  List<Remedy> all(List<String> supporting) {
    List<Remedy> remedies = new ArrayList<>();
    levels(supporting).ifPresent(remedies::add);
    double target = wantedGrams - found.evidence().guards().totalGrams();
    if (target <= 0) {
      remedies.add(masses());
      return remedies;
    }
    remedies.add(sample(target));
    if (found.outcome().modelGrams() > target) {
      remedies.addAll(contributors(target));
    }
    if (massGuards() > 0 && found.outcome().boundGrams() - massGuards() <= wantedGrams) {
      remedies.add(masses());
    }
    remedies.add(content());
    return remedies;
  }

  private static Optional<Remedy> levels(List<String> supporting) {
    return supporting.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Remedy(
                Remedy.Kind.CALIBRATION_LEVEL,
                true,
                OptionalDouble.empty(),
                "This study supports the wanted figure "
                    + String.join(", and ", supporting)
                    + "."));
  }

  private double massGuards() {
    GuardBands guards = found.evidence().guards();
    return guards.benchGrams() + guards.buyerGrams();
  }

  private Remedy masses() {
    boolean enough = found.outcome().boundGrams() - massGuards() <= wantedGrams;
    return new Remedy(
        Remedy.Kind.MASSES,
        enough,
        OptionalDouble.of(massGuards()),
        "The masses alone take "
            + Numbers.digits(massGuards(), 3)
            + " g of the figure; finer classes for bench and buyer would give most of it back"
            + (enough ? ", which would be enough." : ", which would not be enough."));
  }

  /** More units or lots: the width that ignorance adds, against the width that is there. */
  private Remedy sample(double target) {
    double asEstimated = found.model().asEstimatedGrams(study.claim().content());
    if (!(target > asEstimated)) {
      return new Remedy(
          Remedy.Kind.MORE_UNITS,
          false,
          OptionalDouble.empty(),
          "More units or lots would not help: as estimated, "
              + Numbers.percent(study.claim().content())
              + " % of "
              + subject().plural()
              + " already need "
              + study
                  .claim()
                  .form()
                  .words(digits(asEstimated + found.evidence().guards().totalGrams()))
              + " with guard bands.");
    }
    double ratio = target / asEstimated;
    Optional<Remedy> tested = testedTooFar(target);
    if (tested.isPresent()) {
      return tested.get();
    }
    return found.evidence().hasLots() ? lots(ratio) : units(ratio);
  }

  private static double digits(double grams) {
    return Double.parseDouble(Numbers.digits(grams, 3));
  }

  /** A tested kit beyond the target: only ranks further in, so more kits, or a screen. */
  private Optional<Remedy> testedTooFar(double target) {
    TestedKits kits = found.evidence().tested(study.claim().subject());
    if (!found.evidence().hasTested(study.claim().subject())) {
      return Optional.empty();
    }
    List<Double> largest = found.evidence().largest().values();
    int beyond = (int) kits.first().stream().filter(i -> largest.get(i) > target).count();
    if (beyond == 0) {
      return Optional.empty();
    }
    int needed =
        DistributionFree.sampleSizeForExtreme(
            study.claim().content(), study.claim().confidence(), beyond + 1);
    return Optional.of(
        new Remedy(
            Remedy.Kind.MORE_UNITS,
            false,
            OptionalDouble.of(needed),
            beyond
                + (beyond == 1
                    ? " tested " + subject().key() + " reads"
                    : " tested " + subject().plural() + " read")
                + " farther off than the wanted figure leaves room for. Without a screen the data"
                + " alone would need "
                + needed
                + (subject() == ClaimSubject.KIT
                    ? " kits that share no unit with no more than "
                    : " " + subject().plural() + " with no more than ")
                + beyond
                + " of them beyond it."));
  }

  /** Units by the chi-square ratio of claimed to true (methods: degrees of freedom). */
  private Remedy units(double ratio) {
    double have = effectiveDegreesOfFreedom();
    double need = degreesOfFreedom(ratio, study.claim().confidence());
    int units = most(Role.CELL, Role.BOARD);
    int wanted = (int) Math.ceil(units * need / Math.max(1, have));
    return new Remedy(
        Remedy.Kind.MORE_UNITS,
        true,
        OptionalDouble.of(wanted),
        "About "
            + wanted
            + (subject() == ClaimSubject.KIT ? " cells and boards" : " " + subject().plural())
            + " instead of "
            + units
            + " would make the figure tight enough, if they spread as these do.");
  }

  private double effectiveDegreesOfFreedom() {
    return found
        .model()
        .limits(found.outcome().worstPoint(), study.claim().content(), study.claim().confidence())
        .effectiveDegreesOfFreedom();
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
    int lots = largestLots();
    int units = most(Role.CELL, Role.BOARD);
    int perLot = Math.max(2, Math.round(units / (float) Math.max(1, lots)));
    OptionalInt enough =
        IntStream.rangeClosed(2, MOST_LOTS)
            .filter(l -> FewLots.factor(l, perLot, share, study.claim().confidence()) <= ratio)
            .findFirst();
    return enough.isPresent()
        ? new Remedy(
            Remedy.Kind.MORE_LOTS,
            true,
            OptionalDouble.of(Math.max(enough.getAsInt(), lots + 1)),
            "About "
                + Math.max(enough.getAsInt(), lots + 1)
                + (subject() == ClaimSubject.KIT
                    ? " lots of cells and of boards with " + perLot + " units of each"
                    : " lots of " + subject().plural() + " with " + perLot + " units each")
                + " instead of "
                + lots
                + " lots would make the figure tight enough, if they spread as these do.")
        : new Remedy(
            Remedy.Kind.MORE_LOTS,
            false,
            OptionalDouble.empty(),
            "Not even "
                + MOST_LOTS
                + " lots would make the figure tight enough: hardly any room is left above what "
                + subject().plural()
                + " need as estimated.");
  }

  private int largestLots() {
    return most(Role.CELL_LOT, Role.BOARD_LOT);
  }

  /** Levels of what belongs to the claim: of one kind, or the larger number of both. */
  private int most(Role ofCells, Role ofBoards) {
    int cells = found.evidence().largest().levels(ofCells);
    int boards = found.evidence().largest().levels(ofBoards);
    return switch (subject()) {
      case KIT -> Math.max(cells, boards);
      case CELL -> cells;
      case BOARD -> boards;
    };
  }

  private ClaimSubject subject() {
    return study.claim().subject();
  }

  private double lotShare() {
    double lots = 0;
    double all = 0;
    LevelOutcome.PointLimit point = found.outcome().points().get(found.outcome().worstPoint());
    for (LevelOutcome.Contribution c : point.contributions()) {
      double variance = c.standardDeviationGrams() * c.standardDeviationGrams();
      all += variance;
      lots += c.role() == Role.CELL_LOT || c.role() == Role.BOARD_LOT ? variance : 0;
    }
    return all > 0 ? lots / all : 0;
  }

  /** For each spread the share of it that may stay; with it the screen that would leave that. */
  private List<Remedy> contributors(double target) {
    List<Remedy> remedies = new ArrayList<>();
    List<BudgetLine> spreads =
        detail.budget().stream()
            .filter(line -> line.kind() == BudgetLine.Kind.SPREAD && line.costGrams() > 0)
            .sorted(Comparator.comparingDouble(BudgetLine::costGrams).reversed())
            .toList();
    // parts of one component share its role, so each role is looked at once
    List<Role> roles = new ArrayList<>();
    for (BudgetLine line : spreads) {
      Role role = roleOf(line);
      if (!roles.contains(role)) {
        roles.add(role);
        remedies.addAll(contributor(role, line, target));
      }
    }
    boolean any = remedies.stream().anyMatch(Remedy::possible);
    return any
        ? remedies.stream().filter(Remedy::possible).toList()
        : List.of(together(target, remedies));
  }

  /** Where no contributor alone would do: all of them by one factor. */
  private Remedy together(double target, List<Remedy> alone) {
    double share = largestShare(f -> boundWith(everything(), f) <= target);
    String largest = alone.isEmpty() ? "" : alone.get(0).sentence() + " ";
    return boundWith(everything(), 0) > target
        ? new Remedy(
            Remedy.Kind.CONTRIBUTOR,
            false,
            OptionalDouble.of(0),
            largest
                + "Nor without any spread: the mean error, with what is not known of it, is too"
                + " large for it.")
        : new Remedy(
            Remedy.Kind.CONTRIBUTOR,
            true,
            OptionalDouble.of(share),
            largest
                + "All spreads together would have to come down to "
                + Numbers.digits(100 * share, 3)
                + " % of what they are.");
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

  private Role roleOf(BudgetLine line) {
    return found.model().roles().stream()
        .filter(
            r -> {
              String key = r.key().replace(' ', '-');
              return line.key().equals(key)
                  || (line.key().startsWith(key + "-") && !line.key().startsWith(key + "-lot"));
            })
        .findFirst()
        .orElse(Role.RESIDUAL);
  }

  private List<Remedy> contributor(Role role, BudgetLine line, double target) {
    if (boundWith(Set.of(role), 0) > target) {
      return List.of(
          new Remedy(
              Remedy.Kind.CONTRIBUTOR,
              false,
              OptionalDouble.of(0),
              "The largest contributor is: "
                  + line.title()
                  + ". Even without any of it the wanted figure would not be reached."));
    }
    double share = largestShare(f -> boundWith(Set.of(role), f) <= target);
    double sd = sdOf(role);
    List<Remedy> remedies = new ArrayList<>();
    remedies.add(
        new Remedy(
            Remedy.Kind.CONTRIBUTOR,
            true,
            OptionalDouble.of(share),
            "Bring the standard deviation of "
                + lowerFirst(titleOf(role))
                + " at the worst load from "
                + Numbers.digits(sd, 3)
                + " g to "
                + Numbers.digits(share * sd, 3)
                + " g."));
    if ((role == Role.CELL || role == Role.BOARD) && share > 0) {
      remedies.add(screen(role, share, sd));
    }
    return remedies;
  }

  private List<ErrorModel.Source> sources(Role role) {
    return found.model().sources(found.outcome().worstPoint()).stream()
        .filter(source -> source.role() == role)
        .toList();
  }

  private String titleOf(Role role) {
    return sources(role).stream().map(ErrorModel.Source::title).findFirst().orElse(role.title());
  }

  private static String lowerFirst(String text) {
    return text.substring(0, 1).toLowerCase(Locale.ROOT) + text.substring(1);
  }

  private double sdOf(Role role) {
    LevelOutcome.PointLimit point = found.outcome().points().get(found.outcome().worstPoint());
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
                      roles,
                      share * share,
                      study.claim().content(),
                      study.claim().confidence()));
      now = Math.max(now, found.outcome().points().get(p).figureGrams());
    }
    // all loads together need this much more than the worst alone
    return bound * Math.max(1, found.outcome().modelGrams() / now);
  }

  private Remedy screen(Role role, double share, double sd) {
    double limit = truncation(share);
    double yield = 2 * normalBelow(limit) - 1;
    return new Remedy(
        Remedy.Kind.SCREEN,
        true,
        OptionalDouble.of(limit * sd),
        "Test every "
            + role.key()
            + " and ship only those whose own error at the worst load lies within "
            + Numbers.digits(limit * sd, 3)
            + " g of the mean of all "
            + role.key()
            + "s: about "
            + Numbers.digits(100 * yield, 3)
            + " % pass. The claim then rests on that test.");
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

  /** How many tested kits contradict a wanted figure, in a sentence; empty where none does. */
  private String testedBeyond() {
    if (!found.evidence().hasTested(study.claim().subject())) {
      return "";
    }
    List<Double> largest = found.evidence().largest().values();
    double target = wantedGrams - found.evidence().guards().totalGrams();
    TestedKits kits = found.evidence().tested(study.claim().subject());
    long beyond = kits.first().stream().filter(i -> largest.get(i) > target).count();
    return beyond == 0
        ? ""
        : " Of the "
            + kits.first().size()
            + " tested "
            + subject().plural()
            + " "
            + beyond
            + (beyond == 1 ? " reads" : " read")
            + " farther off than that leaves room for.";
  }

  private Remedy content() {
    double content = FigureBackground.contentAt(detail.contentCurve(), wantedGrams);
    return new Remedy(
        Remedy.Kind.CONTENT,
        content > 0,
        OptionalDouble.of(content),
        content > 0
            ? "By the model the wanted figure holds for about "
                + Numbers.digits(100 * content, 3)
                + " % of "
                + subject().plural()
                + ", at the same confidence, if the spread is normal."
                + testedBeyond()
            : "The wanted figure does not hold for half of the " + subject().plural() + ".");
  }
}
