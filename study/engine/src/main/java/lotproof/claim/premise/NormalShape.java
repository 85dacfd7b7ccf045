package lotproof.claim.premise;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.NotNormal;
import lotproof.claim.premise.Assumption.RestsOnShape;
import lotproof.claim.premise.Assumption.Support;
import lotproof.model.ErrorModel;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.model.Role;
import lotproof.spread.TestedKits;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.NormalEffects;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.Study;

/**
 * How far a figure rests on a normal shape of the spread, and whether the errors show one
 * (docs/method.md, "The shape of the spread"). What units and lots support without a shape follows
 * from their numbers alone, so this wording is fixed before the data.
 *
 * @param measured one value for each run, of what the claim is about
 * @param kits independent ones that were tested; 0 where none was
 */
public record NormalShape(Study study, MeasuredValues measured, int kits) {
  /** A level of a study with normal effects is called not normal no more often than this. */
  public static final double LEVEL = 0.01;

  /** What rests on the shape; empty where kits and lots support the content without one. */
  public Optional<RestsOnShape> rests() {
    Optional<Support> byKits = Optional.of(support(kits)).filter(this::isShort);
    Optional<Support> byLots =
        Optional.of(support(lots())).filter(s -> s.count() > 0 && isShort(s));
    return byKits.isEmpty() && byLots.isEmpty()
        ? Optional.empty()
        : Optional.of(new RestsOnShape(Effect.CONDITION, byKits, byLots));
  }

  private boolean isShort(Support support) {
    return support.contentFraction() < study.claim().content();
  }

  private Support support(int count) {
    return new Support(
        count,
        count == 0 ? 0 : DistributionFree.contentOfExtreme(count, study.claim().confidence()));
  }

  /** Lots that are independent; 0 where the claim is for one lot, or lots are not known. */
  private int lots() {
    return study.claim().assumedLotRatio().isPresent()
        ? 0
        : Stream.of(Role.CELL_LOT, Role.BOARD_LOT)
            .mapToInt(this::named)
            .filter(lots -> lots > 1)
            .min()
            .orElse(0);
  }

  private int named(Role lot) {
    return (int)
        measured.labelsOf(lot).stream()
            .flatMap(List::stream)
            .filter(name -> !name.isEmpty())
            .distinct()
            .count();
  }

  /**
   * Whether the errors at a point are not normal in shape: at 1 % shared by the levels of the study
   * and by the parts of the model. Without as many kits as support the content there is then no
   * figure.
   */
  public Optional<NotNormal> found(ErrorModel model, List<ModelPart> parts, int point) {
    Optional<NormalEffects> found = Optional.empty();
    double level = LEVEL / (study.claim().levels().size() * parts.size());
    for (int half = 0; half < parts.size() && found.isEmpty(); half++) {
      found = test(model.fit(point, half), parts.get(half)).filter(test -> test.pValue() <= level);
    }
    Support support = support(kits);
    return found.map(
        test ->
            new NotNormal(
                isShort(support) ? Effect.NO_FIGURE : Effect.SHOWN,
                test.andersonDarling(),
                Math.min(1, test.pValue() * parts.size()),
                support,
                DistributionFree.sampleSizeForExtreme(
                    study.claim().content(), study.claim().confidence(), 1)));
  }

  private static Optional<NormalEffects> test(ComponentsFit fit, ModelPart part) {
    int[] independent =
        TestedKits.of(part.labelled().withoutSharedPartner()).disjoint().stream()
            .mapToInt(Integer::intValue)
            .toArray();
    double[] values = fit.observations().values();
    return independent.length < NormalEffects.FEWEST
            || Arrays.stream(independent).mapToDouble(i -> values[i]).distinct().count() < 3
        ? Optional.empty()
        : Optional.of(NormalEffects.test(fit, independent));
  }
}
