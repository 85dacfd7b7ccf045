package lotproof.spread;

import java.util.Optional;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimRequest;

/**
 * What is asked of a spread.
 *
 * @param content fraction of future kits that limits are stated for, 0.5 to 0.9999
 * @param confidence confidence of limits and intervals, 0.5 to 0.9999
 * @param intervals whether components get intervals, which cost most of the time
 */
public record SpreadOptions(
    double content, double confidence, Optional<Limits> limits, boolean intervals) {
  /** 95 % content with 95 % confidence and no specification limits. */
  public static final SpreadOptions DEFAULTS =
      new SpreadOptions(0.95, 0.95, Optional.empty(), true);

  public SpreadOptions {
    ClaimRequest.share(content, "content");
    ClaimRequest.share(confidence, "confidence");
  }
}
