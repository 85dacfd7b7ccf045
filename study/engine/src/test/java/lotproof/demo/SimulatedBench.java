package lotproof.demo;

import lotproof.plan.Draws;

/**
 * A physical model of a load run: what a given cell with a given board would have shown.
 *
 * <p>With u = load / capacity, the bridge output of a cell in mV/V is
 *
 * <pre>
 * v = zero + zeroTC (T - 20)
 *     + S (1 + sensTC (T - 20)) [ u + bow 4u(1 - u) + cubic 6√3 u(1 - u)(1 - 2u)
 *                                 + hysteresis 4w(1 - w) while falling + creep z ]
 * </pre>
 *
 * where w = load / largest load so far and z follows u with the time constant of creep. The board
 * turns v into counts with its gain, offset, temperature coefficients and an odd cubic
 * non-linearity that is 0 at zero and at full scale. Pairing and mounting multiply the gain. The
 * shapes are common textbook shapes chosen for the model; they are a construction, not a standard.
 */
public final class SimulatedBench {
  static final double REFERENCE_CELSIUS = 20;
  private static final double CUBIC_SCALE = 6 * StrictMath.sqrt(3);
  private static final double INL_SCALE = 1.5 * StrictMath.sqrt(3);

  private final BenchModel model;

  public SimulatedBench(BenchModel model) {
    this.model = model;
  }

  /** The bench that is simulated. */
  public BenchModel model() {
    return model;
  }

  /**
   * A cell joined with a board.
   *
   * @param cell true values of the cell
   * @param board true values of the board
   * @param pairingLogGain what the two do to each other's gain
   */
  public record JoinedPair(
      Traits<CellTrait> cell, Traits<BoardTrait> board, double pairingLogGain) {}

  /**
   * Temperatures during one run, in a straight line.
   *
   * @param cellCelsius temperature of the cell at the start
   * @param boardCelsius temperature of the board at the start
   * @param kelvinPerHour drift of both
   */
  public record Warmth(double cellCelsius, double boardCelsius, double kelvinPerHour) {}

  /** Joins a cell and a board, with a new pairing effect. */
  public JoinedPair join(Traits<CellTrait> cell, Traits<BoardTrait> board, Draws draws) {
    return new JoinedPair(cell, board, model.pairingLogGainSd() * draws.gaussian());
  }

  /**
   * Runs once through the loads, after a fresh mounting.
   *
   * @param pair the cell and the board
   * @param loadsKilograms nominal loads in order
   * @param warmth temperatures of the run
   * @param draws source of mounting, placement and noise
   */
  public SimulatedRun run(JoinedPair pair, double[] loadsKilograms, Warmth warmth, Draws draws) {
    int steps = loadsKilograms.length;
    SimulatedRun run =
        new SimulatedRun(
            new double[steps], new double[steps], new double[steps], new double[steps]);
    double mountingLogGain = model.mountingLogGainSd() * draws.gaussian();
    double mountingZero = model.mountingZeroSdMillivoltPerVolt() * draws.gaussian();
    double gain =
        StrictMath.exp(
            pair.board().get(BoardTrait.LOG_GAIN) + pair.pairingLogGain() + mountingLogGain);
    double settled = StrictMath.exp(-model.secondsPerStep() / model.creepSeconds());
    double creepState = 0;
    double largest = 0;
    double noise = noiseCounts(pair);
    double readingNoise =
        noise
            / Math.sqrt(
                model.samplesPerReading() * pair.board().get(BoardTrait.INDEPENDENT_SAMPLES));
    for (int step = 0; step < steps; step++) {
      double hours = step * model.secondsPerStep() / 3600;
      double cellCelsius = warmth.cellCelsius() + warmth.kelvinPerHour() * hours;
      double boardCelsius = warmth.boardCelsius() + warmth.kelvinPerHour() * hours;
      double load = trueLoadFraction(loadsKilograms[step], draws);
      boolean falling = step > 0 && loadsKilograms[step] < loadsKilograms[step - 1];
      largest = Math.max(largest, load);
      creepState = load + (creepState - load) * settled;
      double shape = shape(pair.cell(), load, falling ? load / largest : 1, creepState);
      double bridge = bridge(pair.cell(), shape, cellCelsius) + mountingZero;
      run.outputCounts()[step] =
          counts(pair.board(), bridge, gain, boardCelsius) + readingNoise * draws.gaussian();
      // a sample standard deviation; normal approximation, good for dozens of samples
      run.noiseCounts()[step] =
          noise * (1 + draws.gaussian() / Math.sqrt(2.0 * (model.samplesPerReading() - 1)));
      run.cellCelsius()[step] = cellCelsius;
      run.boardCelsius()[step] = boardCelsius;
    }
    return run;
  }

  private double trueLoadFraction(double nominalKilograms, Draws draws) {
    double nominalFraction = nominalKilograms / model.capacityKilograms();
    double massError = model.massErrorsGrams().getOrDefault(nominalKilograms, 0.0);
    double placement = model.placementSdGrams() * nominalFraction * draws.gaussian();
    return nominalFraction + (massError + placement) / (1000 * model.capacityKilograms());
  }

  /** Response of the cell as a fraction of the response at capacity. */
  private static double shape(
      Traits<CellTrait> cell, double load, double ofLargest, double creepState) {
    double parabola = load * (1 - load);
    return load
        + cell.get(CellTrait.BOW) * 4 * parabola
        + cell.get(CellTrait.CUBIC) * CUBIC_SCALE * parabola * (1 - 2 * load)
        + cell.get(CellTrait.HYSTERESIS) * 4 * ofLargest * (1 - ofLargest)
        + cell.get(CellTrait.CREEP) * creepState;
  }

  private double bridge(Traits<CellTrait> cell, double shape, double celsius) {
    double warmer = celsius - REFERENCE_CELSIUS;
    double sensitivity =
        model.nominalMillivoltPerVolt()
            * StrictMath.exp(cell.get(CellTrait.LOG_SENSITIVITY))
            * (1 + cell.get(CellTrait.SENSITIVITY_PER_KELVIN) * warmer);
    return cell.get(CellTrait.ZERO)
        + cell.get(CellTrait.ZERO_PER_KELVIN) * warmer
        + sensitivity * shape;
  }

  private double counts(Traits<BoardTrait> board, double bridge, double gain, double celsius) {
    double warmer = celsius - REFERENCE_CELSIUS;
    double ofFullScale = bridge / model.fullScaleMillivoltPerVolt();
    double bent =
        bridge
            + board.get(BoardTrait.INL)
                * model.fullScaleMillivoltPerVolt()
                * INL_SCALE
                * ofFullScale
                * (1 - ofFullScale * ofFullScale);
    double seen =
        bent * gain * (1 + board.get(BoardTrait.GAIN_PER_KELVIN) * warmer)
            + board.get(BoardTrait.OFFSET)
            + board.get(BoardTrait.OFFSET_PER_KELVIN) * warmer;
    return seen * model.countsPerMillivoltPerVolt();
  }

  private double noiseCounts(JoinedPair pair) {
    double cell = StrictMath.exp(pair.cell().get(CellTrait.LOG_NOISE));
    double board = StrictMath.exp(pair.board().get(BoardTrait.LOG_NOISE));
    return Math.sqrt(cell * cell + board * board) * model.countsPerMillivoltPerVolt();
  }
}
