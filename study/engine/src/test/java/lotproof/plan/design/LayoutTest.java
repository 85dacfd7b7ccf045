package lotproof.plan.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.plan.design.Layout.Meeting;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

class LayoutTest {
  private static Stream<DesignKind> kits() {
    return Stream.of(DesignKind.values()).filter(k -> k != DesignKind.REFERENCE_PARTNER);
  }

  private static List<Integer> sizes(Random random) {
    return IntStream.range(0, 1 + random.nextInt(5))
        .map(i -> 2 + random.nextInt(9))
        .boxed()
        .toList();
  }

  @ParameterizedTest
  @MethodSource("kits")
  void anyUnitsGiveALayoutWithoutStrayRepeats(DesignKind kind) {
    for (long seed = 1; seed <= 25; seed++) {
      Random random = new Random(seed);
      Units units = Invented.units(sizes(random), sizes(random));
      Layout layout = Layout.of(kind, units, seed);
      int passesOfPairs =
          layout.meetings().size()
              - (kind.hasRepeats() ? layout.ofPass(layout.passes()).size() : 0);
      assertThat(layout.meetings().stream().map(m -> List.of(m.cell(), m.board())).distinct())
          .as("%s, seed %d", kind, seed)
          .hasSize(passesOfPairs);
      assertThat(layout.used(UnitKind.CELL)).isGreaterThanOrEqualTo(2);
      assertThat(layout.used(UnitKind.BOARD)).isGreaterThanOrEqualTo(2);
      assertThat(layout).isEqualTo(Layout.of(kind, units, seed));
    }
  }

  @ParameterizedTest
  @EnumSource(
      names = {"DISJOINT_PAIRS", "ROTATION_2", "ROTATION_2_REPEATS", "ROTATION_3", "BLOCKS"})
  void theFirstPassIsAStudyOfIndependentKits(DesignKind kind) {
    for (long seed = 1; seed <= 10; seed++) {
      Layout layout = Layout.of(kind, Invented.units(5, 8), seed);
      List<Meeting> first = layout.ofPass(1);
      assertThat(first).as("%s, seed %d", kind, seed).hasSize(40);
      assertThat(first.stream().map(Meeting::cell).distinct()).hasSize(40);
      assertThat(first.stream().map(Meeting::board).distinct()).hasSize(40);
    }
  }

  @Test
  void aRotationGivesEveryUnitTwoPartners() {
    Layout layout = Layout.of(DesignKind.ROTATION_2, Invented.units(5, 10), 3);
    assertThat(layout.meetings()).hasSize(100);
    for (int unit = 0; unit < 50; unit++) {
      int it = unit;
      assertThat(layout.meetings().stream().filter(m -> m.cell() == it)).hasSize(2);
      assertThat(layout.meetings().stream().filter(m -> m.board() == it)).hasSize(2);
    }
  }

  @Test
  void lotsOfCellsMeetAllLotsOfBoards() {
    double worst = 0;
    for (long seed = 1; seed <= 20; seed++) {
      Layout layout = Layout.of(DesignKind.ROTATION_2, Invented.units(5, 10), seed);
      worst = Math.max(worst, layout.unevenness());
    }
    // unrestricted rings of five lots have 16 degrees of freedom: about 16 on average
    assertThat(worst).isLessThan(8);
  }

  @Test
  void repeatsAreOfPairsThatMetAndSpreadOverUnits() {
    Layout layout = Layout.of(DesignKind.ROTATION_2_REPEATS, Invented.units(5, 10), 11);
    List<Meeting> repeats = layout.ofPass(3);
    assertThat(repeats).hasSize(20);
    assertThat(repeats.stream().map(Meeting::cell).distinct()).hasSize(20);
    assertThat(repeats)
        .allSatisfy(
            repeat ->
                assertThat(layout.meetings().stream().filter(m -> m.samePair(repeat))).hasSize(2));
  }

  @Test
  void theReferencePartnerIsNoLayoutOfKits() {
    assertThatThrownBy(() -> Layout.of(DesignKind.REFERENCE_PARTNER, Invented.units(2, 5), 1))
        .hasMessageContaining("no layout of kits");
    assertThatThrownBy(() -> Invented.units(List.of(1), List.of(5)).twoOrMore())
        .hasMessageContaining("two cells");
  }
}
