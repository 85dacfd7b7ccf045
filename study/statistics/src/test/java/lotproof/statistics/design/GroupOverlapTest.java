package lotproof.statistics.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import lotproof.statistics.Oracle;
import lotproof.statistics.components.Component;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.FitOptions;
import lotproof.statistics.components.Observations;
import lotproof.statistics.components.PartnerAssociation;
import lotproof.statistics.components.RandomFactor;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Overlap of groups with time, and partners that go together, against independent values. */
class GroupOverlapTest {
  private static Oracle oracle;

  @BeforeAll
  static void load() {
    oracle = Oracle.load("assumptions");
  }

  @AfterAll
  static void allUsed() {
    oracle.assertAllUsed();
  }

  private static List<String> letters(String text) {
    return text.chars().mapToObj(Character::toString).toList();
  }

  @Test
  void groupsAgainstSessions() {
    GroupOverlap overlap =
        GroupOverlap.ofGroups(letters("AAAAAABBBBBBCCCCCC"), letters("112112233223344344"), 9);
    oracle.check("AS1", "share", overlap.shareFraction());
    oracle.check("AS1", "chance", overlap.chance());
  }

  @Test
  void groupsAgainstTheOrder() {
    GroupOverlap overlap = GroupOverlap.ofOrder(letters("AABAACABBBCBCBCCAC"), 18);
    oracle.check("AS2", "share", overlap.shareFraction());
    oracle.check("AS2", "chance", overlap.chance());
  }

  @Test
  void lotsOnDaysOfTheirOwnCannotBeToldApart() {
    GroupOverlap overlap = GroupOverlap.ofGroups(letters("AAAABBBB"), letters("11223344"), 8);
    assertThat(overlap.shareFraction()).isCloseTo(1, within(1e-12));
    assertThat(GroupOverlap.ofOrder(letters("AAAABBBB"), 8).shareFraction())
        .isCloseTo(16 / 21.0, within(1e-12));
  }

  @Test
  void oneGroupOrOneSessionSaysNothing() {
    assertThat(GroupOverlap.ofGroups(letters("AAAA"), letters("1122"), 4).shareFraction()).isZero();
    assertThat(GroupOverlap.ofGroups(letters("AABB"), letters("1111"), 4).shareFraction()).isZero();
    assertThat(GroupOverlap.ofOrder(letters("AAAA"), 4).chance()).isEqualTo(1);
    assertThatThrownBy(() -> GroupOverlap.ofGroups(letters("AB"), letters("1"), 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> GroupOverlap.ofOrder(letters("AB"), 3))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void aRandomOrderIsCalledSoNoOftenerThanItSays() {
    long seed = 20261130;
    Random random = new Random(seed);
    List<String> lots = new ArrayList<>();
    List<String> sessions = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      lots.add("L" + i % 5);
      sessions.add("S" + i / 10);
    }
    int bySession = 0;
    int byOrder = 0;
    for (int s = 0; s < 2000; s++) {
      Collections.shuffle(lots, random);
      bySession += GroupOverlap.ofGroups(lots, sessions, 60).chance() <= 0.05 ? 1 : 0;
      byOrder += GroupOverlap.ofOrder(lots, 60).chance() <= 0.05 ? 1 : 0;
    }
    assertThat(bySession).as("of 2000, seed %d", seed).isBetween(40, 140);
    assertThat(byOrder).as("of 2000, seed %d", seed).isBetween(60, 140);
  }

  private static final double[] Y = {
    2.344, 2.708, 2.143, 2.562, 3.824, 3.216, 2.811, 3.463, 3.465, 2.714, 0.726, 4.338, 2.262,
    2.461, 3.207, 3.757, 2.142, 2.875, 1.987
  };

  /** Eight cells and eight boards in a rotation, three pairs again; cell i met board i first. */
  private static ComponentsFit rotation(double[] values) {
    int[] cells = {0, 1, 2, 3, 4, 5, 6, 7, 0, 1, 2, 3, 4, 5, 6, 7, 0, 1, 2};
    int[] boards = {0, 1, 2, 3, 4, 5, 6, 7, 1, 2, 3, 4, 5, 6, 7, 0, 0, 1, 2};
    Observations data =
        new Observations(
            values,
            List.of(
                new RandomFactor(new Component("cell"), cells, 8),
                new RandomFactor(new Component("board"), boards, 8)));
    return (ComponentsFit) ComponentsFitter.fit(data, FitOptions.REML);
  }

  @Test
  void partnersThatGoTogether() {
    PartnerAssociation found =
        PartnerAssociation.of(
                rotation(Y),
                new Component("cell"),
                new Component("board"),
                new int[] {0, 1, 2, 3, 4, 5, 6, 7},
                7)
            .orElseThrow();
    oracle.check("AS3", "covariance", found.covariance());
    oracle.check("AS3", "correlation", found.correlation());
    assertThat(found.partners()).isEqualTo(8);
    // scale and shift change neither the correlation nor the chance
    double[] other = Y.clone();
    for (int i = 0; i < other.length; i++) {
      other[i] = 1000 - 50 * other[i];
    }
    PartnerAssociation same =
        PartnerAssociation.of(
                rotation(other),
                new Component("cell"),
                new Component("board"),
                new int[] {0, 1, 2, 3, 4, 5, 6, 7},
                7)
            .orElseThrow();
    assertThat(same.correlation()).isCloseTo(found.correlation(), within(1e-5));
    assertThat(same.chance()).isCloseTo(found.chance(), within(0.01));
  }
}
