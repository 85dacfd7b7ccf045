package lotproof.report.assembly;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.report.model.Chart;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.Test;

/** The history of later lots as charts. */
class WatchChartsTest {
  private static WatchLine line(
      String check, String level, double mean, double largest, WatchLine.Verdict verdict) {
    return new WatchLine(
        check,
        "2026-11-02",
        "lot of " + check,
        new WatchLine.Kits(5, largest, 0),
        level,
        31,
        50,
        "rising",
        new WatchLine.Mean(mean, 2, 6),
        new WatchLine.Spread(OptionalDouble.of(3), 4, OptionalDouble.of(9)),
        verdict,
        new WatchLine.Source("lot.csv", "ab", "cd"));
  }

  @Test
  void eachLevelHasItsMeansAndItsLargestErrorsInTheOrderOfTheChecks() {
    List<Chart> charts =
        WatchBlocks.charts(
            List.of(
                line("W1", "none", 1, 20, WatchLine.Verdict.CLAIM_HOLDS),
                line("W1", "one-point (20 kg)", 3, 12, WatchLine.Verdict.CLAIM_HOLDS),
                line("W2", "none", 9, 33, WatchLine.Verdict.HOLD_THE_LOT),
                line("W2", "one-point (20 kg)", 4, 13, WatchLine.Verdict.CLAIM_HOLDS)));
    assertThat(charts).hasSize(4);
    assertThat(charts.stream().map(c -> c.caption().id()))
        .containsExactly(
            "later-lots-1-none-mean",
            "later-lots-1-none-largest",
            "later-lots-2-one-point-20-kg-mean",
            "later-lots-2-one-point-20-kg-largest");
    Chart means = charts.get(0);
    assertThat(means.series().get(0).points())
        .containsExactly(new Chart.Point(1, 1), new Chart.Point(2, 9));
    assertThat(means.marks().stream().map(Chart.Mark::value)).containsExactly(2.0, -4.0, 8.0);
    assertThat(means.caption().answer()).contains("W2 lot lot of W2 hold the lot");
    Chart largest = charts.get(1);
    assertThat(largest.series().get(0).points())
        .containsExactly(new Chart.Point(1, 20), new Chart.Point(2, 33));
    assertThat(largest.series().get(1).points()).allMatch(point -> point.y() == 31);
  }

  @Test
  void nothingIsDrawnOfNothing() {
    assertThat(WatchBlocks.charts(List.of())).isEmpty();
  }
}
