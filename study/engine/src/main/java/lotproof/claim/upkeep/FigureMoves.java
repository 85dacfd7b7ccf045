package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.Numbers;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.FoldedNormal;
import lotproof.study.ClaimForm;

/**
 * Explains the difference of two figures of the same level in numbers.
 *
 * <p>The bound is taken apart at the load where it is widest after the move: A0 = the half width
 * about zero that holds the content if the estimated mean and spread were the true ones; what the
 * uncertainty of both adds; what the bound over all loads or the tested kits add above that; the
 * guard bands. A0 is moved by replacing first the mean and then one component after the other,
 * coarsest first. The order matters a little where components are large; the parts always add up.
 */
public final class FigureMoves {
  private static final double STILL_GRAMS = 0.005;

  private final double content;
  private final ClaimForm form;

  private FigureMoves(double content, ClaimForm form) {
    this.content = content;
    this.form = form;
  }

  /**
   * The move of each level, in grams of the claim's form.
   *
   * @param before claims without the decisions
   * @param after claims with them, of the same levels in the same order
   * @param content of the claim
   */
  public static List<FigureMove> between(
      List<LevelClaim> before, List<LevelClaim> after, double content) {
    List<FigureMove> all = new ArrayList<>();
    for (int i = 0; i < Math.min(before.size(), after.size()); i++) {
      all.add(new FigureMoves(content, after.get(i).form()).of(before.get(i), after.get(i)));
    }
    return List.copyOf(all);
  }

  private FigureMove of(LevelClaim before, LevelClaim after) {
    Optional<Figure> was = before.figure();
    Optional<Figure> is = after.figure();
    List<FigureMove.Part> parts =
        was.isPresent() && is.isPresent() ? parts(was.get(), is.get()) : List.of();
    List<FigureMove.Removed> removed = removed(before, after);
    return new FigureMove(
        after.level(),
        grams(was, Figure::safestGrams),
        grams(is, Figure::safestGrams),
        grams(was, Figure::boundGrams),
        grams(is, Figure::boundGrams),
        parts,
        removed,
        words(before, after, parts, removed));
  }

  private static OptionalDouble grams(
      Optional<Figure> figure, java.util.function.ToDoubleFunction<Figure> value) {
    return figure.isPresent()
        ? OptionalDouble.of(value.applyAsDouble(figure.get()))
        : OptionalDouble.empty();
  }

  private List<FigureMove.Part> parts(Figure was, Figure is) {
    PointLimit there = is.points().get(is.worstPoint());
    Optional<PointLimit> same =
        was.points().stream()
            .filter(
                p ->
                    p.loadKilograms() == there.loadKilograms()
                        && p.direction() == there.direction())
            .findFirst();
    if (same.isEmpty()) {
      return List.of(
          new FigureMove.Part(
              "Bound", was.boundGrams(), is.boundGrams(), is.boundGrams() - was.boundGrams()));
    }
    List<FigureMove.Part> parts = new ArrayList<>();
    double plainBefore = plain(same.get());
    double plain = plainBefore;
    Map<String, Double> variances = variances(same.get());
    Map<String, Double> now = variances(there);
    double moved = plain(there, there.meanGrams(), root(variances));
    parts.add(
        new FigureMove.Part(
            "Mean error", same.get().meanGrams(), there.meanGrams(), moved - plain));
    plain = moved;
    Set<String> titles = new LinkedHashSet<>(now.keySet());
    titles.addAll(variances.keySet());
    for (String title : titles) {
      double before = variances.getOrDefault(title, 0.0);
      double after = now.getOrDefault(title, 0.0);
      variances.put(title, after);
      moved = plain(there, there.meanGrams(), root(variances));
      parts.add(
          new FigureMove.Part(
              "Spread: " + title, Math.sqrt(before), Math.sqrt(after), moved - plain));
      plain = moved;
    }
    add(
        parts,
        "What the study does not know of mean and spread",
        same.get().figureGrams() - plainBefore,
        there.figureGrams() - plain);
    add(
        parts,
        "All loads together, and the largest tested kit",
        was.boundGrams() - was.guardGrams() - same.get().figureGrams(),
        is.boundGrams() - is.guardGrams() - there.figureGrams());
    add(
        parts,
        "What is added: masses, loads between, correction",
        was.guardGrams(),
        is.guardGrams());
    return parts;
  }

  private static void add(List<FigureMove.Part> parts, String title, double before, double after) {
    parts.add(new FigureMove.Part(title, before, after, after - before));
  }

  private double plain(PointLimit point) {
    return plain(point, point.meanGrams(), root(variances(point)));
  }

  /** The bound in grams of the form if mean and spread were known. */
  private double plain(PointLimit point, double mean, double sd) {
    double weight = form.weight(point.loadKilograms());
    double grams =
        switch (form.side()) {
          case BOTH -> FoldedNormal.halfWidth(mean, sd, content);
          case ABOVE -> mean + DistributionQuantiles.normal(content) * sd;
          case BELOW -> -mean + DistributionQuantiles.normal(content) * sd;
        };
    return grams / weight;
  }

  private static Map<String, Double> variances(PointLimit point) {
    Map<String, Double> variances = new LinkedHashMap<>();
    point
        .contributions()
        .forEach(
            c -> variances.put(c.title(), c.standardDeviationGrams() * c.standardDeviationGrams()));
    return variances;
  }

  private static double root(Map<String, Double> variances) {
    return Math.sqrt(variances.values().stream().mapToDouble(v -> v).sum());
  }

  private static List<FigureMove.Removed> removed(LevelClaim before, LevelClaim after) {
    Set<String> kept = after.curves().stream().map(ErrorCurve::run).collect(Collectors.toSet());
    return before.curves().stream()
        .filter(curve -> !kept.contains(curve.run()))
        .map(c -> new FigureMove.Removed(c.run(), c.cell(), c.board(), c.largestGrams()))
        .sorted(Comparator.comparingDouble(r -> -r.largestGrams()))
        .toList();
  }

  private static String words(
      LevelClaim before,
      LevelClaim after,
      List<FigureMove.Part> parts,
      List<FigureMove.Removed> removed) {
    if (before.figure().isEmpty() || after.figure().isEmpty()) {
      return before.figure().isEmpty() && after.figure().isEmpty()
          ? "No figure with or without the decisions."
          : after.figure().isEmpty()
              ? "With the decisions there is no figure: "
                  + ((LevelOutcome.NoFigure) after.outcome()).reason()
              : "Only with the decisions is there a figure.";
    }
    Figure was = before.figure().get();
    Figure is = after.figure().get();
    double move = is.boundGrams() - was.boundGrams();
    List<String> sentences = new ArrayList<>();
    sentences.add(
        String.format(
            Locale.ROOT,
            "Without the decisions %s, with them %s; the bound before rounding %s.",
            after.form().words(was.safestGrams()),
            after.form().words(is.safestGrams()),
            Math.abs(move) < STILL_GRAMS
                ? "stays where it is"
                : String.format(Locale.ROOT, "moves by %+.3g g", move)));
    if (Math.abs(move) >= STILL_GRAMS) {
      sentences.add("It is mostly " + main(parts, move) + ".");
    }
    if (!removed.isEmpty()) {
      sentences.add(taken(was, removed.get(0), removed.size(), move));
    }
    return String.join(" ", sentences);
  }

  /** The parts that pull where the bound went, the largest two. */
  private static String main(List<FigureMove.Part> parts, double move) {
    return parts.stream()
        .filter(p -> Math.signum(p.moveGrams()) == Math.signum(move))
        .sorted(Comparator.comparingDouble(p -> -Math.abs(p.moveGrams())))
        .limit(2)
        .map(
            p ->
                String.format(
                    Locale.ROOT,
                    "%s, from %s to %s g (%s%s g)",
                    p.title().substring(0, 1).toLowerCase(Locale.ROOT) + p.title().substring(1),
                    Numbers.digits(p.before(), 3),
                    Numbers.digits(p.after(), 3),
                    p.moveGrams() < 0 ? "" : "+",
                    Numbers.digits(p.moveGrams(), 3)))
        .collect(Collectors.joining("; and "));
  }

  private static String taken(Figure was, FigureMove.Removed largest, int count, double move) {
    String runs = count == 1 ? "The run" : "The largest of the " + count + " runs";
    String sentence =
        String.format(
            Locale.ROOT,
            "%s taken out (%s, cell %s with board %s) was off by %.3g g",
            runs,
            largest.run(),
            largest.cell(),
            largest.board(),
            largest.largestGrams());
    return move > 0 && largest.largestGrams() < was.boundGrams()
        ? sentence
            + ", well within the figure at this level: taking out units that are not extreme here"
            + " only leaves fewer to judge by."
        : sentence + ".";
  }
}
