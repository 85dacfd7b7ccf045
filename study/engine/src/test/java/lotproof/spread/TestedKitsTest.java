package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import org.junit.jupiter.api.Test;

class TestedKitsTest {
  private static MeasuredValues values(String... pairs) {
    List<String> cells = new ArrayList<>();
    List<String> boards = new ArrayList<>();
    List<Double> numbers = new ArrayList<>();
    for (String pair : pairs) {
      cells.add(pair.substring(0, 1));
      boards.add(pair.substring(1));
      numbers.add(1.0 * numbers.size());
    }
    return new MeasuredValues("x", "X", "", numbers, Map.of(Role.CELL, cells, Role.BOARD, boards));
  }

  @Test
  void rotationHoldsAsManyDisjointKitsAsUnits() {
    TestedKits kits = TestedKits.of(values("a1", "b2", "c3", "a2", "b3", "c1", "a1"));
    assertThat(kits.first()).containsExactly(0, 1, 2, 3, 4, 5);
    assertThat(kits.disjoint()).hasSize(3);
  }

  @Test
  void findsTheMatchingThatAGreedyChoiceWouldMiss() {
    // taking a1 first leaves b without a board; the largest set is a2, b1
    assertThat(TestedKits.of(values("a1", "a2", "b1")).disjoint()).containsExactly(1, 2);
  }

  @Test
  void oneBoardMeansOneKit() {
    assertThat(TestedKits.of(values("a1", "b1", "c1")).disjoint()).hasSize(1);
  }

  @Test
  void unnamedValuesAreKitsOfTheirOwn() {
    MeasuredValues bare = new MeasuredValues("x", "X", "", List.of(1.0, 2.0), Map.of());
    assertThat(TestedKits.of(bare).disjoint()).hasSize(2);
  }
}
