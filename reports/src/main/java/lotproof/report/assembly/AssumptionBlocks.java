package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelClaim;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.AssumptionWords;
import lotproof.study.ClaimRequest;

/** What figures assume: how much of the plan was measured, and what was found of the rest. */
final class AssumptionBlocks {
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
    String unlisted = "no pairs listed";
    return new TableBuilder<LevelClaim>(
            "behind-figures", "How much of the plan stands behind the figures")
        .note(
            "A planned run is missing when it was not measured, or cannot be used, and no decision"
                + " says why. The last column is the figure if each missing run had the error curve"
                + " of one of the runs with the largest errors.")
        .add(Column.text("level", "Calibration level"), LevelClaim::label)
        .add(Column.count("planned", "Runs planned"), c -> c.coverage().plannedRuns(), unlisted)
        .add(Column.count("measured", "Measured"), c -> c.coverage().measuredRuns())
        .add(Column.count("counted", "Used"), c -> c.coverage().countedRuns())
        .add(Column.count("taken-out", "Taken out by decision"), c -> c.coverage().takenOutRuns())
        .add(
            Column.count("missing", "Missing without a cause"),
            c ->
                c.coverage().plannedRuns().isPresent()
                    ? c.coverage().missingRunCount()
                    : Cell.missing(unlisted))
        .add(
            Column.count("missing-units", "Units missing without a cause"),
            c -> c.coverage().missingUnits().size())
        .add(
            Column.decimal(
                "like-worst",
                "If the missing were like the worst ±",
                "g",
                CellTexts.decimals(request.roundingGrams())),
            claim -> {
              OptionalDouble worst =
                  claim.assumptions().stream()
                      .filter(RunsMissing.class::isInstance)
                      .map(found -> ((RunsMissing) found).likeWorstGrams())
                      .findFirst()
                      .orElse(OptionalDouble.empty());
              return CellTexts.optional(
                  worst, claim.coverage().complete() ? "none missing" : "no figure");
            })
        .of(claims);
  }

  /** What was found, each once with the levels that it concerns. */
  private static Optional<Table> findings(List<LevelClaim> claims) {
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
            .add(claim.label());
      }
    }
    Table table =
        new TableBuilder<Map.Entry<List<String>, List<String>>>(
                "assumptions", "What the figures assume")
            .add(Column.text("finding", "Found"), e -> e.getKey().get(0))
            .add(Column.text("evidence", "Evidence"), e -> e.getKey().get(1))
            .add(Column.text("effect", "Effect"), e -> e.getKey().get(2))
            .add(
                Column.text("levels", "Calibration levels"),
                e -> e.getValue().size() == claims.size() ? "all" : String.join(", ", e.getValue()))
            .of(List.copyOf(levelsOf.entrySet()));
    return Optional.of(table).filter(t -> !t.rows().isEmpty());
  }
}
