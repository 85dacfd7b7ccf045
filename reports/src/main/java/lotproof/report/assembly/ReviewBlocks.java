package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lotproof.claim.FigureChange;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.report.model.Block;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ChangeWords;
import lotproof.report.words.Numbers;
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
    return new TableBuilder<Decision>("decisions", "Decisions")
        .add(Column.text("id", "Decision"), Decision::id)
        .add(Column.text("when", "When"), Decision::time)
        .add(Column.text("who", "Who"), Decision::who)
        .add(Column.text("action", "Action"), ReviewBlocks::action)
        .add(Column.text("target", "About"), d -> d.target().key())
        .add(Column.serial("serial", "Serial or run"), Decision::serial)
        .add(Column.text("cause", "Cause"), Decision::cause)
        .add(Column.text("evidence", "Evidence"), Decision::evidence)
        .add(Column.text("status", "Status"), d -> status(d, undone))
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
    List<Block> blocks = new ArrayList<>();
    List<Move> moves = new ArrayList<>();
    for (FigureChange change : changes) {
      blocks.add(Block.paragraph("{}: {}", change.level().label(), ChangeWords.of(change)));
      if (change.parts().stream().anyMatch(p -> p.moveGrams() != 0)) {
        change.parts().forEach(part -> moves.add(new Move(change, part)));
      }
    }
    if (!moves.isEmpty()) {
      blocks.add(
          new TableBuilder<Move>("moves", "What moved each limit")
              .note(
                  "At the load where the limit is widest. The parts of a level add up to the change"
                      + " of its limit before rounding: mean and spreads are exchanged one after"
                      + " the other, then their estimation uncertainty.")
              .add(Column.text("level", "Calibration level"), m -> m.change().level().label())
              .add(Column.text("part", "Part of the limit"), m -> ChangeWords.title(m.part()))
              .add(Column.significant("before", "Without", "g", 4), m -> m.part().before())
              .add(Column.significant("after", "With the decisions", "g", 4), m -> m.part().after())
              .add(
                  Column.significant("move", "Change of the limit", "g", 3),
                  m -> m.part().moveGrams())
              .of(moves));
    }
    return blocks;
  }

  /** The split claim: bad units that could ship stay in the product's promise. */
  public static List<Block> split(Study study, SplitClaim claim) {
    return List.of(
        Block.paragraph("{}", ChangeWords.of(study, claim)),
        new TableBuilder<SplitClaim.LevelFigure>("split-claim", "All units in, or good ones only")
            .note(
                Prose.of(
                    "Both columns at {} % confidence in all; the split one states each part at {}"
                        + " %.",
                    Numbers.percent(claim.confidence()), Numbers.percent(claim.partConfidence())))
            .add(Column.text("level", "Calibration level"), l -> l.level().label())
            .add(
                Column.significant("all", "All units in: ±", "g", 4),
                l -> l.allGrams(),
                "no figure")
            .add(Column.fraction("all-content", "Share of all", 1), l -> claim.goodContent())
            .add(
                Column.significant("good", "Good ones: ±", "g", 4), l -> l.goodGrams(), "no figure")
            .add(
                Column.fraction("good-content", "Share of all, good and bad", 2),
                l -> claim.contentFraction())
            .of(claim.levels()));
  }
}
