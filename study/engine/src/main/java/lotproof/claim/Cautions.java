package lotproof.claim;

import java.util.ArrayList;
import java.util.List;

/** Cautions and gaps that stand in every report. */
public final class Cautions {
  private Cautions() {}

  /** What the figure must not be used for. */
  public static List<String> always() {
    return List.of(
        "Not for trade: weighing that sets a price needs a type-approved, verified instrument under the local law of weights and measures.",
        "Not for medical use or for dosing.",
        "Not for lifting, and not as a safety interlock.",
        "An overloaded cell can fail or shift for good, and a falling load can injure: keep below rated capacity, use overload stops, and let a qualified person judge the structure.",
        "The program supports a claim with evidence; it certifies nothing. Local law and the judgement of licensed professionals come first.");
  }

  /**
   * What a study of load runs at bench temperature does not show.
   *
   * @param bendKnown whether the tested loads show how the error curve bends between them
   */
  public static List<String> notCovered(boolean bendKnown) {
    List<String> gaps = new ArrayList<>();
    gaps.add("temperatures other than those named");
    gaps.add("a change of temperature between calibration and use");
    gaps.add(
        bendKnown
            ? "loads outside the tested range"
            : "loads other than those tested, also between them");
    gaps.add("loads off the centre of the platform");
    gaps.add("creep and drift over longer than one load run");
    gaps.add("other supply voltages, cable lengths and humidity");
    gaps.add("ageing, overload and shipping after the test");
    gaps.add("lots made with other parts or processes than those studied");
    return List.copyOf(gaps);
  }
}
