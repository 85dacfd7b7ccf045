package lotproof.demo;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import lotproof.demo.SimulatedBench.JoinedPair;
import lotproof.demo.SimulatedBench.Warmth;
import lotproof.plan.Draws;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimRequest.LevelRequest;

/** The truth behind the demo study, in the order in which truth.yaml shows it. */
record DemoTruth(
    long seed,
    DemoUnits<CellTrait> cells,
    DemoUnits<BoardTrait> boards,
    DemoTroubles troubles,
    Map<List<Integer>, JoinedPair> pairs) {
  private static final double[] CONTENTS = {0.9, 0.95, 0.99};
  private static final int REPEATED_RUNS = 4000;

  Map<String, Object> asMap(int futureKits, Draws draws) {
    Map<String, Object> truth = new LinkedHashMap<>();
    truth.put("seed", seed);
    truth.put("bench", bench());
    truth.put("cell population", population(HiveScale.cells()));
    truth.put("board population", population(HiveScale.boards()));
    truth.put("components", components(draws));
    truth.put("figures", figures(futureKits, draws));
    truth.put("troubles", troublesMap());
    truth.put("cell lot means", lots(cells, HiveScale.cells()));
    truth.put("board lot means", lots(boards, HiveScale.boards()));
    truth.put("cells", units(cells, HiveScale.cells()));
    truth.put("boards", units(boards, HiveScale.boards()));
    truth.put("pairing log gain", pairings());
    return truth;
  }

  private static Map<String, Object> bench() {
    BenchModel bench = HiveScale.bench();
    Map<String, Object> map = new LinkedHashMap<>();
    map.put("capacity [kg]", bench.capacityKilograms());
    map.put("nominal output [mV/V]", bench.nominalMillivoltPerVolt());
    map.put("converter scale [counts per mV/V]", bench.countsPerMillivoltPerVolt());
    map.put("samples per reading", bench.samplesPerReading());
    map.put("seconds per step", bench.secondsPerStep());
    map.put("creep time constant [s]", bench.creepSeconds());
    map.put("pairing log gain sd", bench.pairingLogGainSd());
    map.put("mounting log gain sd", bench.mountingLogGainSd());
    map.put("mounting zero sd [mV/V]", bench.mountingZeroSdMillivoltPerVolt());
    map.put("placement sd at capacity [g]", bench.placementSdGrams());
    map.put("mass error by load in kg [g]", new TreeMap<>(bench.massErrorsGrams()));
    return map;
  }

  private static <T extends Enum<T>> Map<String, Object> population(Population<T> population) {
    Map<String, Object> map = new LinkedHashMap<>();
    population
        .spreads()
        .forEach(
            (trait, spread) -> {
              Map<String, Object> one = new LinkedHashMap<>();
              one.put("mean", rounded(spread.mean()));
              one.put("lot sd", spread.lotSd());
              one.put("unit sd", spread.unitSd());
              map.put(trait.toString(), one);
            });
    return map;
  }

  /**
   * Standard deviations that a study of sensitivity and of zero should find. Cells and boards are
   * known; what is left from run to run is simulated with one average pair.
   */
  private static Map<String, Object> components(Draws draws) {
    BenchModel bench = HiveScale.bench();
    double nominal = bench.nominalMillivoltPerVolt();
    NormalSpread sensitivity = HiveScale.cells().spread(CellTrait.LOG_SENSITIVITY);
    NormalSpread gain = HiveScale.boards().spread(BoardTrait.LOG_GAIN);
    NormalSpread zero = HiveScale.cells().spread(CellTrait.ZERO);
    NormalSpread offset = HiveScale.boards().spread(BoardTrait.OFFSET);
    double[] residual = residualSds(draws);
    Map<String, Object> map = new LinkedHashMap<>();
    map.put(
        "sensitivity [mV/V]",
        sds(
            nominal * StrictMath.exp(sensitivity.mean() + gain.mean()),
            new double[] {
              nominal * sensitivity.lotSd(),
              nominal * sensitivity.unitSd(),
              nominal * gain.lotSd(),
              nominal * gain.unitSd(),
              nominal * bench.pairingLogGainSd(),
              residual[0]
            }));
    map.put(
        "zero [mV/V]",
        sds(
            zero.mean() + offset.mean(),
            new double[] {
              zero.lotSd(), zero.unitSd(), offset.lotSd(), offset.unitSd(), 0, residual[1]
            }));
    return map;
  }

  private static Map<String, Object> sds(double mean, double[] sds) {
    Map<String, Object> map = new LinkedHashMap<>();
    map.put("mean", rounded(mean));
    String[] names = {
      "cell lot sd", "cell sd", "board lot sd", "board sd", "pair sd", "residual sd"
    };
    for (int i = 0; i < names.length; i++) {
      map.put(names[i], rounded(sds[i]));
    }
    return map;
  }

  /** Sd of sensitivity and of zero over fresh mountings of one average pair, in mV/V. */
  private static double[] residualSds(Draws draws) {
    SimulatedBench bench = new SimulatedBench(HiveScale.bench());
    JoinedPair pair = new JoinedPair(HiveScale.cells().average(), HiveScale.boards().average(), 0);
    double scale = bench.model().countsPerMillivoltPerVolt();
    double[] loads = {0, 5, 20, 35, bench.model().capacityKilograms()};
    double[] sum = new double[2];
    double[] squares = new double[2];
    double[] first = new double[2];
    for (int i = 0; i < REPEATED_RUNS; i++) {
      double celsius = draws.uniform(HiveScale.LOWEST_CELSIUS, HiveScale.HIGHEST_CELSIUS);
      double[] counts =
          bench.run(pair, loads, new Warmth(celsius, celsius, 0), draws).outputCounts();
      double[] values = {(counts[4] - counts[0]) / scale, counts[0] / scale};
      for (int k = 0; k < 2; k++) {
        first[k] = i == 0 ? values[k] : first[k];
        sum[k] += values[k] - first[k];
        squares[k] += (values[k] - first[k]) * (values[k] - first[k]);
      }
    }
    double[] sds = new double[2];
    for (int k = 0; k < 2; k++) {
      sds[k] = Math.sqrt((squares[k] - sum[k] * sum[k] / REPEATED_RUNS) / (REPEATED_RUNS - 1));
    }
    return sds;
  }

  private Map<String, Object> figures(int futureKits, Draws draws) {
    FutureKits future =
        new FutureKits(
            new SimulatedBench(HiveScale.bench()),
            HiveScale.cells(),
            HiveScale.boards(),
            HiveScale.LOADS_KILOGRAMS,
            HiveScale.LOWEST_CELSIUS,
            HiveScale.HIGHEST_CELSIUS);
    List<CalibrationLevel> levels =
        HiveScale.claim().levels().stream().map(LevelRequest::level).toList();
    double[][] anyLot = future.fromNewLots(levels, futureKits, draws);
    double[][] theseLots =
        future.fromLots(
            levels, cells.lotMeanOfEachUnit(), boards.lotMeanOfEachUnit(), futureKits, draws);
    Map<String, Object> map = new LinkedHashMap<>();
    map.put(
        "definition",
        "largest |error of reading| of a kit in one run, in g, not exceeded by this fraction of"
            + " future kits; perfect masses");
    map.put("simulated kits", futureKits);
    for (int level = 0; level < levels.size(); level++) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("new lots [g]", quantiles(anyLot[level]));
      one.put("the study's lots [g]", quantiles(theseLots[level]));
      map.put(levels.get(level).key(), one);
    }
    return map;
  }

  private static Map<String, Object> quantiles(double[] ascending) {
    Map<String, Object> map = new LinkedHashMap<>();
    for (double content : CONTENTS) {
      int rank = (int) Math.ceil(content * ascending.length);
      map.put(Double.toString(content), rounded(ascending[rank - 1]));
    }
    return map;
  }

  private Map<String, Object> troublesMap() {
    Map<String, Object> map = new LinkedHashMap<>();
    map.put("board whose reference oscillates", boards.serials().get(troubles.noisyBoard()));
    map.put("its noise over the lot's", DemoTroubles.NOISE_RATIO);
    map.put("cell overloaded after its first run", cells.serials().get(troubles.overloadedCell()));
    map.put("its zero shift [mV/V]", DemoTroubles.OVERLOAD_ZERO_SHIFT_MILLIVOLT_PER_VOLT);
    map.put("its log sensitivity shift", DemoTroubles.OVERLOAD_LOG_SENSITIVITY_SHIFT);
    map.put("its hysteresis shift [fraction of capacity]", DemoTroubles.OVERLOAD_HYSTERESIS_SHIFT);
    map.put(
        "runs with exchanged cell serials",
        List.of(troubles.swappedFirst().name(), troubles.swappedSecond().name()));
    map.put(
        "their true cells",
        List.of(
            cells.serials().get(troubles.swappedFirst().cell()),
            cells.serials().get(troubles.swappedSecond().cell())));
    map.put("planned run never made", troubles.missing().name());
    map.put(
        "its pair",
        List.of(
            cells.serials().get(troubles.missing().cell()),
            boards.serials().get(troubles.missing().board())));
    map.put("cell that is extreme without a cause", cells.serials().get(troubles.extremeCell()));
    map.put("its distance from its lot in unit sds", DemoTroubles.EXTREME_UNIT_SDS);
    return map;
  }

  private static <T extends Enum<T>> Map<String, Object> lots(
      DemoUnits<T> units, Population<T> population) {
    Map<String, Object> map = new LinkedHashMap<>();
    for (int lot = 0; lot < units.lots().size(); lot++) {
      map.put(units.lots().get(lot).name(), values(units.lotMeans().get(lot), population));
    }
    return map;
  }

  private static <T extends Enum<T>> Map<String, Object> units(
      DemoUnits<T> units, Population<T> population) {
    Map<String, Object> map = new LinkedHashMap<>();
    for (int unit = 0; unit < units.size(); unit++) {
      map.put(units.serials().get(unit), values(units.traits().get(unit), population));
    }
    return map;
  }

  private static <T extends Enum<T>> Map<String, Object> values(
      Traits<T> traits, Population<T> population) {
    Map<String, Object> map = new LinkedHashMap<>();
    for (T trait : population.spreads().keySet()) {
      map.put(trait.toString(), rounded(traits.get(trait)));
    }
    return map;
  }

  private Map<String, Object> pairings() {
    Map<String, Object> map = new TreeMap<>();
    pairs.forEach(
        (pair, joined) ->
            map.put(
                cells.serials().get(pair.get(0)) + " " + boards.serials().get(pair.get(1)),
                rounded(joined.pairingLogGain())));
    return map;
  }

  /** Six significant digits: enough for a test, and the same on every machine. */
  private static double rounded(double value) {
    return new java.math.BigDecimal(value)
        .round(new java.math.MathContext(6, java.math.RoundingMode.HALF_EVEN))
        .doubleValue();
  }
}
