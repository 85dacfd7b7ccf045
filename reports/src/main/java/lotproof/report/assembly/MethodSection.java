package lotproof.report.assembly;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ClaimWords;
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest;

/** How it was computed, what it does not cover, and what it must not be used for. */
final class MethodSection {
  private MethodSection() {}

  static Section of(StudyResult result) {
    ClaimRequest.Subject subject = result.study().claim().subject();
    List<Block> blocks = new ArrayList<>();
    ClaimWords.cautions().forEach(text -> blocks.add(Block.caution(text)));
    blocks.add(
        Block.paragraph(
            "The figure does not cover: {}.",
            String.join("; ", new ClaimWords(result).notCovered())));
    blocks.add(
        Block.paragraph(
            "{}",
            text(
                "Components of variation: crossed mixed model by restricted maximum likelihood,"
                    + " intervals by profile likelihood. Limits for a future %s: modified"
                    + " large-sample limits on pseudo mean squares of that fit, which is a textbook"
                    + " method in balanced designs and elsewhere a construction whose actual"
                    + " confidence was measured by simulation. All loads together: simulated error"
                    + " curves with the model's covariances, fixed seed. Without a model: order"
                    + " statistics of the tested %s. The larger bound counts, and the limits of"
                    + " error of the masses are added.",
                subject.key(), subject.plural())));
    blocks.add(definitions(subject));
    return new Section(
        "method", "How was it computed, and what does it not cover?", Prose.none(), blocks);
  }

  private record Word(String word, String unit, String meaning) {}

  private static Table definitions(ClaimRequest.Subject subject) {
    List<Word> words = new ArrayList<>();
    for (Characteristic c : Characteristic.values()) {
      words.add(new Word(c.title(), c.unit(), c.definition()));
    }
    words.add(new Word("Kit", "", "one cell with one board, as a buyer gets it"));
    words.add(
        new Word(
            "Content",
            "%",
            "fraction of all " + subject.plural() + " that a figure must hold for"));
    words.add(
        new Word(
            "Confidence",
            "%",
            "how often studies like this one would state a figure that does hold for that"
                + " content"));
    return new TableBuilder<Word>("definitions", "Words used here")
        .add("word", "Word", TEXT, Word::word)
        .add("unit", "Unit", TEXT, Word::unit)
        .add("meaning", "Meaning", TEXT, Word::meaning)
        .of(words);
  }
}
