package lotproof.statistics.design;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.statistics.distribution.BetaDistribution;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * How far groups of observations (lots) coincide with the time at which they were observed.
 *
 * <p>With sessions: the squared canonical correlations of the indicators of both groupings are the
 * eigenvalues of Q Q' with q_ls = (n_ls - n_l n_s / n) / sqrt(n_l n_s). The largest is the share of
 * a contrast of groups that sessions explain; 1 means that some contrast of groups is a contrast of
 * sessions. Their sum times the number of units is Pearson's chi-square with (L - 1)(S - 1) degrees
 * of freedom if units fall into sessions by chance.
 *
 * <p>With the order: the share of the variation of ranks that lies between groups, R^2, whose
 * distribution is beta((L - 1)/2, (N - L)/2) if the order is random and N units are many.
 *
 * <p>Textbook: canonical correlation of two sets of indicators is correspondence analysis
 * (Greenacre 1984, from memory). That a random order is judged by the number of units, and not of
 * their observations, is a construction: observations of one unit may stand together.
 *
 * @param shareFraction in 0..1
 * @param chance how often a random order gives so large a sum of shares, in 0..1
 */
public record GroupOverlap(double shareFraction, double chance) {

  /** Nothing coincides. */
  private static final GroupOverlap NONE = new GroupOverlap(0, 1);

  /**
   * Two groupings of the same observations.
   *
   * @param groups label of each observation
   * @param sessions label of each observation
   * @param units how many independent units the observations are of
   */
  public static GroupOverlap ofGroups(List<String> groups, List<String> sessions, int units) {
    checkSizes(groups, sessions.size(), units);
    List<String> rows = groups.stream().distinct().toList();
    List<String> columns = sessions.stream().distinct().toList();
    if (rows.size() < 2 || columns.size() < 2) {
      return NONE;
    }
    double[][] counts = new double[rows.size()][columns.size()];
    double[] ofRow = new double[rows.size()];
    double[] ofColumn = new double[columns.size()];
    for (int i = 0; i < groups.size(); i++) {
      int row = rows.indexOf(groups.get(i));
      int column = columns.indexOf(sessions.get(i));
      counts[row][column]++;
      ofRow[row]++;
      ofColumn[column]++;
    }
    for (int r = 0; r < ofRow.length; r++) {
      for (int c = 0; c < ofColumn.length; c++) {
        counts[r][c] =
            (counts[r][c] - ofRow[r] * ofColumn[c] / groups.size())
                / Math.sqrt(ofRow[r] * ofColumn[c]);
      }
    }
    RealMatrix q = new Array2DRowRealMatrix(counts, false);
    RealMatrix square = q.multiply(q.transpose());
    double largest = 0;
    for (double eigenvalue : new EigenDecomposition(square).getRealEigenvalues()) {
      largest = Math.max(largest, eigenvalue);
    }
    double df = (ofRow.length - 1.0) * (ofColumn.length - 1);
    double chance = ChiSquaredDistribution.of(df).survivalProbability(units * square.getTrace());
    return new GroupOverlap(Math.min(1, largest), chance);
  }

  /**
   * Groups of observations against their order.
   *
   * @param groups label of each observation, in their order
   * @param units how many independent units the observations are of
   */
  public static GroupOverlap ofOrder(List<String> groups, int units) {
    checkSizes(groups, groups.size(), units);
    List<String> names = groups.stream().distinct().toList();
    int lots = names.size();
    if (lots < 2 || units <= lots) {
      return NONE;
    }
    List<List<Integer>> ranks = new ArrayList<>();
    names.forEach(name -> ranks.add(new ArrayList<>()));
    for (int i = 0; i < groups.size(); i++) {
      ranks.get(names.indexOf(groups.get(i))).add(i);
    }
    double mean = (groups.size() - 1) / 2.0;
    double between = 0;
    double total = 0;
    for (List<Integer> own : ranks) {
      double ownMean = own.stream().mapToInt(r -> r).average().orElseThrow();
      between += own.size() * (ownMean - mean) * (ownMean - mean);
      for (int rank : own) {
        total += (rank - mean) * (rank - mean);
      }
    }
    double share = Math.min(1, between / total);
    double chance =
        BetaDistribution.of((lots - 1) / 2.0, (units - lots) / 2.0).survivalProbability(share);
    return new GroupOverlap(share, chance);
  }

  private static void checkSizes(List<String> groups, int sessions, int units) {
    if (groups.isEmpty() || groups.size() != sessions) {
      throw new IllegalArgumentException(
          "groups and sessions must be as many and at least 1, were "
              + groups.size()
              + " and "
              + sessions);
    }
    if (units < 1 || units > groups.size()) {
      throw new IllegalArgumentException(
          "units must lie in 1.." + groups.size() + ", was " + units);
    }
  }
}
