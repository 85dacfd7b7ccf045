package lotproof.gather.tables;

/**
 * A part of a sheet that does not say for itself whether it counts: a hidden row, column or cell,
 * or a value that is struck through.
 *
 * @param setting what a person says about parts of this kind
 * @param row row of the sheet counted from 1; 0 for a whole column
 * @param column column counted from 0; -1 for a whole row
 * @param place the part in words, such as {@code row 5}, {@code column G} or {@code cell D5}
 */
public record Concealed(Setting setting, int row, int column, String place) {}
