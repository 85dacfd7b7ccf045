package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.claim.FigureDetail.Addend;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.reduce.ErrorCurve;
import lotproof.review.DecidedRuns;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.FoldedNormal;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.Study;
import lotproof.work.Parallel;

/**
 * How decisions changed the figure of one calibration level.
 *
 * <p>The bound is taken apart at the load where it is widest after the change: A0 = the half width
 * about zero that holds the content if the estimated mean and spread were the true ones; what the
 * uncertainty of both adds; what the bound over all loads or the tested kits add above that; the
 * guard bands. A0 is moved by replacing first the mean and then one component after the other,
 * coarsest first. The order matters a little where components are large; the parts always add up.
 *
 * @param before without the decisions
 * @param after with them
 * @param parts what the change of the bound is made of; they add up to it
 * @param removed what the runs that were taken out showed at this level, the largest error first
 * @param takenOut how many of each kind were taken out, and whether they are the extremes
 */
public record FigureChange(
    CalibrationLevel level,
    ClaimForm form,
    Side before,
    Side after,
    List<Part> parts,
    List<Removed> removed,
    List<TakenOut> takenOut) {
  public FigureChange {
    parts = List.copyOf(parts);
    removed = List.copyOf(removed);
    takenOut = List.copyOf(takenOut);
  }

  /** One side of the change: the printable figure and the limit behind it; absent without one. */
  public record Side(OptionalDouble figureGrams, OptionalDouble limitGrams) {
    static Side of(LevelClaim claim) {
      return new Side(
          claim.printableGrams(),
          claim.figure().stream().mapToDouble(Figure::limitGrams).findFirst());
    }
  }

  /** What changed the bound. */
  public enum Cause {
    /** The bound as a whole, where it cannot be taken apart. */
    BOUND,
    MEAN,
    /** The spread of one source. */
    SPREAD,
    /** Uncertainty of mean and spread. */
    UNCERTAINTY,
    /** The bound over all loads together, or the largest tested kit. */
    ALL_LOADS,
    /** Guard bands. */
    ADDED,
    /** Rounding outward to the study's step. */
    ROUNDING
  }

  /**
   * One cause of the change, with its sizes in grams.
   *
   * @param source name of the source of a spread; empty otherwise
   * @param moveGrams what that did to the bound
   */
  public record Part(Cause cause, String source, double before, double after, double moveGrams) {}

  /** A run that no longer counts, with the largest size of its error. */
  public record Removed(String run, String cell, String board, double largestGrams) {}

  /** The change of the bound; absent where a figure is missing. */
  public OptionalDouble moveGrams() {
    return before.limitGrams.isPresent() && after.limitGrams.isPresent()
        ? OptionalDouble.of(after.limitGrams.getAsDouble() - before.limitGrams.getAsDouble())
        : OptionalDouble.empty();
  }

  /**
   * The change of each level, in grams of the claim's form; both have the same levels.
   *
   * @param excluded runs that decisions took out
   */
  public static List<FigureChange> between(
      Study study,
      List<LevelClaim> before,
      List<LevelClaim> after,
      List<DecidedRuns.Excluded> excluded) {
    return Parallel.map(
        IntStream.range(0, before.size()).boxed().toList(),
        i -> of(study, before.get(i), after.get(i), excluded));
  }

  private static FigureChange of(
      Study study, LevelClaim before, LevelClaim after, List<DecidedRuns.Excluded> excluded) {
    Set<String> kept = after.curves().stream().map(ErrorCurve::run).collect(Collectors.toSet());
    List<Removed> removed =
        before.curves().stream()
            .filter(curve -> !kept.contains(curve.run()))
            .map(c -> new Removed(c.run(), c.cell(), c.board(), c.largestGrams()))
            .sorted(Comparator.comparingDouble(r -> -r.largestGrams()))
            .toList();
    double content = study.claim().content();
    return new FigureChange(
        after.level(),
        after.form(),
        Side.of(before),
        Side.of(after),
        before
            .figure()
            .flatMap(was -> after.figure().map(is -> parts(was, is, after.form(), content)))
            .orElse(List.of()),
        removed,
        TakenOut.of(
            study,
            before,
            removed.stream().map(Removed::run).collect(Collectors.toSet()),
            excluded));
  }

  /** What adds up to a printable figure, at the load where its limit is widest. */
  static List<Addend> sum(Figure figure, ClaimForm form, double content) {
    PointLimit worst = figure.worst();
    double weight = form.weight(worst.loadKilograms());
    double mean = form.counted(form.sign() * worst.meanGrams()) / weight;
    double known = known(form, content, worst.meanGrams(), variances(worst)) / weight;
    double added = figure.guards().totalGrams();
    List<Addend> sum = new ArrayList<>();
    sum.add(new Addend(Cause.MEAN, Optional.empty(), mean));
    sum.add(new Addend(Cause.SPREAD, Optional.empty(), known - mean));
    sum.add(new Addend(Cause.UNCERTAINTY, Optional.empty(), worst.figureGrams() - known));
    double beyond = figure.limitGrams() - added - worst.figureGrams();
    sum.add(new Addend(Cause.ALL_LOADS, Optional.empty(), beyond));
    figure.guards().grams().entrySet().stream()
        .filter(guard -> guard.getValue() > 0)
        .forEach(
            guard ->
                sum.add(new Addend(Cause.ADDED, Optional.of(guard.getKey()), guard.getValue())));
    double sides = figure.guards().sidesGrams();
    if (sides > 0) {
      sum.add(new Addend(Cause.ADDED, Optional.empty(), sides));
    }
    double rounding = figure.printableGrams() - figure.limitGrams();
    sum.add(new Addend(Cause.ROUNDING, Optional.empty(), rounding));
    return sum;
  }

  private static List<Part> parts(Figure was, Figure is, ClaimForm form, double content) {
    PointLimit there = is.worst();
    Optional<PointLimit> same =
        was.points().stream()
            .filter(p -> p.loadKilograms() == there.loadKilograms())
            .filter(p -> p.direction() == there.direction())
            .findFirst();
    if (same.isEmpty()) {
      return List.of(part(Cause.BOUND, was.limitGrams(), is.limitGrams()));
    }
    double weight = form.weight(there.loadKilograms());
    ToDoubleBiFunction<Double, Map<String, Double>> known =
        (mean, variances) -> known(form, content, mean, variances) / weight;
    List<Part> parts = new ArrayList<>();
    Map<String, Double> variances = variances(same.get());
    Map<String, Double> now = variances(there);
    double before = known.applyAsDouble(same.get().meanGrams(), variances);
    double reached = known.applyAsDouble(there.meanGrams(), variances);
    parts.add(
        new Part(Cause.MEAN, "", same.get().meanGrams(), there.meanGrams(), reached - before));
    Set<String> sources = new LinkedHashSet<>(now.keySet());
    sources.addAll(variances.keySet());
    for (String source : sources) {
      double old = variances.getOrDefault(source, 0.0);
      double renewed = now.getOrDefault(source, 0.0);
      variances.put(source, renewed);
      double moved = known.applyAsDouble(there.meanGrams(), variances);
      parts.add(
          new Part(Cause.SPREAD, source, Math.sqrt(old), Math.sqrt(renewed), moved - reached));
      reached = moved;
    }
    parts.add(
        part(Cause.UNCERTAINTY, same.get().figureGrams() - before, there.figureGrams() - reached));
    double added = was.guards().totalGrams();
    double addedNow = is.guards().totalGrams();
    parts.add(
        part(
            Cause.ALL_LOADS,
            was.limitGrams() - added - same.get().figureGrams(),
            is.limitGrams() - addedNow - there.figureGrams()));
    parts.add(part(Cause.ADDED, added, addedNow));
    return parts;
  }

  private static Part part(Cause cause, double before, double after) {
    return new Part(cause, "", before, after, after - before);
  }

  /** The bound in grams at the load if mean and spread were known. */
  private static double known(
      ClaimForm form, double content, double mean, Map<String, Double> variances) {
    double sd = Math.sqrt(variances.values().stream().mapToDouble(v -> v).sum());
    return form.twoSided()
        ? FoldedNormal.halfWidth(mean, sd, content)
        : form.sign() * mean + DistributionQuantiles.normal(content) * sd;
  }

  private static Map<String, Double> variances(PointLimit point) {
    Map<String, Double> variances = new LinkedHashMap<>();
    for (LevelOutcome.Contribution c : point.contributions()) {
      double sd = c.standardDeviationGrams();
      variances.put(c.title(), sd * sd);
    }
    return variances;
  }
}
