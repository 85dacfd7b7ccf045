package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.study.ClaimSubject;
import lotproof.study.SideTest.Effect;
import lotproof.study.Study;

/** Cautions and gaps that stand in every report. */
public final class Cautions {
  private Cautions() {}

  /** What the figure must not be used for. */
  public static List<String> always() {
    return List.of(
        "Not for trade: weighing that sets a price needs a type-approved, verified instrument under"
            + " the local law of weights and measures.",
        "Not for medical use or for dosing.",
        "Not for lifting, and not as a safety interlock.",
        "An overloaded cell can fail or shift for good, and a falling load can injure: keep below"
            + " rated capacity, use overload stops, and let a qualified person judge the"
            + " structure.",
        "The program supports a claim with evidence; it certifies nothing. Local law and the"
            + " judgement of licensed professionals come first.");
  }

  /**
   * What a figure does not cover.
   *
   * @param study the study
   * @param figures the figures that are spoken of; what one of them does not cover is listed
   */
  public static List<String> notCovered(Study study, List<LevelOutcome.Figure> figures) {
    boolean some = !figures.isEmpty();
    boolean bendKnown = some && figures.stream().allMatch(f -> f.betweenLoadsGrams().isPresent());
    boolean changed =
        some && figures.stream().allMatch(f -> f.temperatureChangeKelvin().isPresent());
    // side tests are the same for all figures
    List<SideAllowance> sides = some ? figures.get(0).sides() : List.of();
    List<String> gaps = new ArrayList<>();
    gaps.add("temperatures other than those named");
    gaps.add(
        changed
            ? "a larger change of temperature between calibration and use"
            : "a change of temperature between calibration and use");
    gaps.add(
        bendKnown
            ? "loads outside the tested range"
            : "loads other than those tested, also between them");
    gaps.addAll(ofLoads(study.design().loadsKilograms()));
    if (study.claim().subject() != ClaimSubject.BOARD) {
      gaps.add(
          tested(sides, Effect.OFF_CENTRE)
              .map(covers -> "other places of the load than " + covers)
              .orElse("loads off the centre of the platform"));
      gaps.add(
          tested(sides, Effect.CREEP)
              .map(covers -> "creep beyond " + covers)
              .orElse("creep under a load that stays on for longer than one load run"));
    }
    gaps.add(
        tested(sides, Effect.DRIFT)
            .map(covers -> "drift beyond " + covers)
            .orElse("drift over longer than one load run"));
    gaps.add("other supply voltages, cable lengths and humidity");
    gaps.add("ageing, overload and shipping after the test");
    gaps.add("lots made with other parts or processes than those studied");
    return List.copyOf(gaps);
  }

  /** What a run with these loads cannot show. */
  private static List<String> ofLoads(List<Double> loads) {
    double last = loads.get(loads.size() - 1);
    double largest = loads.stream().mapToDouble(Double::doubleValue).max().orElse(0);
    if (last == largest) {
      return List.of("readings as the load falls", "the zero after the load is taken off");
    }
    return last > 0 ? List.of("the zero after the load is taken off") : List.of();
  }

  private static Optional<String> tested(List<SideAllowance> sides, Effect effect) {
    return sides.stream()
        .filter(side -> side.test().effect() == effect)
        .map(side -> side.test().covers())
        .findFirst();
  }
}
