package lotproof.study;

/**
 * The pair that is measured again and again to watch the bench. It belongs to no lot and enters no
 * figure.
 *
 * @param cell serial of the check cell
 * @param board serial of the check board
 */
public record CheckStandard(String cell, String board) {}
