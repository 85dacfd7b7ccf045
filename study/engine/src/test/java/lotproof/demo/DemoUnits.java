package lotproof.demo;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.plan.Draws;
import lotproof.study.UnitKind;
import lotproof.study.Units.Lot;

/**
 * The drawn lots and units of one kind.
 *
 * @param kind cells or boards
 * @param lots lots with their serials
 * @param lotMeans true mean of each lot, in lot order
 * @param serials serials in study order
 * @param lotIndex index of the lot of each unit
 * @param traits true values of each unit
 */
record DemoUnits<T extends Enum<T>>(
    UnitKind kind,
    List<Lot> lots,
    List<Traits<T>> lotMeans,
    List<String> serials,
    List<Integer> lotIndex,
    List<Traits<T>> traits) {

  /** Draws lots of the given sizes, with serials such as C2-0417. */
  static <T extends Enum<T>> DemoUnits<T> draw(
      UnitKind kind, char letter, Population<T> population, int[] unitsByLot, Draws draws) {
    List<Lot> lots = new ArrayList<>();
    List<Traits<T>> lotMeans = new ArrayList<>();
    List<String> serials = new ArrayList<>();
    List<Integer> lotIndex = new ArrayList<>();
    List<Traits<T>> traits = new ArrayList<>();
    for (int lot = 0; lot < unitsByLot.length; lot++) {
      Traits<T> mean = population.drawLot(draws);
      lotMeans.add(mean);
      List<String> ofLot = new ArrayList<>();
      int number = 100 + draws.index(600);
      for (int unit = 0; unit < unitsByLot[lot]; unit++) {
        number += 1 + draws.index(30);
        ofLot.add(String.format(Locale.ROOT, "%c%d-%04d", letter, lot + 1, number));
        lotIndex.add(lot);
        traits.add(population.drawUnit(mean, draws));
      }
      lots.add(new Lot(kind, String.format(Locale.ROOT, "%c%d", letter, lot + 1), ofLot));
      serials.addAll(ofLot);
    }
    return new DemoUnits<>(kind, lots, lotMeans, serials, lotIndex, traits);
  }

  int size() {
    return serials.size();
  }

  /** The same units with one trait of one of them replaced. */
  DemoUnits<T> with(int unit, T trait, double value) {
    List<Traits<T>> changed = new ArrayList<>(traits);
    changed.set(unit, changed.get(unit).with(trait, value));
    return new DemoUnits<>(kind, lots, lotMeans, serials, lotIndex, changed);
  }

  /** The true mean of the lot of each unit. */
  List<Traits<T>> lotMeanOfEachUnit() {
    return lotIndex.stream().map(lotMeans::get).toList();
  }
}
