package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.AssumptionWords;
import lotproof.claim.LevelClaim;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.claim.premise.PlanCoverage;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.study.ClaimRequest;

/** What figures assume: how much of the plan was measured, and what was found of the rest. */
public final class AssumptionBlocks {
  private AssumptionBlocks() {}

  /** What stands beside the figures of a claim. */
  static List<Block> of(List<LevelClaim> claims, ClaimRequest request) {
    List<Block> blocks = new ArrayList<>();
    if (!claims.isEmpty()) {
      blocks.add(coverage(claims, request));
    }
    findings(claims).ifPresent(blocks::add);
    return blocks;
  }

  private static Table coverage(List<LevelClaim> claims, ClaimRequest request) {
    return new Table(
        "behind-figures",
        "How much of the plan stands behind the figures",
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.count("planned", "Runs planned"),
            Column.count("measured", "Measured"),
            Column.count("counted", "Counted"),
            Column.count("taken-out", "Taken out by decision"),
            Column.count("missing", "Missing without a cause"),
            Column.count("missing-units", "Units missing without a cause"),
            Column.decimal(
                "like-worst",
                "If the missing were like the worst ±",
                "g",
                CellTexts.decimals(request.roundingGrams()))),
        claims.stream().map(AssumptionBlocks::row).toList(),
        Prose.text(
            "A planned run is missing when it was not measured, or cannot be used, and no decision"
                + " says why. The last column is the figure if each missing run had the error curve"
                + " of one of the runs with the largest errors."));
  }

  private static Row row(LevelClaim claim) {
    PlanCoverage coverage = claim.coverage();
    OptionalDouble worst =
        claim.assumptions().stream()
            .filter(found -> found instanceof RunsMissing)
            .map(found -> ((RunsMissing) found).likeWorstGrams())
            .findFirst()
            .orElse(OptionalDouble.empty());
    return Row.of(
        Cell.text(Levels.name(claim)),
        coverage.plannedRuns().isPresent()
            ? Cell.number(coverage.plannedRuns().getAsInt())
            : Cell.missing("no pairs listed"),
        Cell.number(coverage.measuredRuns()),
        Cell.number(coverage.countedRuns()),
        Cell.number(coverage.takenOutRuns()),
        coverage.plannedRuns().isPresent()
            ? Cell.number(coverage.missingRunCount())
            : Cell.missing("no pairs listed"),
        Cell.number(coverage.missingUnits().size()),
        CellTexts.optional(worst, coverage.complete() ? "none missing" : "no figure"));
  }

  /** What was found, each once with the levels that it concerns. */
  private static Optional<Block> findings(List<LevelClaim> claims) {
    Map<List<String>, List<String>> levelsOf = new LinkedHashMap<>();
    for (LevelClaim claim : claims) {
      for (Assumption found : claim.assumptions()) {
        levelsOf
            .computeIfAbsent(
                List.of(
                    AssumptionWords.title(found),
                    AssumptionWords.evidence(found),
                    AssumptionWords.effect(found.effect())),
                k -> new ArrayList<>())
            .add(Levels.name(claim));
      }
    }
    if (levelsOf.isEmpty()) {
      return Optional.empty();
    }
    List<Row> rows = new ArrayList<>();
    levelsOf.forEach(
        (cells, levels) ->
            rows.add(
                Row.of(
                    Cell.text(cells.get(0)),
                    Cell.text(cells.get(1)),
                    Cell.text(cells.get(2)),
                    Cell.text(
                        levels.size() == claims.size() ? "all" : String.join(", ", levels)))));
    return Optional.of(
        new Table(
            "assumptions",
            "What the figures assume",
            Table.Role.READ,
            List.of(
                Column.text("finding", "Found"),
                Column.text("evidence", "Evidence"),
                Column.text("effect", "Effect"),
                Column.text("levels", "Calibration levels")),
            rows,
            Prose.none()));
  }

  /** Missing runs and units as rows of the table of excluded runs. */
  static List<Row> missing(PlanCoverage coverage) {
    List<Row> rows = new ArrayList<>();
    for (PlanCoverage.MissingRuns missing : coverage.missingRuns()) {
      int unmeasured = missing.runs() - missing.unusable();
      for (int i = 0; i < missing.runs(); i++) {
        rows.add(
            row(i < unmeasured ? "not measured" : "not usable", missing.cell(), missing.board()));
      }
    }
    if (coverage.plannedRuns().isEmpty()) {
      for (PlanCoverage.MissingUnit unit : coverage.missingUnits()) {
        boolean cell = unit.kind() == lotproof.study.UnitKind.CELL;
        rows.add(row("not measured", cell ? unit.serial() : "", cell ? "" : unit.serial()));
      }
    }
    return rows;
  }

  private static Row row(String run, String cell, String board) {
    return Row.of(
        Cell.text(run),
        Cell.text(cell),
        Cell.text(board),
        Cell.missing("none"),
        Cell.text("without a cause"));
  }
}
