package lotproof.claim.evidence;

import lotproof.study.SideTest;

/**
 * What a side test adds to a figure.
 *
 * @param test the side test
 * @param grams the allowance, in the claim's form: the larger of the next two
 * @param modelGrams bound for a future kit by the mixed model, over all steps together, at the
 *     claim's content and confidence
 * @param largestGrams largest effect over the tested kits
 * @param runs runs behind it
 * @param kits kits that share no unit behind it, or units that met a partner for all
 * @param withoutLots whether how lots differ had to be left out, because too few were tested
 */
public record SideAllowance(
    SideTest test,
    double grams,
    double modelGrams,
    double largestGrams,
    int runs,
    int kits,
    boolean withoutLots) {}
