package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.review.DecidedRuns;
import lotproof.study.CalibrationLevel;
import lotproof.study.Decision;
import lotproof.study.Study;

/** Puts a figure into words with every condition that it needs. */
final class ClaimSentence {
  private final Study study;
  private final List<LotScope> scopes;
  private final TemperatureRange temperature;
  private final List<Decision> excluded;

  ClaimSentence(
      Study study, List<LotScope> scopes, TemperatureRange temperature, List<Decision> excluded) {
    this.study = study;
    this.scopes = scopes;
    this.temperature = temperature;
    this.excluded = excluded;
  }

  String of(CalibrationLevel level, LevelOutcome outcome) {
    return outcome instanceof LevelOutcome.Figure figure
        ? of(level, figure)
        : "No figure can be claimed "
            + level.description()
            + ". "
            + ((LevelOutcome.NoFigure) outcome).reason();
  }

  private String of(CalibrationLevel level, LevelOutcome.Figure figure) {
    double capacity = study.kit().capacityKilograms();
    String sentence =
        String.format(
            Locale.ROOT,
            "Error of reading within ±%s g (%s %% of %s kg) %s, at the tested loads of %s, %s: "
                + "this holds for at least %s %% of kits of any such cell with any such board, stated with %s %% confidence from %s.",
            Numbers.plain(figure.safestGrams()),
            percentOfCapacity(figure),
            Numbers.plain(capacity),
            level.description(),
            testedLoads(),
            temperature.words(),
            Numbers.percent(study.claim().content()),
            Numbers.percent(study.claim().confidence()),
            scopes.stream().map(LotScope::count).collect(Collectors.joining(" and ")));
    List<String> sentences = new ArrayList<>();
    sentences.add(sentence);
    scopes.stream().map(ClaimSentence::lotWords).filter(s -> !s.isEmpty()).forEach(sentences::add);
    sentences.addAll(DecidedRuns.conditions(excluded));
    return String.join(" ", sentences);
  }

  /** The loads in words; between them nothing was measured. */
  private String testedLoads() {
    List<Double> loads = study.design().loadsKilograms();
    List<String> ascending =
        loads.stream().distinct().sorted().map(Numbers::plain).collect(Collectors.toList());
    String last = ascending.remove(ascending.size() - 1);
    String list = ascending.isEmpty() ? last : String.join(", ", ascending) + " and " + last;
    boolean falls = false;
    for (int i = 1; i < loads.size(); i++) {
      falls |= loads.get(i) < loads.get(i - 1);
    }
    return list + (falls ? " kg, rising and falling" : " kg, rising only");
  }

  private static String percentOfCapacity(LevelOutcome.Figure figure) {
    return new java.math.BigDecimal(100 * figure.fractionOfCapacity())
        .round(new java.math.MathContext(3, java.math.RoundingMode.CEILING))
        .stripTrailingZeros()
        .toPlainString();
  }

  private static String lotWords(LotScope scope) {
    String units = scope.kind().word() + "s";
    return switch (scope.wording()) {
      case ONE_LOT ->
          "Variation between "
              + scope.kind().word()
              + " lots was not observed: the figure holds for "
              + units
              + " of lot "
              + String.join(", ", scope.lots())
              + " only.";
      case FEW_LOTS ->
          scope.lots().size()
              + " "
              + scope.kind().word()
              + " lots cannot bound how lots differ, so the figure is wide.";
      case GENERAL -> "";
    };
  }
}
