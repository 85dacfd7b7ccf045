package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.study.CalibrationLevel;
import lotproof.study.Study;

/** Puts a figure into words with every condition that it needs. */
final class ClaimSentence {
  private final Study study;
  private final List<LotScope> scopes;
  private final TemperatureRange temperature;

  ClaimSentence(Study study, List<LotScope> scopes, TemperatureRange temperature) {
    this.study = study;
    this.scopes = scopes;
    this.temperature = temperature;
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
    double largestLoad =
        study.design().loadsKilograms().stream().mapToDouble(x -> x).max().orElse(capacity);
    String sentence =
        String.format(
            Locale.ROOT,
            "Error of reading within ±%s g (%s %% of %s kg) %s, for loads from 0 to %s kg, rising and falling, %s: "
                + "this holds for at least %s %% of kits of any such cell with any such board, stated with %s %% confidence from %s.",
            Numbers.plain(figure.safestGrams()),
            percentOfCapacity(figure),
            Numbers.plain(capacity),
            level.description(),
            Numbers.plain(largestLoad),
            temperature.words(),
            Numbers.percent(study.claim().content()),
            Numbers.percent(study.claim().confidence()),
            scopes.stream().map(LotScope::count).collect(Collectors.joining(" and ")));
    List<String> sentences = new ArrayList<>();
    sentences.add(sentence);
    scopes.stream().map(ClaimSentence::lotWords).filter(s -> !s.isEmpty()).forEach(sentences::add);
    return String.join(" ", sentences);
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
