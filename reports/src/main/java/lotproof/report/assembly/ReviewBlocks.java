package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.claim.FigureChange;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.PlanCoverage;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.report.model.Block;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.Numbers;
import lotproof.report.words.ReviewWords;
import lotproof.report.words.StudyWords;
import lotproof.review.DecidedRuns;
import lotproof.review.ExchangedSerials;
import lotproof.review.Finding;
import lotproof.review.ReadingFinding;
import lotproof.review.StudyProgress;
import lotproof.study.Decision;
import lotproof.study.Design;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** Decisions and what they did to the figures, as blocks for the report and for commands. */
public final class ReviewBlocks {
  private static final int PARTNERS_SHOWN = 4;

  private ReviewBlocks() {}

  /** Decisions in the order in which they were written, withdrawn ones marked. */
  public static Table history(List<Decision> decisions) {
    Map<String, String> undone = new HashMap<>();
    decisions.stream()
        .filter(d -> d.action() == Decision.Action.WITHDRAWN)
        .forEach(d -> d.value().ifPresent(name -> undone.put(name, d.id())));
    return new TableBuilder<Decision>("decisions", "Decisions")
        .add("Decision", TEXT, Decision::id)
        .add("When", TEXT, Decision::time)
        .secondary()
        .add("Who", TEXT, Decision::who)
        .secondary()
        .add("Action", TEXT, ReviewBlocks::action)
        .add("Kind", TEXT, d -> d.target().key())
        .add("Serial or run", SERIAL, Decision::serial)
        .add("Cause", TEXT, Decision::cause)
        .add("Evidence", TEXT, Decision::evidence)
        .secondary()
        .add("Status", TEXT, d -> status(d, undone))
        .of(decisions);
  }

  private static String status(Decision decision, Map<String, String> undone) {
    if (decision.action() == Decision.Action.WITHDRAWN) {
      return "";
    }
    String by = undone.get(decision.id());
    return by == null ? "holds" : "withdrawn by " + by;
  }

  private static String action(Decision decision) {
    String value = decision.value().orElse("");
    return switch (decision.action()) {
      case CORRECTED -> "corrected " + decision.field().orElse("") + " to " + value;
      case WITHDRAWN -> "withdrawn " + value;
      case RE_MEASURED -> "re-measured by run " + value;
      case SCREENED -> "screened: " + decision.field().orElse("") + " " + value;
      default -> decision.action().key();
    };
  }

  private record Move(FigureChange change, FigureChange.Part part) {}

  /** How decisions moved the figures: one sentence a level, and the parts of each move. */
  public static List<Block> changes(List<FigureChange> changes) {
    return changes("moves", changes);
  }

  /**
   * The same.
   *
   * @param id id of the table of parts
   */
  static List<Block> changes(String id, List<FigureChange> changes) {
    List<Block> blocks = new ArrayList<>();
    List<Move> moves = new ArrayList<>();
    for (FigureChange change : changes) {
      blocks.add(
          Block.paragraph(
              "{}: {}", StudyWords.level(change.level().label()), ReviewWords.change(change)));
      if (change.parts().stream().anyMatch(p -> p.moveGrams() != 0)) {
        change.parts().forEach(part -> moves.add(new Move(change, part)));
      }
    }
    if (!moves.isEmpty()) {
      blocks.add(
          new TableBuilder<Move>(id, "What moved the limit")
              .note(
                  "At the load where the limit is widest. The parts of a level add up to the change"
                      + " of its limit before rounding: mean and spreads are exchanged one after"
                      + " the other, then their estimation uncertainty.")
              .add("Calibration level", TEXT, m -> StudyWords.level(m.change().level().label()))
              .add("Part of the limit", TEXT, m -> ReviewWords.title(m.part()))
              .add("Part without the decisions [g]", significant(4), m -> m.part().before())
              .add("Part with the decisions [g]", significant(4), m -> m.part().after())
              .add("Change of the limit [g]", significant(3), m -> m.part().moveGrams())
              .of(moves));
    }
    return blocks;
  }

  /** The split claim: bad units that could ship stay in the product's promise. */
  public static List<Block> split(Study study, SplitClaim claim) {
    return List.of(
        Block.paragraph("{}", ReviewWords.split(study, claim)),
        new TableBuilder<SplitClaim.LevelFigure>("split-claim", "All units in, or good ones only")
            .note(
                "Both columns at {} % confidence in all; the split one states each part at {}"
                    + " %.",
                Numbers.percent(claim.confidence()), Numbers.percent(claim.partConfidence()))
            .add("Calibration level", TEXT, l -> StudyWords.level(l.level().label()))
            .missing("no figure")
            .add("Figure with all units ± [g]", significant(4), l -> l.allGrams())
            .add("Share of all", percent(1), l -> claim.goodContent())
            .add("Figure of good units ± [g]", significant(4), l -> l.goodGrams())
            .add("Share of all, good and bad", percent(2), l -> claim.contentFraction())
            .of(claim.levels()));
  }

  /** Units and runs that stand out, and what people decided about them. */
  static Section section(StudyResult result) {
    List<Finding> findings = result.findings();
    List<Block> blocks = new ArrayList<>();
    blocks.add(
        Block.paragraph(
            "Everything that stands out is listed. The program excludes nothing: a person decides,"
                + " with a cause. A unit without a cause stays in, because a buyer may receive"
                + " it."));
    blocks.add(byUnit(findings));
    blocks.add(findings(findings));
    blocks.add(evidenceTable(findings));
    blocks.add(readings(result.readings()));
    if (!result.asDecided().exchanged().isEmpty()) {
      blocks.add(exchanged(result.asDecided().exchanged()));
    }
    blocks.add(history(result.decisions()));
    blocks.add(excluded(result));
    return new Section(
        "review",
        "Findings and decisions",
        Prose.of(
            "{} of {} findings have no decision; {} runs are left out.",
            findings.stream().filter(f -> f.decision().isEmpty()).count(),
            findings.size(),
            result.excluded().size()),
        blocks);
  }

  /** A unit with a finding or more, those without a decision first. */
  private record OfUnit(List<Finding> findings) {
    Finding first() {
      return findings.get(0);
    }

    boolean isOpen() {
      return findings.stream().anyMatch(f -> f.decision().isEmpty());
    }

    String decision() {
      return isOpen() ? "open" : ReviewBlocks.decision(first()).orElseThrow();
    }

    String characteristics() {
      return findings.stream()
          .map(
              f ->
                  text(
                          "%s %s %s",
                          f.characteristic().title(),
                          digits(f.effect(), 3),
                          f.characteristic().unit())
                      .strip())
          .collect(Collectors.joining("; "));
    }
  }

  /** Units and runs with their findings, those without a decision first. */
  private static List<OfUnit> units(List<Finding> findings) {
    return findings.stream()
        .collect(Collectors.groupingBy(Finding::serial, LinkedHashMap::new, Collectors.toList()))
        .values()
        .stream()
        .map(OfUnit::new)
        .sorted(Comparator.comparing(u -> !u.isOpen()))
        .toList();
  }

  /** All that speaks for and against each unit and run that stands out, one after the other. */
  public static List<Section> evidence(List<Finding> findings) {
    return units(findings).stream().map(ReviewBlocks::evidence).toList();
  }

  private static Section evidence(OfUnit unit) {
    List<Block> blocks = new ArrayList<>();
    for (Finding f : unit.findings()) {
      blocks.add(
          Block.finding(
              "{} {} {}, {}: test value {}, critical {}{}.",
              f.characteristic().title(),
              digits(f.effect(), 3),
              f.characteristic().unit(),
              f.favourable() ? "better" : "worse",
              digits(f.test().testValue(), 3),
              digits(f.test().criticalValue(), 3),
              f.modifiedZ().isPresent()
                  ? "; " + digits(f.modifiedZ().getAsDouble(), 3) + " robust deviations"
                  : ""));
      String signs = ReviewWords.signs(f);
      blocks.add(
          Block.paragraph(
              "{}. Values: {}. Partners in other runs: {}.{}",
              Numbers.sentence(ReviewWords.why(f)),
              evidence(f),
              partners(f),
              signs.isEmpty() ? "" : " Signs: " + signs + "."));
    }
    return new Section(
        "finding",
        unit.first().target().key() + " " + unit.first().serial(),
        Prose.of(
            "The cause lies in: {}. Decision: {}.",
            unit.first().verdict().odd().word(),
            unit.decision()),
        blocks);
  }

  private static Table byUnit(List<Finding> findings) {
    return new TableBuilder<OfUnit>("findings-by-unit", "Units and runs that stand out")
        .note(
            "How far from the mean of their kind, before any decision; generalized extreme"
                + " Studentized deviate test at the 5 % level.")
        .add("Kind", TEXT, u -> u.first().target().key())
        .add("Serial or run", SERIAL, u -> u.first().serial())
        .add("Characteristics", TEXT, OfUnit::characteristics)
        .add("Likely cause", TEXT, u -> u.first().verdict().odd().word())
        .add("Decision", TEXT, OfUnit::decision)
        .of(units(findings));
  }

  private static Optional<String> decision(Finding finding) {
    return finding.decision().map(d -> d.action().key() + ": " + d.cause());
  }

  private static Table findings(List<Finding> findings) {
    return new TableBuilder<Finding>("findings", "Each finding")
        .detail()
        .note(
            "From all runs as recorded, before any decision. Cells and boards by their predicted"
                + " effects in the crossed model, runs by their residuals; generalized extreme"
                + " Studentized deviate test at the 5 % level, robust deviations from the median.")
        .add("Kind", TEXT, f -> f.target().key())
        .add("Serial or run", SERIAL, Finding::serial)
        .add("Characteristic", TEXT, f -> f.characteristic().title())
        .add("Deviation", significant(3), Finding::effect)
        .add("Unit", TEXT, f -> f.characteristic().unit())
        .missing("most are equal")
        .add("Robust deviations", decimals(1), Finding::modifiedZ)
        .add("Test value", decimals(2), f -> f.test().testValue())
        .add("Critical value", decimals(2), f -> f.test().criticalValue())
        .add("Direction", TEXT, f -> f.favourable() ? "better" : "worse")
        .add("Likely cause", TEXT, f -> f.verdict().odd().word())
        .missing("open")
        .add("Decision", TEXT, ReviewBlocks::decision)
        .of(findings);
  }

  private static Table evidenceTable(List<Finding> findings) {
    return new TableBuilder<Finding>("finding-evidence", "What the crossed runs say about each")
        .detail()
        .note(
            "The cause lies in a unit that is off in the same direction with each partner, in a"
                + " pair that is off together only, in a run that the pair's other runs do not"
                + " confirm. A rule of reading and no test; an unusually good value can be a"
                + " measuring fault.")
        .add("Serial or run", SERIAL, Finding::serial)
        .add("Characteristic", TEXT, f -> f.characteristic().title())
        .add("Reason", TEXT, ReviewWords::why)
        .add("Values", TEXT, ReviewBlocks::evidence)
        .add("Partners in other runs", TEXT, ReviewBlocks::partners)
        .add("Signs", TEXT, ReviewWords::signs)
        .of(findings);
  }

  private static String evidence(Finding finding) {
    return finding.evidence().stream()
        .map(
            e ->
                text(
                    "%s (%s): %s",
                    e.run(), Design.pairName(e.cell(), e.board()), digits(e.value(), 5)))
        .collect(Collectors.joining("; "));
  }

  private static String partners(Finding finding) {
    List<Finding.Evidence> all = finding.partners();
    String shown =
        all.stream()
            .limit(PARTNERS_SHOWN)
            .map(e -> Design.pairName(e.cell(), e.board()) + ": " + digits(e.value(), 5))
            .collect(Collectors.joining("; "));
    return all.size() > PARTNERS_SHOWN
        ? shown + "; and " + (all.size() - PARTNERS_SHOWN) + " more"
        : shown;
  }

  private static Table readings(List<ReadingFinding> readings) {
    return new TableBuilder<ReadingFinding>("extreme-readings", "Single readings that stand out")
        .detail()
        .note(
            "Distance from the run's own reference line, compared with all runs at the same step;"
                + " generalized extreme Studentized deviate test at 5 % shared by the steps. A unit"
                + " with an unusual bow shows here in all its runs, a slip of the bench in one"
                + " reading.")
        .add("Run", TEXT, ReadingFinding::run)
        .add("Step", COUNT, ReadingFinding::step)
        .add("Load [kg]", EXACT, ReadingFinding::loadKilograms)
        .add("Deviation [g]", significant(3), ReadingFinding::deviationGrams)
        .add("Median of all runs [g]", significant(3), ReadingFinding::medianGrams)
        .add("Test value", decimals(2), f -> f.test().testValue())
        .add("Critical value", decimals(2), f -> f.test().criticalValue())
        .add("Same cell or board in other runs", TEXT, ReviewBlocks::others)
        .add("Remark", TEXT, ReadingFinding::remark)
        .add("File and row", TEXT, r -> r.source().place())
        .of(readings);
  }

  private static Table exchanged(List<ExchangedSerials> found) {
    return new TableBuilder<ExchangedSerials>("exchanged-serials", "Serials that look exchanged")
        .note(
            "Two runs of a session. \"Likelier\" is how many powers of ten the record gains, by"
                + " zero and sensitivity in the crossed model, with the serials put back. Where"
                + " that makes both pairs planned ones, they are named unless the readings speak"
                + " against it, 20 to 1.")
        .add("Kind", TEXT, e -> e.kind().key())
        .add("Run", TEXT, e -> e.one().run())
        .add("Written serial", SERIAL, e -> e.one().written())
        .add("Fitting serial", SERIAL, e -> e.one().fits())
        .add("Other run", TEXT, e -> e.other().run())
        .add("Written serial of the other", SERIAL, e -> e.other().written())
        .add("Fitting serial of the other", SERIAL, e -> e.other().fits())
        .add("Planned pairs when put back", TEXT, e -> e.restoresPlan() ? "yes" : "no")
        .add("Likelier [powers of ten]", decimals(1), e -> e.gain() / Math.log(10))
        .of(found);
  }

  private static String others(ReadingFinding reading) {
    return reading.sameUnits().stream()
        .map(e -> e.run() + ": " + digits(e.value(), 3))
        .collect(Collectors.joining("; "));
  }

  /** A run, or a planned one that is missing. */
  private record LeftOut(
      String run, String cell, String board, Optional<String> decision, String cause) {
    LeftOut(String run, String cell, String board) {
      this(run, cell, board, Optional.empty(), "without a cause");
    }
  }

  private static Table excluded(StudyResult result) {
    List<LeftOut> runs = new ArrayList<>();
    for (DecidedRuns.Excluded e : result.excluded()) {
      runs.add(
          new LeftOut(
              e.run().name(),
              e.run().cell(),
              e.run().board(),
              Optional.of(e.decision().id()),
              e.decision().cause()));
    }
    PlanCoverage coverage = result.asDecided().coverage();
    for (PlanCoverage.MissingRuns missing : coverage.missingRuns()) {
      for (int i = 0; i < missing.runs(); i++) {
        boolean measured = i >= missing.runs() - missing.unusable();
        runs.add(
            new LeftOut(measured ? "not usable" : "not measured", missing.cell(), missing.board()));
      }
    }
    if (coverage.plannedRuns().isEmpty()) {
      for (StudyProgress.MissingUnit unit : coverage.missingUnits()) {
        boolean cell = unit.kind() == UnitKind.CELL;
        runs.add(new LeftOut("not measured", cell ? unit.serial() : "", cell ? "" : unit.serial()));
      }
    }
    return new TableBuilder<LeftOut>("excluded", "Runs left out")
        .note(
            "The figure with the excluded units left in is printed beside every figure. A planned"
                + " run that is missing without a decision is listed as without a cause.")
        .add("Run", TEXT, LeftOut::run)
        .add("Cell", SERIAL, LeftOut::cell)
        .add("Board", SERIAL, LeftOut::board)
        .add("Decision", TEXT, LeftOut::decision)
        .add("Cause", TEXT, LeftOut::cause)
        .of(runs);
  }
}
