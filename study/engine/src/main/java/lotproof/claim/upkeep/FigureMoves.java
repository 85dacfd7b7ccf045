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

  private FigureMoves(double content) {
    this.content = content;
  }

  /**
   * The move of each level that both have.
   *
   * @param before claims without the decisions
   * @param after claims with them
   * @param content of the claim
   */
  public static List<FigureMove> between(
      List<LevelClaim> before, List<LevelClaim> after, double content) {
    FigureMoves moves = new FigureMoves(content);
    List<FigureMove> all = new ArrayList<>();
    for (LevelClaim now : after) {
      before.stream()
          .filter(claim -> claim.level().equals(now.level()))
          .findFirst()
          .ifPresent(was -> all.add(moves.of(was, now)));
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
    double moved = HalfWidth.of(there.meanGrams(), root(variances), content);
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
      moved = HalfWidth.of(there.meanGrams(), root(variances), content);
      parts.add(
          new FigureMove.Part(
              "Spread: " + title, Math.sqrt(before), Math.sqrt(after), moved - plain));
      plain = moved;
    }
    add(
        parts,
        "What the study does not know of mean and spread",
        same.get().withinGrams() - plainBefore,
        there.withinGrams() - plain);
    add(
        parts,
        "All loads together, and the largest tested kit",
        was.boundGrams() - guards(was) - same.get().withinGrams(),
        is.boundGrams() - guards(is) - there.withinGrams());
    add(parts, "Guard bands for masses", guards(was), guards(is));
    return parts;
  }

  private static void add(List<FigureMove.Part> parts, String title, double before, double after) {
    parts.add(new FigureMove.Part(title, before, after, after - before));
  }

  private static double guards(Figure figure) {
    return figure.benchMassGrams() + figure.buyerMassGrams();
  }

  private double plain(PointLimit point) {
    return HalfWidth.of(point.meanGrams(), root(variances(point)), content);
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
            "Without the decisions ±%s g, with them ±%s g; the bound before rounding %s.",
            Numbers.plain(was.safestGrams()),
            Numbers.plain(is.safestGrams()),
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
                    "%s, from %.3g to %.3g g (%+.3g g)",
                    p.title().substring(0, 1).toLowerCase(Locale.ROOT) + p.title().substring(1),
                    p.before(),
                    p.after(),
                    p.moveGrams()))
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
            + ", well within the figure at this level: taking out units that are not extreme here only leaves fewer to judge by."
        : sentence + ".";
  }
}
