package lotproof.claim;

import java.util.List;
import java.util.OptionalDouble;

/**
 * A draft claim held against the study.
 *
 * @param draft the draft as given
 * @param level the calibration level that it was compared with, in words; empty where none was
 *     recognised and none without calibration was studied
 * @param figureGrams the figure that was recognised in it, in grams
 * @param findings what is wrong with it; empty when nothing was found
 * @param instead the sentence that the study supports at that level; empty without a level
 */
public record DraftReport(
    String draft,
    String level,
    OptionalDouble figureGrams,
    List<DraftFinding> findings,
    String instead) {
  public DraftReport {
    findings = List.copyOf(findings);
  }
}
