package lotproof.claim;

import java.util.List;

/**
 * A claim in words.
 *
 * @param sentence the claim with every condition; without a figure the reason
 * @param productLine a short line for a product page, which needs the footnote; empty without a
 *     figure
 * @param footnote the conditions that must stand with the short line; empty without a figure
 * @param mustNotSay what this study does not allow anyone to print, in sentences
 */
public record ClaimWording(
    String sentence, String productLine, String footnote, List<String> mustNotSay) {
  public ClaimWording {
    mustNotSay = List.copyOf(mustNotSay);
  }
}
