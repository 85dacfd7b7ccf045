package lotproof.gather.tables;

/**
 * Something that was understood about a file.
 *
 * @param name what it is about, such as {@code separator}
 * @param value what was understood
 */
public record Fact(String name, String value) {}
