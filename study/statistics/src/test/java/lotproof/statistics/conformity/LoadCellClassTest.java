package lotproof.statistics.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.List;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Held against the tables of OIML R 60-1:2021 and its worked example of a cell of class C3. */
class LoadCellClassTest {
  private static double bound(String text) {
    return text.equals("unlimited") ? Double.POSITIVE_INFINITY : Double.parseDouble(text);
  }

  @ParameterizedTest
  @EnumSource
  void limitsFollowTheSteps(LoadCellClass cell) {
    List<NamedCsvRecord> steps = Oracle.table("oiml_r60_mpe.csv");
    assertThat(steps).hasSize(3);
    for (NamedCsvRecord step : steps) {
      double factor = Double.parseDouble(step.getField("factor_of_pLC_v"));
      double from = bound(step.getField(cell + "_from_v"));
      double to = bound(step.getField(cell + "_to_v"));
      double last = Math.min(to, 1e9);
      for (double apportionment : new double[] {0.3, 0.7, 0.8}) {
        double wanted = apportionment * factor;
        assertThat(cell.limit(last, apportionment)).isEqualTo(wanted);
        assertThat(cell.limit(from + 0.001 * (last - from), apportionment)).isEqualTo(wanted);
      }
    }
  }

  @ParameterizedTest
  @EnumSource
  void requirementsOfTheClasses(LoadCellClass cell) {
    NamedCsvRecord row =
        Oracle.table("oiml_r60_classes.csv").stream()
            .filter(r -> r.getField("class").equals(cell.name()))
            .findFirst()
            .orElseThrow();
    assertThat(cell.fewestIntervals()).isEqualTo(bound(row.getField("n_LC_min")));
    assertThat(cell.mostIntervals()).isEqualTo(bound(row.getField("n_LC_max")));
    assertThat(cell.repeatedLoadings())
        .isEqualTo(Integer.parseInt(row.getField("repeat_loadings")));
    assertThat(cell.temperatureStepKelvin())
        .isEqualTo(bound(row.getField("MDLO_temperature_step_C")));
  }

  @Test
  void cellOfThreeThousandIntervals() {
    double[] loads = {500, 2000, 3000};
    double[] limits = {0.35, 0.70, 1.05};
    for (int i = 0; i < loads.length; i++) {
      assertThat(LoadCellClass.C.limit(loads[i], LoadCellClass.USUAL_APPORTIONMENT))
          .isCloseTo(limits[i], within(1e-12));
    }
    assertThat(LoadCellClass.C.creepLimit(3000)).isCloseTo(0.735, within(1e-12));
    assertThat(LoadCellClass.C.lateCreepLimit(3000)).isCloseTo(0.1575, within(1e-12));
    assertThat(LoadCellClass.DEAD_LOAD_RETURN).isEqualTo(0.5);
  }

  /** The edition of 2000 had printed other steps before its erratum of November 2000. */
  @Test
  void temperatureStepsAreThoseOfTheErratum() {
    assertThat(LoadCellClass.A.temperatureStepKelvin()).isEqualTo(2);
    assertThat(LoadCellClass.B.temperatureStepKelvin()).isEqualTo(5);
    assertThat(LoadCellClass.C.temperatureStepKelvin()).isEqualTo(5);
    assertThat(LoadCellClass.D.temperatureStepKelvin()).isEqualTo(5);
  }

  @Test
  void refusesWhatNoClassAllows() {
    assertThatThrownBy(() -> LoadCellClass.C.limit(10_001, 0.7))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("10001");
    assertThatThrownBy(() -> LoadCellClass.C.limit(Double.NaN, 0.7))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> LoadCellClass.C.limit(100, 0.9))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0.9");
  }
}
