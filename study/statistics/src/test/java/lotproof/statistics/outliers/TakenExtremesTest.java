package lotproof.statistics.outliers;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.HashSet;
import java.util.Set;
import org.junit.jupiter.api.Test;

class TakenExtremesTest {
  private static final double[] DISTANCES = {0.5, 3, 0.1, 2, 7, 1, 0.2, 0.9};

  @Test
  void ofAllWaysToTakeTwoOrThreeTheShareIsTheChance() {
    for (int k = 2; k <= 3; k++) {
      for (int mask = 0; mask < 256; mask++) {
        if (Integer.bitCount(mask) == k) {
          TakenExtremes one = TakenExtremes.of(DISTANCES, bits(mask));
          int asMany = 0;
          int all = 0;
          for (int other = 0; other < 256; other++) {
            if (Integer.bitCount(other) == k) {
              all++;
              asMany +=
                  TakenExtremes.of(DISTANCES, bits(other)).farthest() >= one.farthest() ? 1 : 0;
            }
          }
          assertThat(one.chance()).isCloseTo(asMany / (double) all, within(1e-12));
        }
      }
    }
  }

  private static Set<Integer> bits(int mask) {
    Set<Integer> set = new HashSet<>();
    for (int i = 0; i < 8; i++) {
      if ((mask >> i & 1) == 1) {
        set.add(i);
      }
    }
    return set;
  }

  @Test
  void theFarthestAreCounted() {
    assertThat(TakenExtremes.of(DISTANCES, Set.of(4, 1, 2)).farthest()).isEqualTo(2);
    assertThat(TakenExtremes.of(DISTANCES, Set.of(4))).isEqualTo(new TakenExtremes(1, 8, 1, 0.125));
    assertThat(TakenExtremes.of(DISTANCES, Set.of(2))).isEqualTo(new TakenExtremes(1, 8, 0, 1));
  }

  @Test
  void equalDistancesAccuseNobody() {
    assertThat(TakenExtremes.of(new double[] {1, 1, 1, 1, 1, 1}, Set.of(0, 1)).farthest()).isZero();
    assertThat(TakenExtremes.of(new double[] {1, 1, 1}, Set.of(0, 1, 2)).chance()).isEqualTo(1);
  }

  @Test
  void nothingTakenOutIsNoQuestion() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> TakenExtremes.of(DISTANCES, Set.of()))
        .withMessageContaining("taken out");
  }
}
