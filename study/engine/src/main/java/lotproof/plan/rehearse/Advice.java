package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lotproof.plan.design.DesignKind;
import lotproof.statistics.components.FewLots;
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
 * @param design key of the recommended design
 * @param reasons why, in sentences
 * @param warnings what the plan cannot mend, in sentences
 */
public record Advice(String design, List<String> reasons, List<String> warnings) {
  /** Chances closer than this are told apart by the draws, not by the designs. */
  private static final double SAME_CHANCE = 0.03;

  private static final double SAME_FIGURE = 1.03;
  private static final int LOTS_FOR_GENERAL_WORDING = 5;
  private static final double GOOD_CHANCE = 0.8;

  public Advice {
    reasons = List.copyOf(reasons);
    warnings = List.copyOf(warnings);
  }

  static Advice of(List<DesignAssessment> designs, DesignComparison.Start start) {
    List<DesignAssessment> kits =
        designs.stream()
            .filter(design -> design.support().isPresent())
            // none of its kits is tested as a buyer gets it, so it is for those who ask for it
            .filter(design -> !design.design().equals(DesignKind.REFERENCE_PARTNER.key()))
            .toList();
    if (kits.isEmpty()) {
      throw new IllegalArgumentException(
          "no design can support a figure with these units; more units are needed");
    }
    List<String> reasons = new ArrayList<>();
    List<String> warnings = new ArrayList<>();
    List<DesignAssessment> fitting = fitting(kits, start, warnings);
    List<DesignAssessment> telling = fitting.stream().filter(Advice::tellsCellsFromBoards).toList();
    List<DesignAssessment> candidates = telling.isEmpty() ? fitting : telling;
    DesignAssessment base = cheapestOfTheBest(candidates);
    DesignAssessment chosen = withRepeats(base, fitting);
    reasons.add(sentence(chosen, start));
    why(chosen, base, kits, telling.isEmpty(), reasons);
    warn(chosen, start, warnings);
    return new Advice(chosen.design(), reasons, warnings);
  }

  private static List<DesignAssessment> fitting(
      List<DesignAssessment> kits, DesignComparison.Start start, List<String> warnings) {
    if (start.mostHours().isEmpty()) {
      return kits;
    }
    double most = start.mostHours().getAsDouble();
    List<DesignAssessment> fitting =
        kits.stream().filter(design -> design.benchHours() <= most).toList();
    if (!fitting.isEmpty()) {
      return fitting;
    }
    DesignAssessment shortest =
        kits.stream().min(Comparator.comparingDouble(DesignAssessment::benchHours)).orElseThrow();
    warnings.add(
        text(
            "No design fits into %.4g bench hours; the shortest takes %.1f. Take fewer units or"
                + " more time.",
            most, shortest.benchHours()));
    return List.of(shortest);
  }

  private static boolean tellsCellsFromBoards(DesignAssessment design) {
    return design.components().stream()
        .anyMatch(component -> component.component().equals(LayoutModel.CELL));
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
        .min(Comparator.comparingDouble(DesignAssessment::benchHours))
        .orElseThrow();
  }

  private static DesignAssessment withRepeats(
      DesignAssessment base, List<DesignAssessment> fitting) {
    Optional<DesignAssessment> repeats =
        fitting.stream()
            .filter(design -> design.design().equals(DesignKind.ROTATION_2_REPEATS.key()))
            .findFirst();
    boolean rotation = base.design().equals(DesignKind.ROTATION_2.key());
    return rotation && repeats.isPresent() ? repeats.get() : base;
  }

  private static Optional<Double> chance(DesignAssessment design) {
    return design.support().flatMap(DesignAssessment.Support::chance);
  }

  private static double median(DesignAssessment design) {
    return design.support().orElseThrow().medianFigureGrams();
  }

  private static String sentence(DesignAssessment chosen, DesignComparison.Start start) {
    String base =
        text(
            "%s: %s, %d runs in %d sessions, about %.0f bench hours.",
            chosen.design(), chosen.words(), chosen.runs(), chosen.sessions(), chosen.benchHours());
    String figure =
        text(
            " If the spread is as assumed, half of such studies end with ±%.4g g or less, which is"
                + " %.2f times the true figure.",
            median(chosen), chosen.support().orElseThrow().penalty());
    String wanted =
        chance(chosen)
            .map(
                share ->
                    text(
                        " The wanted ±%.4g g is supported by %.0f %% of them.",
                        start.question().wantedGrams().orElse(0), 100 * share))
            .orElse("");
    return base + figure + wanted;
  }

  private static void why(
      DesignAssessment chosen,
      DesignAssessment base,
      List<DesignAssessment> kits,
      boolean noneTells,
      List<String> reasons) {
    if (noneTells) {
      reasons.add(
          "Nothing that fits tells cells from boards; a figure is possible, limits for cells and"
              + " boards alone are not.");
    } else {
      reasons.add(
          "It tells cells from boards, so that it shows whom to ask when the figure is too wide,"
              + " and supports limits for cells and boards alone.");
    }
    if (!chosen.equals(base)) {
      reasons.add(
          text(
              "Its %d repeated runs tell pairing from the bench's repeatability and cost %.1f"
                  + " hours; leave them out when time runs short.",
              chosen.runs() - base.runs(), chosen.benchHours() - base.benchHours()));
    }
    kits.stream()
        .filter(design -> design.benchHours() < base.benchHours())
        .min(Comparator.comparingDouble(DesignAssessment::benchHours))
        .ifPresent(
            shorter ->
                reasons.add(
                    text(
                        "The shortest, %s, takes %.0f hours for ±%.4g g and leaves open: %s.",
                        shorter.design(),
                        shorter.benchHours(),
                        median(shorter),
                        String.join("; ", shorter.missing()))));
    kits.stream()
        .filter(design -> design.benchHours() > chosen.benchHours())
        .filter(design -> median(design) >= median(chosen) / SAME_FIGURE)
        .max(Comparator.comparingDouble(DesignAssessment::benchHours))
        .ifPresent(
            longer ->
                reasons.add(
                    text(
                        "%s takes %.0f hours and buys no better figure (±%.4g g): the figure rests"
                            + " on the number of units and lots, hardly on runs for each.",
                        longer.design(), longer.benchHours(), median(longer))));
    if (!chosen.design().equals(DesignKind.BLOCKS.key())) {
      reasons.add(
          "Its first pass is a study of independent kits on its own, should the bench be needed"
              + " elsewhere.");
    }
  }

  private static void warn(
      DesignAssessment chosen, DesignComparison.Start start, List<String> warnings) {
    chance(chosen)
        .filter(share -> share < GOOD_CHANCE)
        .ifPresent(
            share ->
                warnings.add(
                    text(
                        "The wanted figure would fail in %.0f of 100 such studies. A figure of"
                            + " ±%.4g g would be supported by 95.",
                        100 * (1 - share), chosen.support().orElseThrow().unluckyFigureGrams())));
    for (UnitKind kind : UnitKind.values()) {
      int lots = start.units().lots(kind).size();
      if (lots == 1) {
        warnings.add(
            text(
                "All %ss come from one lot: the claim will speak of that lot only, whatever the"
                    + " design.",
                kind.word()));
      } else if (lots < LOTS_FOR_GENERAL_WORDING) {
        warnings.add(fewLots(kind, lots, start));
      }
    }
    if (chosen.supportedContent() < start.question().content()) {
      warnings.add(
          text(
              "%d kits that share no unit support %.1f %% of kits without a model; the rest of the"
                  + " claim leans on the normal shape.",
              chosen.disjointKits(), 100 * chosen.supportedContent()));
    }
  }

  private static String fewLots(UnitKind kind, int lots, DesignComparison.Start start) {
    int units = start.units().serials(kind).size();
    double share =
        kind == UnitKind.CELL ? start.assumed().cellLotShare() : start.assumed().boardLotShare();
    double confidence = start.question().confidence();
    double now = FewLots.factor(lots, Math.max(1, units / (double) lots), share, confidence);
    int better = Math.min(10, Math.max(LOTS_FOR_GENERAL_WORDING, units / 2));
    double then = FewLots.factor(better, Math.max(1, units / (double) better), share, confidence);
    return text(
        "%d lots of %ss cannot bound how lots differ: their spread has to be taken as up to %.2f"
            + " times its size; %d units from %d lots would bring that to %.2f. More lots help,"
            + " more units of a lot do not.",
        lots, kind.word(), now, units, better, then);
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
