package lotproof.gather.layout;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Copies in tables of results are found; coarse, sorted and two-valued clean tables have none. */
class CopiedRowsTest {
  private static final long SEED = 20_280_808;
  private static final int TABLES = 200;

  /** A row: a unit and its value. */
  private record Row(String unit, double value) {}

  /** Units of spread 1, each measured so often with this scatter, rounded to this step. */
  private static List<Row> table(
      Random random, int units, int repeats, double scatter, double step) {
    double[] ofUnit = random.doubles(units).map(d -> random.nextGaussian()).toArray();
    List<Row> rows = new ArrayList<>();
    for (int pass = 0; pass < repeats; pass++) {
      for (int unit = 0; unit < units; unit++) {
        double value = ofUnit[unit] + scatter * random.nextGaussian();
        rows.add(new Row("U" + unit, Math.rint(value / step) * step));
      }
    }
    return rows;
  }

  private static Optional<CopiedRows> found(List<Row> rows, boolean named) {
    return CopiedRows.of(
        IntStream.range(0, rows.size()).mapToObj(i -> i + 2).toList(),
        rows.stream().map(Row::value).toList(),
        rows.stream().map(row -> named ? row.unit : "").toList(),
        rows.stream().map(row -> (named ? row.unit + "\n" : "") + row.value).toList());
  }

  @ParameterizedTest
  @CsvSource({
    // repeats, scatter of repeats, step of the values; the spread of units is 1
    "1, 0, 0.001",
    "1, 0, 0.2",
    "1, 0, 2",
    "2, 0.2, 0.001",
    "2, 0.2, 0.2",
    "3, 0.05, 0.2",
    "2, 0, 0.2",
    "2, 0.2, 2",
    "4, 0.5, 0.05",
  })
  void cleanTablesHaveNone(int repeats, double scatter, double step) {
    Random random = new Random(SEED);
    int named = 0;
    int unnamed = 0;
    int sorted = 0;
    for (int i = 0; i < TABLES; i++) {
      List<Row> rows = table(random, 25, repeats, scatter, step);
      named += found(rows, true).isPresent() ? 1 : 0;
      boolean independent = repeats == 1;
      unnamed += independent && found(rows, false).isPresent() ? 1 : 0;
      List<Row> inOrder = new ArrayList<>(rows);
      inOrder.sort((a, b) -> Double.compare(a.value, b.value));
      sorted += independent && found(inOrder, false).isPresent() ? 1 : 0;
    }
    assertThat(List.of(named, unnamed, sorted))
        .as("of %s tables, seed %s", TABLES, SEED)
        .allMatch(told -> told <= TABLES / 20);
  }

  @Test
  void aTwoValuedTableHasNone() {
    Random random = new Random(SEED);
    for (int i = 0; i < TABLES; i++) {
      List<Row> rows =
          IntStream.range(0, 50).mapToObj(u -> new Row("U" + u, random.nextInt(2))).toList();
      assertThat(found(rows, false)).isEmpty();
      assertThat(found(rows, true)).isEmpty();
    }
  }

  @ParameterizedTest
  @CsvSource({"true, 0.001", "true, 0.05", "false, 0.001", "false, 0.2"})
  void aTableThatWasPastedFourTimesIsFound(boolean named, double step) {
    List<Row> rows = table(new Random(SEED), 25, 1, 0, step);
    List<Row> pasted = new ArrayList<>();
    Collections.nCopies(4, rows).forEach(pasted::addAll);
    CopiedRows copies = found(pasted, named).orElseThrow();
    assertThat(copies.many()).isTrue();
    assertThat(copies.rows()).isGreaterThanOrEqualTo(25);
    assertThat(copies.first()).isEqualTo(2);
    assertThat(copies.line()).isEqualTo(27);
  }

  @ParameterizedTest
  @CsvSource({"true, 0.001", "false, 0.001"})
  void rowsThatStandFourTimesEachAreFound(boolean named, double step) {
    List<Row> rows = new ArrayList<>();
    table(new Random(SEED), 25, 1, 0, step)
        .forEach(row -> rows.addAll(Collections.nCopies(4, row)));
    CopiedRows copies = found(rows, named).orElseThrow();
    assertThat(copies).isEqualTo(new CopiedRows(3, 2, 75, true));
  }

  @Test
  void oneCopyIsTold() {
    List<Row> rows = new ArrayList<>(table(new Random(SEED), 25, 2, 0.2, 0.001));
    rows.add(rows.get(7));
    assertThat(found(rows, true)).contains(new CopiedRows(52, 9, 1, false));
  }
}
