package lotproof.report.assembly;

import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lotproof.claim.FigureChange;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.report.model.Block;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
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
        .add("id", "Decision", TEXT, Decision::id)
        .add("when", "When", TEXT, Decision::time)
        .add("who", "Who", TEXT, Decision::who)
        .add("action", "Action", TEXT, ReviewBlocks::action)
        .add("target", "About", TEXT, d -> d.target().key())
        .add("serial", "Serial or run", SERIAL, Decision::serial)
        .add("cause", "Cause", TEXT, Decision::cause)
        .add("evidence", "Evidence", TEXT, Decision::evidence)
        .add("status", "Status", TEXT, d -> status(d, undone))
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
              .add("level", "Calibration level", TEXT, m -> m.change().level().label())
              .add("part", "Part of the limit", TEXT, m -> ChangeWords.title(m.part()))
              .add("before", "Without [g]", significant(4), m -> m.part().before())
              .add("after", "With the decisions [g]", significant(4), m -> m.part().after())
              .add("move", "Change of the limit [g]", significant(3), m -> m.part().moveGrams())
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
            .add("level", "Calibration level", TEXT, l -> l.level().label())
            .add("all", "All units in: ± [g]", significant(4), l -> l.allGrams(), "no figure")
            .add("all-content", "Share of all", percent(1), l -> claim.goodContent())
            .add("good", "Good ones: ± [g]", significant(4), l -> l.goodGrams(), "no figure")
            .add(
                "good-content",
                "Share of all, good and bad",
                percent(2),
                l -> claim.contentFraction())
            .of(claim.levels()));
  }
}
