package lotproof.statistics.summary;

/**
 * Where the p quantile stands among n ordered values, counted from 1; between two values it is
 * interpolated. The rules differ visibly for small samples, so a report names the one it used.
 *
 * <p>Source: R. J. Hyndman and Y. Fan, The American Statistician 50 (1996) 361-365 (types 5 to 8).
 */
public enum QuantileRule {
  /** Position p (n + 1): the mean share below each value. Type 6; the handbook's first rule. */
  N_PLUS_ONE("p(n+1)", 0, 1),
  /** Position 1 + p (n - 1): the ends are the extremes. Type 7; the rule of most spreadsheets. */
  N_MINUS_ONE("1+p(n-1)", 1, -1),
  /** Position p n + 1/2. Type 5. */
  MIDWAY("pn+1/2", 0.5, 0),
  /** Position p (n + 1/3) + 1/3: close to median-unbiased whatever the population. Type 8. */
  MEDIAN_UNBIASED("p(n+1/3)+1/3", 1.0 / 3, 1.0 / 3);

  private final String formula;
  private final double offset;
  private final double extra;

  QuantileRule(String formula, double offset, double extra) {
    this.formula = formula;
    this.offset = offset;
    this.extra = extra;
  }

  /** The position in words of a formula, for reports. */
  public String formula() {
    return formula;
  }

  double position(int n, double p) {
    return offset + p * (n + extra);
  }
}
