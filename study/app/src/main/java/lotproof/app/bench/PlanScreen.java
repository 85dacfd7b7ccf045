package lotproof.app.bench;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.words.Numbers.digits;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Predicate;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.CliContext.Style;
import lotproof.model.Role;
import lotproof.plan.design.DesignKind;
import lotproof.plan.rehearse.DesignAssessment;
import lotproof.plan.rehearse.DesignAssessment.ComponentPrecision;
import lotproof.plan.rehearse.DesignComparison;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.AdviceWords;
import lotproof.report.words.StudyWords;
import lotproof.study.Assumed;
import lotproof.study.BenchPlan;
import lotproof.study.PlannedRun;
import org.jspecify.annotations.Nullable;

/** What {@code plan} shows. */
record PlanScreen(CliContext io) {
  void show(
      DesignComparison comparison,
      DesignKind chosen,
      PlanDraft draft,
      BenchPlan plan,
      List<String> written,
      @Nullable Path folder) {
    io.say(words(draft.assumed(), draft.spread()));
    PlannedClaim question = draft.question();
    List<DesignAssessment> designs = comparison.designs();
    io.show(support(designs));
    io.show(precision(designs));
    io.show(
        new TableBuilder<DesignAssessment>("What stays unknown")
            .add("Design", TEXT, d -> d.design().key())
            .add("Not estimated", TEXT, d -> String.join("; ", AdviceWords.missing(d)))
            .of(designs));
    io.sayf(
        "Without a model, ±largest error holds for %.4g %% of kits at %.4g %% confidence from %d"
            + " independent kits on.",
        100 * question.content(),
        100 * question.confidence(),
        comparison.kitsForDistributionFree());
    io.say("");
    io.say(Style.STRONG, "Recommended: " + comparison.advice().design().key(), "");
    AdviceWords words = new AdviceWords(comparison, question);
    words.reasons().forEach(reason -> io.say("  " + reason));
    words.warnings().forEach(warning -> io.say(Style.NO, "  Note: ", warning));
    if (chosen != comparison.advice().design()) {
      io.say("Planned as asked for: " + chosen.key());
    }
    if (folder == null) {
      io.say("Nothing was written; name a study folder to write the plan.");
    } else {
      written(chosen, plan, written, folder);
    }
  }

  /** What was assumed in words, and what that is in grams at the level. */
  static String words(Assumed assumed, Assumed.AtLevel atLevel) {
    String start =
        assumed instanceof Assumed.DataSheet c
            ? String.format(
                Locale.ROOT,
                "Assumed, as standard deviations: sensitivity of cells %s %%, gain of boards %s %%,"
                    + " non-linearity and hysteresis %s %% of capacity each, a reading %s g. At"
                    + " level %s that is",
                digits(c.cellPercent(), 3),
                digits(c.boardPercent(), 3),
                digits(c.combinedPercent(), 3),
                digits(c.repeatGrams(), 3),
                StudyWords.level(atLevel.level()))
            : "Assumed%s (%s)"
                .formatted(
                    atLevel.level().isEmpty()
                        ? ""
                        : " at level " + StudyWords.level(atLevel.level()),
                    atLevel.origin());
    return start
        + String.format(
            Locale.ROOT,
            ": mean %s g; cells %s g (%.0f %% of the variance between lots), boards %s g (%.0f"
                + " %%), pairing %s g, repeat %s g.",
            digits(atLevel.meanGrams(), 3),
            digits(atLevel.cellGrams(), 3),
            100 * atLevel.cellLotShare(),
            digits(atLevel.boardGrams(), 3),
            100 * atLevel.boardLotShare(),
            digits(atLevel.pairingGrams(), 3),
            digits(atLevel.repeatGrams(), 3));
  }

  private static Table support(List<DesignAssessment> designs) {
    return new TableBuilder<DesignAssessment>("What each design can support")
        .add("Design", TEXT, d -> d.design().key())
        .add("Runs", COUNT, d -> d.effort().runs())
        .add("Sessions", COUNT, d -> d.effort().sessions())
        .secondary()
        .add("Hours [h]", decimals(1), d -> d.effort().benchHours())
        .missing("-")
        .add("Figure, median [g]", decimals(0), d -> d.support().map(s -> s.medianFigureGrams()))
        .add(
            "Figure, 95 % of studies [g]",
            decimals(0), d -> d.support().map(s -> s.unluckyFigureGrams()))
        .add("Over the true", decimals(2), d -> d.support().map(s -> s.penalty()))
        .secondary()
        .add("Chance of the wanted", percent(0), d -> d.support().flatMap(s -> s.chance()))
        .add("Independent kits", COUNT, DesignAssessment::disjointKits)
        .add("Content without model", percent(1), d -> d.support().map(s -> d.supportedContent()))
        .secondary()
        .add("Cost of few lots", decimals(2), DesignAssessment::lotFactor)
        .secondary()
        .of(designs);
  }

  private static Table precision(List<DesignAssessment> designs) {
    return new TableBuilder<DesignAssessment>(
            "Expected standard error of each spread, as a part of it; disjoint pairs = 1 for each"
                + " run")
        .add("Design", TEXT, d -> d.design().key())
        .missing("-")
        .add("Cells", percent(1), d -> error(d, c -> c.role() == Role.CELL))
        .add("Boards", percent(1), d -> error(d, c -> c.role() == Role.BOARD))
        .add(
            "Pairing",
            percent(1),
            d -> error(d, c -> c.role() == Role.PAIR || c.holds().equals(List.of(Role.PAIR))))
        .add(
            "Repeat",
            percent(1),
            d -> error(d, c -> c.role() == Role.RESIDUAL && c.holds().isEmpty()))
        .add("Whole kit", percent(1), d -> d.precision().totalRelativeStandardError())
        .add("Precision per run", decimals(2), d -> d.precision().perRun())
        .of(designs);
  }

  private static Optional<Double> error(DesignAssessment d, Predicate<ComponentPrecision> wanted) {
    return d.precision().components().stream()
        .filter(wanted)
        .findFirst()
        .flatMap(ComponentPrecision::relativeStandardError);
  }

  private void written(DesignKind chosen, BenchPlan plan, List<String> written, Path folder) {
    int days = plan.runs().stream().mapToInt(PlannedRun::day).max().orElse(0);
    long checks = plan.runs().stream().filter(PlannedRun::isCheck).count();
    io.sayf(
        "Written to %s: %d files, %d runs and %d of the check standard on %d days.",
        folder, written.size(), plan.runs().size() - checks, checks, days);
    if (checks == 0) {
      io.say(
          Style.NO,
          "  Note: ",
          "there is no check standard; nothing will tell a drifting bench from drifting units."
              + " Name one with --check CELL/BOARD.");
    }
    io.say("Read bench/preparation.txt before the first reading. Then:");
    if (chosen != DesignKind.REFERENCE_PARTNER) {
      io.say("  lotproof rehearse " + folder);
    }
    io.say("  lotproof enter " + folder + "   or fill in bench/*.xlsx and import them");
  }
}
