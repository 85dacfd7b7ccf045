package lotproof.spread;

import lotproof.model.Role;

/**
 * Plain figures of one lot.
 *
 * @param role kind of lot
 * @param lot name of the lot
 * @param units units with a value
 * @param mean mean of the unit means
 * @param standardDeviation standard deviation of the unit means; 0 for one unit
 * @param smallest smallest unit mean
 * @param largest largest unit mean
 */
public record GroupSummary(
    Role role,
    String lot,
    int units,
    double mean,
    double standardDeviation,
    double smallest,
    double largest) {}
