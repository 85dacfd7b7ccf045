package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.PlanCoverage;
import lotproof.report.model.Block;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ReviewWords;
import lotproof.review.DecidedRuns;
import lotproof.review.Finding;
import lotproof.review.ReadingFinding;
import lotproof.review.StudyProgress;
import lotproof.study.Design;
import lotproof.study.UnitKind;

/** Units and runs that stand out, and what people decided about them. */
final class ReviewSection {
  private static final int PARTNERS_SHOWN = 4;

  private ReviewSection() {}

  static Section of(StudyResult result) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(findings(result.findings()));
    blocks.add(evidence(result.findings()));
    blocks.add(readings(result.readings()));
    blocks.add(ReviewBlocks.history(result.decisions()));
    blocks.add(excluded(result));
    blocks.addAll(ReviewBlocks.changes(result.changes()));
    return new Section(
        "review",
        "Which units stand out, and what was decided?",
        Prose.text(
            "Everything that stands out is listed with its evidence. The program excludes nothing:"
                + " a person decides, with a cause. A unit without a cause stays in, because a"
                + " buyer may receive it."),
        blocks);
  }

  private static Table findings(List<Finding> findings) {
    return new TableBuilder<Finding>("findings", "Units and runs that stand out")
        .note(
            "From all runs as recorded, before any decision. Cells and boards by their predicted"
                + " effects in the crossed model, runs by their residuals; generalized extreme"
                + " Studentized deviate test at the 5 % level, robust deviations from the median.")
        .add("kind", "Kind", TEXT, f -> f.target().key())
        .add("serial", "Serial or run", SERIAL, Finding::serial)
        .add("characteristic", "Characteristic", TEXT, f -> f.characteristic().title())
        .add("effect", "Deviation", significant(3), Finding::effect)
        .add("unit", "Unit", TEXT, f -> f.characteristic().unit())
        .add("robust", "Robust deviations", decimals(1), Finding::modifiedZ, "most are equal")
        .add("test", "Test value", decimals(2), f -> f.test().testValue())
        .add("critical", "Critical", decimals(2), f -> f.test().criticalValue())
        .add("side", "Direction", TEXT, f -> f.favourable() ? "better" : "worse")
        .add("odd", "Cause lies in", TEXT, f -> f.verdict().odd().word())
        .add(
            "decision",
            "Decision",
            TEXT,
            f -> f.decision().map(d -> d.action().key() + ": " + d.cause()),
            "open")
        .of(findings);
  }

  private static String evidence(Finding finding) {
    return finding.evidence().stream()
        .map(
            e ->
                text(
                    "%s (%s): %s",
                    e.run(), Design.pairName(e.cell(), e.board()), rounded(e.value(), 5)))
        .collect(Collectors.joining("; "));
  }

  private static String partners(Finding finding) {
    List<Finding.Evidence> all = finding.partners();
    String shown =
        all.stream()
            .limit(PARTNERS_SHOWN)
            .map(e -> Design.pairName(e.cell(), e.board()) + ": " + rounded(e.value(), 5))
            .collect(Collectors.joining("; "));
    return all.size() > PARTNERS_SHOWN
        ? shown + "; and " + (all.size() - PARTNERS_SHOWN) + " more"
        : shown;
  }

  private static String rounded(double value, int digits) {
    return new BigDecimal(value)
        .round(new MathContext(digits))
        .stripTrailingZeros()
        .toPlainString();
  }

  private static Table evidence(List<Finding> findings) {
    return new TableBuilder<Finding>("finding-evidence", "What the crossed runs say about each")
        .note(
            "The cause lies in a unit that is off in the same direction with each partner, in a"
                + " pair that is off together only, in a run that the pair's other runs do not"
                + " confirm. A rule of reading and no test; an unusually good value can be a"
                + " measuring fault.")
        .add("serial", "Serial or run", SERIAL, Finding::serial)
        .add("characteristic", "Characteristic", TEXT, f -> f.characteristic().title())
        .add("why", "Because", TEXT, ReviewWords::why)
        .add("evidence", "Values behind it", TEXT, ReviewSection::evidence)
        .add("partners", "Its partners in other runs", TEXT, ReviewSection::partners)
        .add("signs", "Signs", TEXT, ReviewWords::signs)
        .of(findings);
  }

  private static Table readings(List<ReadingFinding> readings) {
    return new TableBuilder<ReadingFinding>("extreme-readings", "Single readings that stand out")
        .note(
            "Distance from the run's own reference line, compared with all runs at the same step;"
                + " generalized extreme Studentized deviate test at 5 % shared by the steps. A unit"
                + " with an unusual bow shows here in all its runs, a slip of the bench in one"
                + " reading.")
        .add("run", "Run", TEXT, ReadingFinding::run)
        .add("step", "Step", COUNT, ReadingFinding::step)
        .add("load", "Load [kg]", decimals(3), ReadingFinding::loadKilograms)
        .add("off", "Off its line by [g]", significant(3), ReadingFinding::deviationGrams)
        .add("median", "Median of all runs [g]", significant(3), ReadingFinding::medianGrams)
        .add("test", "Test value", decimals(2), f -> f.test().testValue())
        .add("critical", "Critical", decimals(2), f -> f.test().criticalValue())
        .add("others", "Same cell or board in other runs (g)", TEXT, ReviewSection::others)
        .add("remark", "Remark", TEXT, ReadingFinding::remark)
        .add("from", "From", TEXT, r -> r.source().place())
        .of(readings);
  }

  private static String others(ReadingFinding reading) {
    return reading.sameUnits().stream()
        .map(e -> e.run() + ": " + rounded(e.value(), 3))
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
        .add("run", "Run", TEXT, LeftOut::run)
        .add("cell", "Cell", SERIAL, LeftOut::cell)
        .add("board", "Board", SERIAL, LeftOut::board)
        .add("decision", "Decision", TEXT, LeftOut::decision)
        .add("cause", "Cause", TEXT, LeftOut::cause)
        .of(runs);
  }
}
