package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lotproof.claim.FigureChange;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.words.ChangeWords;
import lotproof.study.Decision;
import lotproof.study.Study;

/** Decisions and what they did to the figures, as blocks for the report and for commands. */
public final class ReviewBlocks {
  private ReviewBlocks() {}

  /** Decisions in the order in which they were written, withdrawn ones marked. */
  public static Table history(List<Decision> decisions) {
    Map<String, String> undone = new HashMap<>();
    decisions.stream()
        .filter(d -> d.action() == Decision.Action.WITHDRAWN)
        .forEach(d -> d.value().ifPresent(name -> undone.put(name, d.id())));
    return new Table(
        "decisions",
        "Decisions",
        Table.Role.READ,
        List.of(
            Column.text("id", "Decision"),
            Column.text("when", "When"),
            Column.text("who", "Who"),
            Column.text("action", "Action"),
            Column.text("target", "About"),
            Column.serial("serial", "Serial or run"),
            Column.text("cause", "Cause"),
            Column.text("evidence", "Evidence"),
            Column.text("status", "Status")),
        decisions.stream()
            .map(
                d ->
                    Row.of(
                        Cell.text(d.id()),
                        Cell.text(d.time()),
                        Cell.text(d.who()),
                        Cell.text(action(d)),
                        Cell.text(d.target().word()),
                        Cell.text(d.serial()),
                        Cell.text(d.cause()),
                        Cell.text(d.evidence()),
                        Cell.text(status(d, undone))))
            .toList(),
        Prose.none());
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
      default -> decision.action().word();
    };
  }

  /** How decisions moved the figures: one sentence a level, and the parts of each move. */
  public static List<Block> changes(List<FigureChange> changes) {
    List<Block> blocks = new ArrayList<>();
    List<Row> rows = new ArrayList<>();
    for (FigureChange change : changes) {
      String level = Levels.name(change.level());
      blocks.add(new Block.Paragraph(Prose.of("{}: {}", level, ChangeWords.of(change))));
      boolean still = change.parts().stream().allMatch(p -> p.moveGrams() == 0);
      for (FigureChange.Part part : still ? List.<FigureChange.Part>of() : change.parts()) {
        rows.add(
            Row.of(
                Cell.text(level),
                Cell.text(ChangeWords.title(part)),
                Cell.number(part.before()),
                Cell.number(part.after()),
                Cell.number(part.moveGrams())));
      }
    }
    if (!rows.isEmpty()) {
      blocks.add(
          new Table(
              "moves",
              "What moved each bound",
              Table.Role.READ,
              List.of(
                  Column.text("level", "Calibration level"),
                  Column.text("part", "Part of the bound"),
                  Column.significant("before", "Without", "g", 4),
                  Column.significant("after", "With the decisions", "g", 4),
                  Column.significant("move", "Moves the bound by", "g", 3)),
              rows,
              Prose.text(
                  "At the load where the bound is widest. The parts of a level add up to the move"
                      + " of its bound before rounding: mean and spreads are exchanged one after"
                      + " the other, then their estimation uncertainty.")));
    }
    return blocks;
  }

  /** The split claim: bad units that could ship stay in the product's promise. */
  public static List<Block> split(Study study, SplitClaim claim) {
    List<Row> rows =
        claim.levels().stream()
            .map(
                level ->
                    Row.of(
                        Cell.text(Levels.name(level.level())),
                        CellTexts.optional(level.allGrams(), "no figure"),
                        Cell.number(claim.goodContent()),
                        CellTexts.optional(level.goodGrams(), "no figure"),
                        Cell.number(claim.contentFraction())))
            .toList();
    return List.of(
        new Block.Paragraph(Prose.text(ChangeWords.of(study, claim))),
        new Table(
            "split-claim",
            "All units in, or good ones only",
            Table.Role.READ,
            List.of(
                Column.text("level", "Calibration level"),
                Column.significant("all", "All units in: ±", "g", 4),
                Column.fraction("all-content", "of all", 1),
                Column.significant("good", "Good ones: ±", "g", 4),
                Column.fraction("good-content", "of all, good and bad", 2)),
            rows,
            Prose.of(
                "Both columns at {} % confidence in all; the split one states each part at {} %.",
                lotproof.claim.Numbers.percent(claim.confidence()),
                lotproof.claim.Numbers.percent(claim.partConfidence()))));
  }
}
