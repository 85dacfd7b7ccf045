package lotproof.demo;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Conditions;
import lotproof.study.Kit;
import lotproof.study.MassClass;

/**
 * The invented product of the demo study, a scale under a beehive: 50 kg single-point cells with
 * 24-bit bridge-converter boards. All numbers are invented; their magnitudes are common practice,
 * no source.
 */
final class HiveScale {
  static final double CAPACITY_KILOGRAMS = 50;
  static final List<Double> LOADS_KILOGRAMS =
      List.of(0.0, 5.0, 20.0, 35.0, 50.0, 35.0, 20.0, 5.0, 0.0);
  static final double LOWEST_CELSIUS = 19;
  static final double HIGHEST_CELSIUS = 25;
  static final int[] CELLS_BY_LOT = {12, 10, 10, 10, 8};
  static final int[] BOARDS_BY_LOT = {10, 10, 10, 10, 10};
  static final String BENCH_DAMAGE = "bench damage";
  static final String PRODUCTION_SCREEN = "production screen";

  private HiveScale() {}

  static BenchModel bench() {
    return new BenchModel(
        CAPACITY_KILOGRAMS,
        2.0,
        2_097_152,
        4.0,
        80,
        75,
        600,
        0.000_08,
        0.000_06,
        0.000_6,
        0.5,
        Map.of(5.0, 0.011, 20.0, -0.07, 35.0, 0.05, 50.0, 0.12));
  }

  static Population<CellTrait> cells() {
    return new Population<>(
        CellTrait.class,
        Map.of(
            CellTrait.LOG_SENSITIVITY, new NormalSpread(0.001, 0.0025, 0.004),
            CellTrait.ZERO, new NormalSpread(0.004, 0.006, 0.015),
            CellTrait.BOW, new NormalSpread(0.000_12, 0.000_02, 0.000_04),
            CellTrait.CUBIC, new NormalSpread(0, 0.000_01, 0.000_02),
            CellTrait.HYSTERESIS, new NormalSpread(0.000_1, 0.000_015, 0.000_025),
            CellTrait.CREEP, new NormalSpread(0.000_05, 0.000_015, 0.000_025),
            CellTrait.SENSITIVITY_PER_KELVIN, new NormalSpread(0.000_004, 0.000_003, 0.000_006),
            CellTrait.ZERO_PER_KELVIN, new NormalSpread(0, 0.000_02, 0.000_04),
            CellTrait.LOG_NOISE, new NormalSpread(StrictMath.log(0.000_006), 0.02, 0.05)));
  }

  static Population<BoardTrait> boards() {
    return new Population<>(
        BoardTrait.class,
        Map.of(
            BoardTrait.LOG_GAIN, new NormalSpread(-0.000_4, 0.001, 0.0015),
            BoardTrait.OFFSET, new NormalSpread(0, 0.000_5, 0.0015),
            BoardTrait.INL, new NormalSpread(0.000_002, 0.000_002, 0.000_004),
            BoardTrait.GAIN_PER_KELVIN, new NormalSpread(0, 0.000_002, 0.000_004),
            BoardTrait.OFFSET_PER_KELVIN, new NormalSpread(0, 0.000_004, 0.000_01),
            BoardTrait.LOG_NOISE, new NormalSpread(StrictMath.log(0.000_012), 0.05, 0.08),
            BoardTrait.INDEPENDENT_SAMPLES, new NormalSpread(1, 0, 0)));
  }

  static Kit kit() {
    BenchModel bench = bench();
    return new Kit(
        "single-point load cell, 50 kg, 2 mV/V",
        "bridge converter board, 24 bit, full scale 4 mV/V",
        CAPACITY_KILOGRAMS,
        bench.nominalCountsPerKilogram(),
        bench.countsPerMillivoltPerVolt(),
        OptionalInt.empty());
  }

  static Map<Characteristic, Limits> limits() {
    return Map.of(
        Characteristic.SENSITIVITY, between(1.97, 2.03),
        Characteristic.ZERO, between(-0.08, 0.08),
        Characteristic.NON_LINEARITY, between(-0.03, 0.03),
        Characteristic.HYSTERESIS, between(-0.03, 0.03),
        Characteristic.ZERO_RETURN, between(-10, 10),
        Characteristic.NOISE, new Limits(OptionalDouble.empty(), OptionalDouble.of(0.6)));
  }

  static ClaimRequest claim() {
    return new ClaimRequest(
        0.95,
        0.95,
        1,
        new ClaimForm.Symmetric(),
        ClaimRequest.Subject.KIT,
        OptionalDouble.empty(),
        List.of(
            new LevelRequest(new CalibrationLevel.None(), OptionalDouble.of(500)),
            new LevelRequest(
                new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1),
                OptionalDouble.of(50)),
            new LevelRequest(
                new CalibrationLevel.Calibrated(List.of(20.0, 50.0), MassClass.M1),
                OptionalDouble.of(25))));
  }

  static Conditions conditions() {
    return new Conditions(
        LOWEST_CELSIUS,
        HIGHEST_CELSIUS,
        MassClass.F2,
        List.of(
            "reading taken about one minute after the load was placed",
            "load placed on the middle of the platform"));
  }

  private static Limits between(double lower, double upper) {
    return new Limits(OptionalDouble.of(lower), OptionalDouble.of(upper));
  }
}
