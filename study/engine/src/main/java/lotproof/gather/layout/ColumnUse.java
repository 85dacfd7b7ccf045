package lotproof.gather.layout;

/**
 * How a column of a received file was understood.
 *
 * @param position counted from 1
 * @param header the header as the file writes it
 * @param meaning the column of the record that it fills
 * @param conversion what is done to its numbers, such as {@code lb to kg}; empty when nothing
 */
public record ColumnUse(int position, String header, String meaning, String conversion) {}
