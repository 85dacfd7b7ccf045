package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Two observations of which the levels of a kind of unit look exchanged: with them exchanged back
 * the values, all characteristics together, are far more likely.
 *
 * <p>Under the right labels the likelihood ratio of any other labelling exceeds M / alpha in at
 * most alpha / M of records, because its mean is 1; of M labellings one does so in at most alpha.
 * So an exchange is named when log likelihood grows by more than log(M / alpha), M the number of
 * pairs that could be exchanged, alpha = 0.05. This is exact for known variances; here they are
 * estimated, for each labelling by REML, and the rate is simulated (docs/guarantees.md). To save
 * time only pairs of the observations with the largest deletion residuals are tried.
 *
 * @param one index of an observation
 * @param other index of the other
 * @param gain growth of the log-likelihood
 * @param needed growth above which an exchange is named
 */
public record ExchangedLabels(int one, int other, double gain, double needed) {
  private static final double FALSE_ALARM = 0.05;
  private static final int MOST_SUSPECTS = 12;

  /** A choice among pairs of observations. */
  public interface Pairs {
    /** Whether these two belong to it. */
    boolean test(int one, int other);
  }

  /**
   * Finds the exchange that explains the values best, if one does.
   *
   * @param fits of the characteristics, of the same observations and factors
   * @param factors components whose levels go with the unit, such as the cell and its lot
   * @param session number of the session of each observation; only units of one session can have
   *     been exchanged
   * @param exchangeable which observations of a session can have been exchanged with each other
   * @param restoring which exchanges turn two pairs that nobody planned into two that were planned;
   *     these are named unless the values speak against it, 20 to 1
   */
  public static Optional<ExchangedLabels> find(
      List<ComponentsFit> fits,
      Set<Component> factors,
      int[] session,
      Pairs exchangeable,
      Pairs restoring) {
    Map<Integer, List<Integer>> bySession =
        IntStream.range(0, session.length)
            .boxed()
            .collect(Collectors.groupingBy(i -> session[i], TreeMap::new, Collectors.toList()));
    List<Integer> suspects = suspects(fits);
    List<int[]> worthTrying = new ArrayList<>();
    long all = 0;
    for (List<Integer> together : bySession.values()) {
      for (int a = 0; a < together.size(); a++) {
        int i = together.get(a);
        for (int j : together.subList(a + 1, together.size())) {
          if (exchangeable.test(i, j)) {
            all++;
            if ((suspects.contains(i) && suspects.contains(j)) || restoring.test(i, j)) {
              worthTrying.add(new int[] {i, j});
            }
          }
        }
      }
    }
    double needed = Math.log(all / FALSE_ALARM);
    List<ExchangedLabels> tried = new ArrayList<>();
    for (int[] pair : worthTrying) {
      double gain = 0;
      for (ComponentsFit fit : fits) {
        gain += logLikelihood(exchanged(fit, factors, pair[0], pair[1]), fit) - logLikelihood(fit);
      }
      boolean restores = restoring.test(pair[0], pair[1]);
      tried.add(
          new ExchangedLabels(pair[0], pair[1], gain, restores ? Math.log(FALSE_ALARM) : needed));
    }
    return tried.stream()
        .max(Comparator.comparing((ExchangedLabels e) -> e.gain - e.needed))
        .map(best -> best.refitted(fits, factors))
        .filter(best -> best.gain > best.needed);
  }

  private ExchangedLabels refitted(List<ComponentsFit> fits, Set<Component> factors) {
    double total = 0;
    for (ComponentsFit fit : fits) {
      FitOutcome outcome =
          ComponentsFitter.fit(exchanged(fit, factors, one, other), FitOptions.REML);
      if (outcome instanceof ComponentsFit refit) {
        total += logLikelihood(refit) - logLikelihood(fit);
      }
    }
    return new ExchangedLabels(one, other, total, needed);
  }

  private static double logLikelihood(ComponentsFit fit) {
    return fit.scaledLogLikelihood() - fit.data().sumLogReadings / 2;
  }

  private static double logLikelihood(Observations observations, ComponentsFit at) {
    LikelihoodSurface surface = new LikelihoodSurface(observations.cells());
    return surface.logLikelihood(at.scaledVariances()) - observations.cells().sumLogReadings / 2;
  }

  private static Observations exchanged(ComponentsFit fit, Set<Component> factors, int i, int j) {
    Observations observations = fit.observations();
    List<RandomFactor> changed = new ArrayList<>();
    for (RandomFactor factor : observations.factors()) {
      int[] levels = factor.levelOf();
      if (factors.contains(factor.component())) {
        levels[i] = factor.level(j);
        levels[j] = factor.level(i);
      }
      changed.add(new RandomFactor(factor.component(), levels, factor.levelCount()));
    }
    return new Observations(observations.values(), changed, observations.fixedColumns());
  }

  /** The observations that the others foretell worst. */
  private static List<Integer> suspects(List<ComponentsFit> fits) {
    double[] oddness = new double[fits.get(0).observations().size()];
    for (ComponentsFit fit : fits) {
      CellMeans data = fit.data();
      Likelihood likelihood = fit.surface().last();
      double[] py = likelihood.projectedValues();
      double[] p = likelihood.rowDiagonal();
      for (int i = 0; i < oddness.length; i++) {
        int row = data.rowOf[i];
        oddness[i] += py[row] * py[row] / p[row];
      }
    }
    return IntStream.range(0, oddness.length)
        .boxed()
        .sorted(Comparator.comparing((Integer i) -> -oddness[i]))
        .limit(MOST_SUSPECTS)
        .toList();
  }
}
