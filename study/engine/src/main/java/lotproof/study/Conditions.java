package lotproof.study;

import java.util.List;
import lotproof.statistics.Checks;

/**
 * Under which conditions the study was made, and so under which the figure holds.
 *
 * @param benchMassClass class of the bench's reference masses
 * @param notes further conditions in the maker's words, such as the settling time after loading
 */
public record Conditions(
    double lowestCelsius, double highestCelsius, MassClass benchMassClass, List<String> notes) {
  public Conditions {
    Checks.finite(lowestCelsius, "lowest temperature (°C)");
    Checks.finite(highestCelsius, "highest temperature (°C)");
    if (!(lowestCelsius <= highestCelsius)) {
      throw new IllegalArgumentException(
          "lowest temperature " + lowestCelsius + " must not be above highest " + highestCelsius);
    }
    notes = List.copyOf(notes);
  }
}
