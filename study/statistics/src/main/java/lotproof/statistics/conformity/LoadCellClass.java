package lotproof.statistics.conformity;

/**
 * Accuracy classes of load cells with their limits of error, in load cell verification intervals v.
 *
 * <p>Limit at a load: the apportionment times 0.5, 1.0 or 1.5 v, by steps of the load. Creep over
 * 30 minutes may reach 0.7 of the limit at the load, and 0.15 of it between 20 and 30 minutes, both
 * with the apportionment 0.7 whatever the cell's own; the output at the minimum dead load may have
 * moved by 0.5 v when the load is gone.
 *
 * <p>Source: OIML R 60-1:2021, tables 1 and 4 and sections 5.3 to 5.6. A load cell meets a class
 * when an authority has tested it by all of the recommendation; these are the numbers alone.
 */
public enum LoadCellClass {
  A(50_000, 200_000, Double.POSITIVE_INFINITY, 50_000, 5, 2),
  B(5_000, 20_000, 100_000, 5_000, 5, 5),
  C(500, 2_000, 10_000, 500, 3, 5),
  D(50, 200, 1_000, 100, 3, 5);

  /** Apportionment of a cell that states none. */
  public static final double USUAL_APPORTIONMENT = 0.7;

  /** Change of the output at the minimum dead load after a loading, in v. */
  public static final double DEAD_LOAD_RETURN = 0.5;

  private static final double LEAST_APPORTIONMENT = 0.3;
  private static final double MOST_APPORTIONMENT = 0.8;
  private static final double CREEP_SHARE = 0.7;
  private static final double LATE_CREEP_SHARE = 0.15;

  private final double firstStep;
  private final double secondStep;
  private final double most;
  private final double fewest;
  private final int loadings;
  private final double temperatureStepKelvin;

  LoadCellClass(
      double firstStep,
      double secondStep,
      double most,
      double fewest,
      int loadings,
      double temperatureStepKelvin) {
    this.firstStep = firstStep;
    this.secondStep = secondStep;
    this.most = most;
    this.fewest = fewest;
    this.loadings = loadings;
    this.temperatureStepKelvin = temperatureStepKelvin;
  }

  /** Fewest intervals that a cell of the class may have. */
  public double fewestIntervals() {
    return fewest;
  }

  /** Most intervals that a cell of the class may have; infinite where there is no end. */
  public double mostIntervals() {
    return most;
  }

  /** Loadings whose results may differ by no more than the limit of error at the load. */
  public int repeatedLoadings() {
    return loadings;
  }

  /**
   * Change of temperature over which the output at the minimum dead load may move by the
   * apportionment times the least interval. As corrected by the erratum of November 2000 to R
   * 60:2000.
   */
  public double temperatureStepKelvin() {
    return temperatureStepKelvin;
  }

  /**
   * Limit of error at a load.
   *
   * @param load in v, 0 to {@link #mostIntervals}
   * @param apportionment share of the instrument's error that is the cell's, 0.3 to 0.8
   * @return plus or minus so many v
   */
  public double limit(double load, double apportionment) {
    if (!(load >= 0 && load <= most)) {
      throw new IllegalArgumentException("load must lie in 0.." + most + " v, was " + load);
    }
    if (!(apportionment >= LEAST_APPORTIONMENT && apportionment <= MOST_APPORTIONMENT)) {
      throw new IllegalArgumentException(
          "apportionment must lie in "
              + LEAST_APPORTIONMENT
              + ".."
              + MOST_APPORTIONMENT
              + ", was "
              + apportionment);
    }
    double step = load <= firstStep ? 0.5 : load <= secondStep ? 1 : 1.5;
    return apportionment * step;
  }

  /** Creep over 30 minutes under a load in v, plus or minus so many v. */
  public double creepLimit(double load) {
    return CREEP_SHARE * limit(load, USUAL_APPORTIONMENT);
  }

  /** Creep between the 20th and the 30th minute under a load in v, plus or minus so many v. */
  public double lateCreepLimit(double load) {
    return LATE_CREEP_SHARE * limit(load, USUAL_APPORTIONMENT);
  }
}
