package lotproof.study;

import lotproof.statistics.Checks;

/**
 * A capture that a study keeps beside its readings: one kit at rest, long enough to show how far
 * averaging helps.
 *
 * @param loadKilograms load that stood on it
 * @param readAs what was told about the file, such as {@code rate 10}; empty when nothing was
 * @param file name of the file as it was received
 * @param sha256 hash of its bytes, lower-case hexadecimal
 */
public record KeptSeries(
    String cell, String board, double loadKilograms, String readAs, String file, String sha256) {
  public KeptSeries {
    Require.text(cell, "cell");
    Require.text(board, "board");
    Checks.notNegative(loadKilograms, "load");
    Require.text(file, "source file");
    Require.text(sha256, "source hash");
  }
}
