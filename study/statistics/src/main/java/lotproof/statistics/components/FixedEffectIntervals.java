package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.components.ComponentsFit.FixedEffect;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Confidence intervals of the effects of fixed columns.
 *
 * <p>estimate -+ t(nu) standard error, with Satterthwaite's degrees of freedom nu = 2 f² / (g' I^-1
 * g): f the variance of the estimate, g its derivatives by the variance components, I their
 * expected information. g is taken by differences of the exact f; a component at zero is
 * differenced on the side above. nu is held between 1 and the number of observations less the fixed
 * columns and the mean.
 *
 * <p>Where residuals contradict the model the standard error is wider ({@code EffectVariance}).
 *
 * <p>Exact in balanced designs where the effect is tested against one mean square; elsewhere an
 * approximation. Sources: F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110-114; F. G.
 * Giesbrecht and J. C. Burns, Biometrics 41 (1985) 477-486 (both from memory).
 */
public final class FixedEffectIntervals {
  private static final double RELATIVE_STEP = 1e-4;

  private FixedEffectIntervals() {}

  /**
   * One effect with its interval.
   *
   * @param effect estimate and standard error, widened where residuals contradict the model
   * @param degreesOfFreedom Satterthwaite's
   * @param interval of the effect
   * @param widening the standard error over that by the model alone, 1 or more
   * @param doubt what was found against the model
   */
  public record Estimate(
      FixedEffect effect,
      double degreesOfFreedom,
      Interval interval,
      double widening,
      Doubt doubt) {}

  /** What residuals have against the model of an effect. */
  public enum Doubt {
    /** Nothing. */
    NONE,
    /** Successive residuals are alike. */
    MEMORY,
    /** The effect differs between units. */
    UNITS
  }

  /** One entry for each fixed column, in their order. */
  public static List<Estimate> of(ComponentsFit fit, double confidence) {
    Checks.fraction(confidence, "confidence");
    List<Double> freedom = degreesOfFreedom(fit);
    List<Estimate> result = new ArrayList<>();
    for (int c = 0; c < freedom.size(); c++) {
      EffectVariance honest = EffectVariance.of(fit, c);
      double nu = honest.degreesOfFreedom(freedom.get(c));
      FixedEffect effect = honest.applied(fit.fixedEffects().get(c));
      double half =
          DistributionQuantiles.student(nu, (1 + confidence) / 2) * effect.standardError();
      result.add(
          new Estimate(
              effect,
              nu,
              new Interval(effect.estimate() - half, effect.estimate() + half, confidence),
              honest.widening(),
              honest.doubt()));
    }
    return List.copyOf(result);
  }

  /** Satterthwaite's degrees of freedom of each effect by the model alone. */
  static List<Double> degreesOfFreedom(ComponentsFit fit) {
    List<FixedEffect> effects = fit.fixedEffects();
    double[][] gradients = gradients(fit, effects.size());
    double most = fit.observations().size() - 1.0 - effects.size();
    List<Double> result = new ArrayList<>();
    for (int c = 0; c < effects.size(); c++) {
      double[] g = gradients[c];
      double f = Math.pow(effects.get(c).standardError() / fit.data().scale, 2);
      double spread =
          SmallMatrix.solve(fit.scaledInformation(), g)
              .map(solved -> Dense.dot(g, solved))
              .orElseThrow(() -> new IllegalStateException("information is singular"));
      result.add(spread > 0 ? Math.max(1, Math.min(most, 2 * f * f / spread)) : most);
    }
    return List.copyOf(result);
  }

  /** Derivatives of the variance of each effect by each component, in scaled units. */
  private static double[][] gradients(ComponentsFit fit, int columns) {
    double[] theta = fit.scaledVariances();
    double total = Arrays.stream(theta).sum();
    LikelihoodSurface surface = fit.surface();
    double[][] gradients = new double[columns][theta.length];
    for (int k = 0; k < theta.length; k++) {
      double step = RELATIVE_STEP * (theta[k] > 0 ? theta[k] : total);
      double below = theta[k] > 0 ? step : 0;
      double[] high = variances(surface, theta, k, step, columns);
      double[] low = variances(surface, theta, k, -below, columns);
      for (int c = 0; c < columns; c++) {
        gradients[c][k] = (high[c] - low[c]) / (step + below);
      }
    }
    return gradients;
  }

  private static double[] variances(
      LikelihoodSurface surface, double[] theta, int k, double move, int columns) {
    double[] moved = theta.clone();
    moved[k] += move;
    if (!Double.isFinite(surface.logLikelihood(moved))) {
      throw new IllegalStateException("the likelihood is not finite beside its top");
    }
    double[][] covariance = surface.last().fixedCovariance();
    double[] variances = new double[columns];
    for (int c = 0; c < columns; c++) {
      variances[c] = covariance[c + 1][c + 1];
    }
    return variances;
  }
}
