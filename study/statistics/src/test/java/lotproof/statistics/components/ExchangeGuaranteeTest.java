package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.PermutationSampler;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How often exchanged serials are found, and how often right ones are accused. */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ExchangeGuaranteeTest {
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 2000) / 10;

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees-exchange.md");
  }

  /** Rotations: the spread of boards, pairs and readings against that of cells, 1. */
  @ParameterizedTest(name = "{0} cells, board {1}, pair {2}, reading {3}, repeats {4}")
  @CsvSource({
    "20, 0.5, 0.05, 0.05, 10", "50, 0.5, 0.05, 0.05, 15", "50, 0.5, 0.1, 0.2, 0",
    "30, 1, 0.02, 0.02, 0", "50, 0.2, 0, 0.1, 20", "12, 0.5, 0.05, 0.05, 0",
  })
  void exchanges(int cells, double board, double pair, double reading, int repeats)
      throws IOException {
    UniformRandomProvider random = Studies.random(LimitsTally.SEED + cells);
    int accused = 0;
    int found = 0;
    for (int s = 0; s < STUDIES; s++) {
      accused += find(random, cells, repeats, List.of(board, pair, reading), false) ? 1 : 0;
      found += find(random, cells, repeats, List.of(board, pair, reading), true) ? 1 : 0;
    }
    double studies = STUDIES;
    report.row(
        String.format(
            Locale.ROOT,
            "| rotation of %d, boards %.1f, pairs %.2f, readings %.2f | %.3f | %.3f |",
            cells,
            board,
            pair,
            reading,
            accused / studies,
            found / studies));
    assertThat(accused / studies).isLessThan(0.08);
  }

  /** Whether something was found; of a planted exchange, whether it was the one. */
  private static boolean find(
      UniformRandomProvider random, int cells, int repeats, List<Double> sds, boolean planted) {
    List<Integer> cell = new ArrayList<>();
    List<Integer> board = new ArrayList<>();
    for (int pass = 0; pass < 2; pass++) {
      for (int i = 0; i < cells; i++) {
        cell.add(i);
        board.add((i + pass) % cells);
      }
    }
    cell.addAll(cell.subList(0, repeats));
    board.addAll(board.subList(0, repeats));
    Set<List<Integer>> plan = new HashSet<>();
    for (int i = 0; i < cell.size(); i++) {
      plan.add(List.of(cell.get(i), board.get(i)));
    }
    // sessions of ten runs in a drawn order
    int[] order = PermutationSampler.natural(cell.size());
    PermutationSampler.shuffle(random, order);
    int[] session = new int[order.length];
    for (int i = 0; i < order.length; i++) {
      session[order[i]] = i / 10;
    }
    List<double[]> values = List.of(draw(random, cell, board, sds), draw(random, cell, board, sds));
    int one = order[0];
    int other = order[1];
    for (int i = 2;
        cell.get(other).equals(cell.get(one)) || board.get(other).equals(board.get(one));
        i++) {
      other = order[i];
    }
    if (planted) {
      int kept = cell.get(one);
      cell.set(one, cell.get(other));
      cell.set(other, kept);
    }
    List<RandomFactor> factors =
        List.of(Studies.numbered("cell", cell), Studies.numbered("board", board));
    List<ComponentsFit> fits = new ArrayList<>();
    for (double[] of : values) {
      if (ComponentsFitter.fit(new Observations(of, factors), FitOptions.REML)
          instanceof ComponentsFit fit) {
        fits.add(fit);
      } else {
        return false;
      }
    }
    Optional<ExchangedLabels> found =
        ExchangedLabels.find(
            fits,
            Set.of(new Component("cell")),
            session,
            (i, j) -> !cell.get(i).equals(cell.get(j)),
            (i, j) -> restores(plan, cell, board, i, j));
    int second = other;
    return planted
        ? found.filter(e -> Set.of(e.one(), e.other()).equals(Set.of(one, second))).isPresent()
        : found.isPresent();
  }

  private static boolean restores(
      Set<List<Integer>> plan, List<Integer> cell, List<Integer> board, int i, int j) {
    return !plan.contains(List.of(cell.get(i), board.get(i)))
        && !plan.contains(List.of(cell.get(j), board.get(j)))
        && plan.contains(List.of(cell.get(j), board.get(i)))
        && plan.contains(List.of(cell.get(i), board.get(j)));
  }

  private static double[] draw(
      UniformRandomProvider random, List<Integer> cell, List<Integer> board, List<Double> sds) {
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    double[] cells = Studies.draws(normal, cell.size(), 1);
    double[] boards = Studies.draws(normal, board.size(), sds.get(0));
    double[] values = new double[cell.size()];
    for (int i = 0; i < values.length; i++) {
      values[i] =
          cells[cell.get(i)]
              + boards[board.get(i)]
              + Math.hypot(sds.get(1), sds.get(2)) * normal.sample();
    }
    return values;
  }
}
