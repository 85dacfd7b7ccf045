package lotproof.report.words;

import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import lotproof.model.FactorPlan.Note;
import lotproof.plan.design.DesignKind;
import lotproof.plan.rehearse.Advice;
import lotproof.plan.rehearse.Advice.Warning;
import lotproof.plan.rehearse.DesignAssessment;
import lotproof.plan.rehearse.DesignComparison;
import lotproof.plan.rehearse.PlannedClaim;

/** What a comparison of designs recommends, in sentences. */
public record AdviceWords(DesignComparison comparison, PlannedClaim question) {

  private DesignAssessment of(DesignKind kind) {
    return comparison.designs().stream().filter(d -> d.design() == kind).findFirst().orElseThrow();
  }

  private static double median(DesignAssessment design) {
    return design.support().orElseThrow().medianFigureGrams();
  }

  private static double hours(DesignAssessment design) {
    return design.effort().benchHours();
  }

  /** Why the design is recommended. */
  public List<String> reasons() {
    Advice advice = comparison.advice();
    DesignAssessment chosen = of(advice.design());
    List<String> reasons = new ArrayList<>();
    reasons.add(summary(chosen));
    reasons.add(
        advice.tellsCellsFromBoards()
            ? "It tells cells from boards, so that it shows whom to ask when the figure is too"
                + " wide, and supports limits for cells and boards alone."
            : "Nothing that fits tells cells from boards; a figure is possible, limits for cells"
                + " and boards alone are not.");
    advice
        .withoutRepeats()
        .map(this::of)
        .ifPresent(
            base ->
                reasons.add(
                    text(
                        "Its %d repeated runs tell pairing from the bench's repeatability and cost"
                            + " %.1f hours; leave them out when time runs short.",
                        chosen.effort().runs() - base.effort().runs(),
                        hours(chosen) - hours(base))));
    advice
        .shortest()
        .map(this::of)
        .ifPresent(
            shorter ->
                reasons.add(
                    text(
                        "The shortest, %s, takes %.0f hours for ±%.4g g and leaves open: %s.",
                        shorter.design().key(),
                        hours(shorter),
                        median(shorter),
                        String.join("; ", missing(shorter)))));
    advice
        .longer()
        .map(this::of)
        .ifPresent(
            longer ->
                reasons.add(
                    text(
                        "%s takes %.0f hours and buys no better figure (±%.4g g): the figure rests"
                            + " on the number of units and lots, hardly on runs for each.",
                        longer.design().key(), hours(longer), median(longer))));
    if (advice.design() != DesignKind.BLOCKS) {
      reasons.add(
          "Its first pass is a study of independent kits on its own, should the bench be needed"
              + " elsewhere.");
    }
    return reasons;
  }

  private String summary(DesignAssessment chosen) {
    DesignAssessment.Effort effort = chosen.effort();
    DesignAssessment.Support support = chosen.support().orElseThrow();
    String base =
        text(
            "%s: %s, %d runs in %d sessions, about %.0f bench hours. If the spread is as assumed,"
                + " half of such studies end with ±%.4g g or less, which is %.2f times the true"
                + " figure.",
            chosen.design().key(),
            chosen.design().words(),
            effort.runs(),
            effort.sessions(),
            effort.benchHours(),
            support.medianFigureGrams(),
            support.penalty());
    return support
        .chance()
        .map(
            share ->
                base
                    + text(
                        " The wanted ±%.4g g is supported by %.0f %% of them.",
                        question.wantedGrams().orElse(0), 100 * share))
        .orElse(base);
  }

  /** What the plan cannot mend. */
  public List<String> warnings() {
    return comparison.advice().warnings().stream().map(AdviceWords::words).toList();
  }

  private static String words(Warning warning) {
    if (warning instanceof Warning.NothingFits it) {
      return text(
          "No design fits into %.4g bench hours; the shortest takes %.1f. Take fewer units or more"
              + " time.",
          it.availableHours(), it.shortestHours());
    }
    if (warning instanceof Warning.WantedFails it) {
      return text(
          "The wanted figure would fail in %.0f of 100 such studies. A figure of ±%.4g g would be"
              + " supported by 95.",
          100 * it.failsFraction(), it.supportedGrams());
    }
    if (warning instanceof Warning.OneLot it) {
      return text(
          "All %ss come from one lot: the claim will speak of that lot only, whatever the design.",
          it.kind().key());
    }
    if (warning instanceof Warning.FewLots it) {
      return text(
          "%d lots of %ss cannot bound how lots differ: their spread has to be taken as up to %.2f"
              + " times its size; %d units from %d lots would bring that to %.2f. More lots help,"
              + " more units of a lot do not.",
          it.lots(), it.kind().key(), it.factor(), it.units(), it.better(), it.betterFactor());
    }
    Warning.LeansOnNormality it = (Warning.LeansOnNormality) warning;
    return text(
        "%d kits that share no unit support %.1f %% of kits without a model; the rest of the claim"
            + " leans on the normal shape.",
        it.disjointKits(), 100 * it.supportedContent());
  }

  /** What a design leaves unknown. */
  public static List<String> missing(DesignAssessment design) {
    if (design.design() == DesignKind.REFERENCE_PARTNER) {
      return List.of(
          "kits as buyers get them (none is tested)",
          "pairing",
          "the error of the reference units, common to all runs");
    }
    List<String> missing =
        new ArrayList<>(design.notes().stream().map(AdviceWords::missing).toList());
    if (design.support().isEmpty()) {
      missing.add("the figure: this layout cannot tell its spreads apart");
    }
    return missing.isEmpty() ? List.of("nothing") : missing;
  }

  private static String missing(Note note) {
    String unit = note.role().key();
    return switch (note.kind()) {
      case ONE_UNIT -> "how " + unit + "s differ";
      case ONE_PARTNER_EACH -> "cells, boards and pairing apart from one another";
      case FEW_REPEATS -> "pairing apart from the bench's repeatability";
      case ONE_LOT -> "how lots of " + unit + "s differ (one lot)";
      case LOT_OF_ONE -> unit + " lots apart from " + unit + "s (one unit a lot)";
      case NO_REPEAT -> unit + "s apart from the bench's repeatability";
    };
  }
}
