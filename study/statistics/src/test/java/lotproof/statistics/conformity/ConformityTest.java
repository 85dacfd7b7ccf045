package lotproof.statistics.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class ConformityTest {
  private static final Oracle ORACLE = Oracle.load("conformity");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static void check(String name, Risks risks) {
    ORACLE.check("J1", name + " consumer", risks.consumer());
    ORACLE.check("J1", name + " producer", risks.producer());
  }

  @Test
  void probabilityOfOneItem() {
    ORACLE.check("J1", "one limit", Conformity.probability(9.8, 0.15, Zone.atMost(10)));
    ORACLE.check("J1", "two limits", Conformity.probability(10.42, 0.06, new Zone(9.5, 10.5)));
    ORACLE.check("J1", "guard band 95 %", Conformity.guardBand(0.06, 0.95));
  }

  @Test
  void risksOfAProduction() {
    Zone two = Zone.symmetric(2);
    check("simple", Conformity.risks(0, 1, 0.25, two, two));
    check("guarded", Conformity.risks(0, 1, 0.25, two, Zone.symmetric(1.5)));
    check("off centre", Conformity.risks(0.4, 0.8, 0.1, two, two));
  }

  @Test
  void acceptedItemsAtTheEdgeOfTheGuardedZoneConform() {
    double w = Conformity.guardBand(0.1, 0.95);
    Zone zone = Zone.atMost(10 - w);
    assertThat(Conformity.probability(zone.upper(), 0.1, Zone.atMost(10)))
        .isCloseTo(0.95, within(1e-12));
    Zone narrow = Zone.symmetric(0.21);
    double wider = Conformity.guardBand(0.1, 0.95, narrow);
    assertThat(wider).isGreaterThan(w);
    assertThat(Conformity.probability(narrow.upper() - wider, 0.1, narrow))
        .isCloseTo(0.95, within(1e-9));
    assertThat(Conformity.guardBand(0.1, 0.95, Zone.symmetric(5))).isCloseTo(w, within(1e-9));
  }

  @Test
  void aZoneHoldsItsEnds() {
    Zone zone = new Zone(-1, 2);
    assertThat(zone.holds(-1)).isTrue();
    assertThat(zone.holds(2)).isTrue();
    assertThat(zone.holds(Math.nextUp(2.0))).isFalse();
    assertThat(zone.holds(Math.nextDown(-1.0))).isFalse();
    assertThat(zone.holds(Double.NaN)).isFalse();
  }

  /** Beyond the zone the chance is a difference of two tails: Phi(3) - Phi(2) from tables. */
  @Test
  void aValueBesideANarrowZone() {
    double inside = 0.9986501019683699 - 0.9772498680518208;
    assertThat(Conformity.probability(8, 1, new Zone(10, 11))).isCloseTo(inside, within(1e-15));
    assertThat(Conformity.probability(13, 1, new Zone(10, 11))).isCloseTo(inside, within(1e-15));
  }

  @Test
  void atOneLimitTheGuardBandIsThatOfOneLimit() {
    double one = Conformity.guardBand(0.1, 0.95);
    assertThat(Conformity.guardBand(0.1, 0.95, Zone.atMost(10))).isEqualTo(one);
    assertThat(Conformity.guardBand(0.1, 0.95, new Zone(10, Double.POSITIVE_INFINITY)))
        .isEqualTo(one);
  }

  @Test
  void aWiderGuardBandTradesConsumersForProducersRisk() {
    Zone two = Zone.symmetric(2);
    Risks before = Conformity.risks(0.3, 0.9, 0.3, two, two);
    for (double w = 0.1; w < 1; w += 0.1) {
      Risks now = Conformity.risks(0.3, 0.9, 0.3, two, Zone.symmetric(2 - w));
      assertThat(now.consumer()).isLessThan(before.consumer());
      assertThat(now.producer()).isGreaterThan(before.producer());
      before = now;
    }
  }

  @Test
  void risksAgreeWithASimulatedProduction() {
    long seed = 20261125;
    Random random = new Random(seed);
    Zone zone = new Zone(-1.5, 2);
    Zone acceptance = new Zone(-1.4, 1.9);
    int items = 400_000;
    int consumer = 0;
    int producer = 0;
    for (int i = 0; i < items; i++) {
      double truth = 0.2 + random.nextGaussian();
      double read = truth + 0.3 * random.nextGaussian();
      boolean good = zone.holds(truth);
      boolean accepted = acceptance.holds(read);
      consumer += accepted && !good ? 1 : 0;
      producer += !accepted && good ? 1 : 0;
    }
    Risks risks = Conformity.risks(0.2, 1, 0.3, zone, acceptance);
    double error = 4 * Math.sqrt(0.05 / items);
    assertThat(risks.consumer()).as("seed %s", seed).isCloseTo(consumer / 4e5, within(error));
    assertThat(risks.producer()).as("seed %s", seed).isCloseTo(producer / 4e5, within(error));
  }

  @Test
  void farBeyondTheLimitAProbabilityKeepsItsDigits() {
    double p = Conformity.probability(12, 0.1, Zone.atMost(10));
    assertThat(p).isBetween(2.7e-89, 2.8e-89);
    assertThat(Conformity.probability(8, 0.1, new Zone(10, Double.POSITIVE_INFINITY)))
        .isCloseTo(p, within(1e-100));
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> new Zone(2, 2))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("lower must lie below upper, were 2.0 and 2.0");
    assertThatThrownBy(() -> Conformity.guardBand(1, 0.95, Zone.symmetric(1)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageStartingWith("standardUncertainty must be smaller");
    assertThatThrownBy(() -> Conformity.probability(1, 0, Zone.atMost(2)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("standardUncertainty must be above 0 and finite, was 0.0");
  }
}
