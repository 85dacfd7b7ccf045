package lotproof.claim.evidence;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.MassLimits;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.MassClass;
import lotproof.study.SideTest;
import lotproof.study.Study;

/**
 * What is added to a bound because nothing averages it out, in the claim's form and at the worst
 * load of the study (docs/method.md, "Masses").
 *
 * @param grams by kind; a kind that does not apply is absent, and so are loads between the tested
 *     ones where nothing is known of them
 * @param changeKelvin change of temperature between calibration and use that the correction was
 *     judged on; absent where there is none
 * @param sides for effects that supplementary tests measured
 */
public record GuardBands(
    Map<Kind, Double> grams, OptionalDouble changeKelvin, List<SideAllowance> sides) {
  /** What a guard band is for. */
  public enum Kind {
    /** Limit of error of the bench's masses at the largest load. */
    BENCH_MASSES,
    /** Limit of error that the buyer's calibration masses cause at the worst load. */
    BUYER_MASSES,
    BETWEEN_LOADS,
    /** The reference pair's own error. */
    REFERENCE,
    /** What a drift of the bench may hide of how lots differ. */
    DRIFT,
    TEMPERATURE_CORRECTION
  }

  /**
   * What a side test adds to a figure.
   *
   * @param grams the allowance, in the claim's form: the larger of the next two
   * @param modelGrams bound for a future kit by the mixed model, over all steps together, at the
   *     claim's content and confidence
   * @param largestGrams largest effect over the tested kits
   * @param kits kits that share no unit behind it, or units that met a partner for all
   * @param withoutLots whether how lots differ had to be left out, because too few were tested
   */
  public record SideAllowance(
      SideTest test,
      double grams,
      double modelGrams,
      double largestGrams,
      int runs,
      int kits,
      boolean withoutLots) {}

  public GuardBands {
    Map<Kind, Double> sorted = new EnumMap<>(Kind.class);
    sorted.putAll(grams);
    grams = Collections.unmodifiableMap(sorted);
    sides = List.copyOf(sides);
  }

  /** The guard band of a kind; 0 where it does not apply. */
  public double of(Kind kind) {
    return grams.getOrDefault(kind, 0.0);
  }

  /** Whether the figure holds between the tested loads. */
  public boolean holdsBetweenLoads() {
    return grams.containsKey(Kind.BETWEEN_LOADS);
  }

  /** Everything that is added. */
  public double totalGrams() {
    return grams.values().stream().mapToDouble(g -> g).sum() + sidesGrams();
  }

  /** What supplementary tests add. */
  public double sidesGrams() {
    return sides.stream().mapToDouble(SideAllowance::grams).sum();
  }

  /** Empty when OIML R 111 has no limit for one of the masses in its class. */
  public static Optional<GuardBands> of(
      Study study,
      CalibrationLevel level,
      List<ErrorCurve> curves,
      Optional<TemperatureEffect> correction,
      List<SideAllowance> sides) {
    ClaimForm form = study.claim().form();
    return ofMasses(study, level)
        .map(
            masses -> {
              Map<Kind, Double> all = new EnumMap<>(masses.grams);
              BetweenLoads.grams(curves, form).ifPresent(g -> all.put(Kind.BETWEEN_LOADS, g));
              correction.ifPresent(
                  effect ->
                      all.put(
                          Kind.TEMPERATURE_CORRECTION,
                          study.design().loadsKilograms().stream()
                              .mapToDouble(load -> effect.guardGrams(load) / form.weight(load))
                              .reduce(0, Math::max)));
              return new GuardBands(
                  all,
                  correction.map(TemperatureEffect::changeKelvin).orElse(OptionalDouble.empty()),
                  sides);
            });
  }

  /** Guard bands for reference masses, known from the plan. */
  public static Optional<GuardBands> ofMasses(Study study, CalibrationLevel level) {
    ClaimForm form = study.claim().form();
    double bench = 0;
    double buyer = 0;
    for (double load : study.design().loadsKilograms()) {
      OptionalDouble limit = MassLimits.grams(load, study.conditions().benchMassClass());
      OptionalDouble calibration =
          level instanceof CalibrationLevel.Calibrated calibrated
              ? buyerGrams(calibrated.pointsKilograms(), calibrated.massClass(), load)
              : OptionalDouble.of(0);
      if (limit.isEmpty() || calibration.isEmpty()) {
        return Optional.empty();
      }
      bench = Math.max(bench, limit.getAsDouble() / form.weight(load));
      buyer = Math.max(buyer, calibration.getAsDouble() / form.weight(load));
    }
    return Optional.of(
        new GuardBands(
            Map.of(Kind.BENCH_MASSES, bench, Kind.BUYER_MASSES, buyer),
            OptionalDouble.empty(),
            List.of()));
  }

  public GuardBands with(Kind kind, double added) {
    Map<Kind, Double> more = new EnumMap<>(grams);
    more.put(kind, added);
    return new GuardBands(more, changeKelvin, sides);
  }

  /**
   * Sum over the masses of |weight of the mass in the indication at this load| times its limit of
   * error.
   */
  private static OptionalDouble buyerGrams(List<Double> masses, MassClass massClass, double load) {
    int piece = 0;
    while (piece < masses.size() - 1 && load > masses.get(piece)) {
      piece++;
    }
    double from = piece == 0 ? 0 : masses.get(piece - 1);
    double share = (load - from) / (masses.get(piece) - from);
    OptionalDouble upper = MassLimits.grams(masses.get(piece), massClass);
    OptionalDouble lower = MassLimits.grams(from, massClass);
    return upper.isEmpty() || lower.isEmpty()
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            Math.abs(share) * upper.getAsDouble() + Math.abs(1 - share) * lower.getAsDouble());
  }
}
