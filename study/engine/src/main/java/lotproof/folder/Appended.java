package lotproof.folder;

/**
 * What came of adding readings to the record.
 *
 * @param readings how many were added, or how many were there already
 * @param recognised how many of a file the record held already beside those that were added
 * @param wasThere whether the record held all of it already, so that nothing was changed
 */
public record Appended(int readings, int recognised, boolean wasThere) {}
