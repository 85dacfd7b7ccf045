package lotproof.reduce;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lotproof.study.MassClass;
import org.junit.jupiter.api.Test;

/**
 * OIML R 111-1:2004, Table 1: check value W1, all weights and classes, and what the standard says
 * of the table as a whole.
 */
class MassLimitsTest {
  private static final Path W1 = Path.of("src/test/resources/check-values/oiml_r111_mpe_mg.csv");

  /** Relative limits from 100 g up, E1 to M3; the table rounds them to two digits or fewer. */
  private static final List<RelativeLimit> RELATIVE =
      List.of(
          new RelativeLimit(MassClass.E1, 0.5e-6),
          new RelativeLimit(MassClass.E2, 1.6e-6),
          new RelativeLimit(MassClass.F1, 5e-6),
          new RelativeLimit(MassClass.F2, 16e-6),
          new RelativeLimit(MassClass.M1, 50e-6),
          new RelativeLimit(MassClass.M1_2, 100e-6),
          new RelativeLimit(MassClass.M2, 160e-6),
          new RelativeLimit(MassClass.M2_3, 300e-6),
          new RelativeLimit(MassClass.M3, 500e-6));

  private record RelativeLimit(MassClass massClass, double fraction) {}

  private static List<NamedCsvRecord> published() throws IOException {
    try (CsvReader<NamedCsvRecord> csv =
        CsvReader.builder().ofNamedCsvRecord(Files.newBufferedReader(W1))) {
      return csv.stream().toList();
    }
  }

  @Test
  void agreesWithThePublishedTableInEveryCell() throws IOException {
    for (NamedCsvRecord row : published()) {
      double kilograms = Double.parseDouble(row.getField("nominal_g")) / 1000;
      for (MassClass massClass : MassClass.values()) {
        String limit = row.getField(massClass.name());
        String where = row.getField("nominal") + " " + massClass;
        if (limit.isEmpty()) {
          // lighter weights of the class, where it has some, make up the load
          boolean lighter =
              published().stream()
                  .anyMatch(
                      other ->
                          Double.parseDouble(other.getField("nominal_g")) / 1000 < kilograms
                              && !other.getField(massClass.name()).isEmpty());
          assertThat(MassLimits.grams(kilograms, massClass).isPresent())
              .as(where)
              .isEqualTo(lighter);
        } else {
          assertThat(MassLimits.grams(kilograms, massClass).orElseThrow())
              .as(where)
              .isCloseTo(Double.parseDouble(limit) / 1000, within(1e-12));
        }
      }
    }
  }

  @Test
  void isProportionalToTheMassAboveAHundredGrams() {
    for (RelativeLimit relative : RELATIVE) {
      for (double kilograms : new double[] {0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50}) {
        MassLimits.grams(kilograms, relative.massClass())
            .ifPresent(
                grams ->
                    assertThat(grams / (1000 * kilograms))
                        .as(kilograms + " kg " + relative.massClass())
                        .isCloseTo(relative.fraction(), within(0.07 * relative.fraction())));
      }
    }
  }

  /** A copy of the table that goes round gives 0.02 mg for 5 mg of class M1; the standard 0.20. */
  @Test
  void smallWeightOfClassM1() {
    assertThat(MassLimits.grams(5e-6, MassClass.M1).orElseThrow())
        .isCloseTo(0.20e-3, within(1e-15));
  }

  @Test
  void readsNominalValues() {
    assertThat(MassLimits.grams(50, MassClass.M1)).hasValue(2.5);
    assertThat(MassLimits.grams(50, MassClass.E1)).hasValue(0.025);
    assertThat(MassLimits.grams(50, MassClass.M2_3)).hasValue(16);
    assertThat(MassLimits.grams(20, MassClass.M2)).hasValue(3);
    assertThat(MassLimits.grams(1, MassClass.F2)).hasValue(0.016);
  }

  @Test
  void addsTheLimitsOfTheWeightsThatMakeUpALoad() {
    // 35 kg = 20 + 10 + 5
    assertThat(MassLimits.grams(35, MassClass.M1).orElseThrow())
        .isCloseTo(1.0 + 0.5 + 0.25, within(1e-12));
    assertThat(MassLimits.grams(0, MassClass.M1)).hasValue(0);
  }

  @Test
  void hasNoLimitWhereTheStandardHasNone() {
    assertThat(MassLimits.grams(20, MassClass.M1_2)).isEmpty();
  }

  @Test
  void refusesWhatIsNoLoad() {
    assertThatThrownBy(() -> MassLimits.grams(Double.NaN, MassClass.M1))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("NaN");
  }
}
