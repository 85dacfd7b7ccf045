package lotproof.study;

import lotproof.statistics.Checks;

/**
 * One line of claims.csv: a figure as it was issued, so that later lots are held against what was
 * promised.
 *
 * @param version name of the version, such as V1; its levels share it
 * @param level the calibration level with its masses
 * @param sentence the claim with its conditions
 * @param studyHash hash of the study's record that it rests on
 */
public record ClaimVersion(
    String version,
    String date,
    String who,
    String level,
    double figureGrams,
    double content,
    double confidence,
    String sentence,
    String studyHash) {
  public ClaimVersion {
    Require.text(version, "version");
    Require.text(level, "level");
    Checks.positive(figureGrams, "figure (g)");
    Checks.fraction(content, "content");
    Checks.fraction(confidence, "confidence");
  }
}
