package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;

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
        .add("level", "Calibration level", TEXT, LevelClaim::label)
        .add("planned", "Runs planned", COUNT, c -> c.coverage().plannedRuns(), unlisted)
        .add("measured", "Measured", COUNT, c -> c.coverage().measuredRuns())
        .add("counted", "Used", COUNT, c -> c.coverage().countedRuns())
        .add("taken-out", "Taken out by decision", COUNT, c -> c.coverage().takenOutRuns())
        .add(
            "missing",
            "Missing without a cause",
            COUNT,
            c ->
                c.coverage().plannedRuns().isPresent()
                    ? c.coverage().missingRunCount()
                    : Cell.missing(unlisted))
        .add(
            "missing-units",
            "Units missing without a cause",
            COUNT,
            c -> c.coverage().missingUnits().size())
        .add(
            "like-worst",
            "If the missing were like the worst ± [g]",
            decimals(CellTexts.decimals(request.roundingGrams())),
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
            .add("finding", "Found", TEXT, e -> e.getKey().get(0))
            .add("evidence", "Evidence", TEXT, e -> e.getKey().get(1))
            .add("effect", "Effect", TEXT, e -> e.getKey().get(2))
            .add(
                "levels",
                "Calibration levels",
                TEXT,
                e -> e.getValue().size() == claims.size() ? "all" : String.join(", ", e.getValue()))
            .of(List.copyOf(levelsOf.entrySet()));
    return Optional.of(table).filter(t -> !t.rows().isEmpty());
  }
}
