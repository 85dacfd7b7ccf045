package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.SpreadOutcome.Caveat;
import org.junit.jupiter.api.Test;

/** A result in a case that was measured to fall short says so. */
class CaveatTest {
  private final List<Double> values = new ArrayList<>();
  private final List<String> cells = new ArrayList<>();
  private final List<String> boards = new ArrayList<>();
  private final Random random = new Random(21);

  private void run(int cell, int board, double value) {
    cells.add("C" + cell);
    boards.add("B" + board);
    values.add(value + 0.1 * random.nextGaussian());
  }

  private List<Caveat> caveats() {
    Map<Role, List<String>> labels = Map.of(Role.CELL, cells, Role.BOARD, boards);
    return new Spread(SpreadOptions.DEFAULTS)
        .of(new MeasuredValues("x", "X", "g", values, labels))
        .estimated()
        .orElseThrow()
        .caveats();
  }

  private double[] effects(int count, double sd) {
    return random.doubles(count).map(u -> sd * random.nextGaussian()).toArray();
  }

  @Test
  void referenceUnits() {
    double[] cell = effects(21, 1);
    double[] board = effects(21, 0.5);
    for (int i = 0; i < 20; i++) {
      for (int repeat = 0; repeat < 2; repeat++) {
        run(i, 20, cell[i] + board[20]);
        run(20, i, cell[20] + board[i]);
      }
    }
    assertThat(caveats()).contains(Caveat.REFERENCE_UNITS);
  }

  @Test
  void aFullCrossingHasNoReferenceUnit() {
    double[] cell = effects(8, 1);
    double[] board = effects(8, 0.5);
    for (int i = 0; i < 8; i++) {
      for (int j = 0; j < 8; j++) {
        run(i, j, cell[i] + board[j]);
      }
    }
    assertThat(caveats()).isEmpty();
  }

  @Test
  void valuesThatAreNotNormal() {
    for (int i = 0; i < 40; i++) {
      run(i, i, Math.exp(1.5 * random.nextGaussian()));
    }
    assertThat(caveats()).containsExactly(Caveat.NOT_NORMAL);
  }
}
