package lotproof.claim;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.MatchedKits;
import lotproof.review.DecidedRuns;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
import lotproof.study.Decision;
import lotproof.study.Study;

/** Puts a figure into words with every condition that it needs. */
final class ClaimSentence {
  private final Study study;
  private final List<LotScope> scopes;
  private final TemperatureRange temperature;
  private final Optional<StepTimes> times;
  private final List<Decision> excluded;
  private final List<String> assumed;
  private final boolean matched;

  ClaimSentence(
      Study study, List<LotScope> scopes, TemperatureRange temperature, List<Decision> excluded) {
    this(study, scopes, temperature, Optional.empty(), excluded);
  }

  /** With the times between the steps of its runs. */
  ClaimSentence(
      Study study,
      List<LotScope> scopes,
      TemperatureRange temperature,
      Optional<StepTimes> times,
      List<Decision> excluded) {
    this(study, scopes, temperature, times, excluded, List.of(), false);
  }

  /** With what the figure assumes. */
  private ClaimSentence(
      Study study,
      List<LotScope> scopes,
      TemperatureRange temperature,
      Optional<StepTimes> times,
      List<Decision> excluded,
      List<String> assumed,
      boolean matched) {
    this.assumed = assumed;
    this.matched = matched;
    this.times = times;
    this.study = study;
    this.scopes = scopes;
    this.temperature = temperature;
    this.excluded = excluded;
  }

  ClaimWording of(
      ClaimRequest.LevelRequest request, LevelOutcome outcome, List<Assumption> assumptions) {
    List<String> conditions =
        assumptions.stream()
            .flatMap(found -> AssumptionWords.condition(found, study.claim().form()).stream())
            .toList();
    boolean matched = assumptions.stream().anyMatch(found -> found instanceof MatchedKits);
    return new ClaimSentence(study, scopes, temperature, times, excluded, conditions, matched)
        .of(request, outcome);
  }

  private ClaimWording of(ClaimRequest.LevelRequest request, LevelOutcome outcome) {
    if (outcome instanceof LevelOutcome.Figure figure) {
      String footnote = footnote(request, figure);
      return new ClaimWording(
          whole(request, figure), productLine(request, figure), footnote, mustNotSay(figure));
    }
    String reason =
        "No figure can be claimed "
            + description(request)
            + ". "
            + ((LevelOutcome.NoFigure) outcome).reason();
    return new ClaimWording(reason, "", "", List.of());
  }

  /** What the buyer has done, and what the firmware does. */
  private String description(ClaimRequest.LevelRequest request) {
    return request.level().description()
        + (request.temperatureCorrection().isPresent()
            ? ", corrected for temperature with one coefficient for all "
                + study.claim().subject().plural()
            : "");
  }

  private String subject() {
    return switch (study.claim().subject()) {
      case KIT ->
          matched
              ? "kits whose board was matched to its cell as in this study"
              : "kits of any such cell with any such board";
      case CELL ->
          "such cells, each on "
              + SubjectRuns.partner(study).orElse("an average board of the study");
      case BOARD ->
          "such boards, each on "
              + SubjectRuns.partner(study).orElse("an average cell of the study");
    };
  }

  private String figureWords(LevelOutcome.Figure figure) {
    ClaimForm form = study.claim().form();
    String words = form.words(figure.safestGrams());
    return form instanceof ClaimForm.OfReading
        ? words
        : words
            + " ("
            + percentOfCapacity(figure)
            + " % of "
            + Numbers.plain(study.kit().capacityKilograms())
            + " kg)";
  }

  private String opening(LevelOutcome.Figure figure) {
    return (study.claim().form().side() == ClaimForm.Side.BOTH
            ? "Error of reading within "
            : "Error of reading ")
        + figureWords(figure);
  }

  private String holds() {
    return "this holds for at least "
        + Numbers.percent(study.claim().content())
        + " % of "
        + subject()
        + ", stated with "
        + Numbers.percent(study.claim().confidence())
        + " % confidence from "
        + scopes.stream().map(LotScope::count).collect(Collectors.joining(" and "));
  }

  private String whole(ClaimRequest.LevelRequest request, LevelOutcome.Figure figure) {
    List<String> sentences = new ArrayList<>();
    sentences.add(
        opening(figure)
            + " "
            + description(request)
            + ", "
            + loads(figure)
            + ", "
            + temperature.words()
            + change(figure)
            + sides(figure)
            + ": "
            + holds()
            + ".");
    sentences.addAll(qualifications());
    return String.join(" ", sentences);
  }

  private List<String> qualifications() {
    List<String> sentences = new ArrayList<>();
    scopes.stream().map(this::lotWords).filter(s -> !s.isEmpty()).forEach(sentences::add);
    sentences.addAll(DecidedRuns.conditions(excluded));
    sentences.addAll(assumed);
    return sentences;
  }

  /** Short enough for a product page; it needs the footnote. */
  private String productLine(ClaimRequest.LevelRequest request, LevelOutcome.Figure figure) {
    ClaimForm form = study.claim().form();
    ClaimSubject subject = study.claim().subject();
    return "Error of reading"
        + (subject == ClaimSubject.KIT ? "" : " of a " + subject.key() + " alone")
        + (form.side() == ClaimForm.Side.BOTH ? " within " : " ")
        + form.words(figure.safestGrams())
        + " "
        + description(request)
        + " *";
  }

  private String footnote(ClaimRequest.LevelRequest request, LevelOutcome.Figure figure) {
    List<String> parts = new ArrayList<>();
    parts.add(
        "* "
            + Character.toUpperCase(loads(figure).charAt(0))
            + loads(figure).substring(1)
            + ", "
            + temperature.words()
            + change(figure)
            + sides(figure)
            + times.map(t -> "; " + t.words()).orElse("")
            + (study.conditions().notes().isEmpty()
                ? ""
                : "; " + String.join("; ", study.conditions().notes()))
            + ".");
    String holds = holds();
    parts.add(Character.toUpperCase(holds.charAt(0)) + holds.substring(1) + ".");
    if (request.level().pointsKilograms().isEmpty()) {
      parts.add("Read with the factory default factor, after taring.");
    }
    parts.addAll(qualifications());
    parts.add(
        "Not covered: "
            + String.join("; ", notCovered(figure))
            + ". Not for trade, not for lifting.");
    return String.join(" ", parts);
  }

  private List<String> notCovered(LevelOutcome.Figure figure) {
    return Cautions.notCovered(study, List.of(figure));
  }

  private List<String> mustNotSay(LevelOutcome.Figure figure) {
    List<String> not = new ArrayList<>();
    not.add(
        "\"Accuracy "
            + study.claim().form().words(figure.safestGrams())
            + "\" without saying of what, after which calibration, at which loads and"
            + " temperatures.");
    not.add(
        "That every "
            + study.claim().subject().key()
            + " keeps the figure, or that it is guaranteed: up to "
            + Numbers.percent(1 - study.claim().content())
            + " % may not, unless each one is tested before it ships.");
    not.add(
        "Any figure below "
            + study
                .claim()
                .form()
                .words(figure.boundGrams() > 0 ? digitsUp(figure.boundGrams()) : 0)
            + " at this level, such as the largest error that was seen or the typical one.");
    if (study.claim().subject() != ClaimSubject.KIT) {
      not.add(
          "That a kit or a scale with such a "
              + study.claim().subject().key()
              + " keeps the figure: its other half has errors of its own.");
    }
    if (matched) {
      not.add("That it holds for any cell with any board: boards were matched to their cells.");
    }
    for (LotScope scope : scopes) {
      if (scope.wording() == LotScope.Wording.ONE_LOT) {
        not.add(
            "That it holds for "
                + scope.kind().word()
                + "s of other lots: only one lot was studied.");
      }
    }
    not.add(
        "That it holds outside "
            + loads(figure).replaceFirst("^at ", "")
            + ", or other than "
            + temperature.words()
            + ".");
    not.add("That the scale is legal for trade, certified, or fit for medical use or lifting.");
    return not;
  }

  private static double digitsUp(double grams) {
    return new BigDecimal(grams).round(new MathContext(4, RoundingMode.CEILING)).doubleValue();
  }

  /** Loads for which the figure speaks: the range where its bend is known, else the tested ones. */
  private String loads(LevelOutcome.Figure figure) {
    if (figure.betweenLoadsGrams().isEmpty()) {
      return "at the tested loads of " + testedLoads();
    }
    List<Double> loads = study.design().loadsKilograms().stream().sorted().toList();
    return "at loads from "
        + Numbers.plain(loads.get(0))
        + " to "
        + Numbers.plain(loads.get(loads.size() - 1))
        + " kg, tested at "
        + testedLoads();
  }

  /** The change of temperature between calibration and use, where the figure speaks of one. */
  private static String change(LevelOutcome.Figure figure) {
    return figure.temperatureChangeKelvin().isPresent()
        ? ", calibrated at a temperature up to "
            + Numbers.plain(Math.floor(10 * figure.temperatureChangeKelvin().getAsDouble()) / 10)
            + " K away"
        : "";
  }

  /** What side tests add to the conditions. */
  private static String sides(LevelOutcome.Figure figure) {
    return figure.sides().isEmpty()
        ? ""
        : ", also for "
            + figure.sides().stream()
                .map(side -> side.test().covers())
                .collect(Collectors.joining(" and "));
  }

  /** The tested loads in words. */
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
    return new BigDecimal(100 * figure.fractionOfCapacity())
        .round(new MathContext(9))
        .round(new MathContext(3, RoundingMode.CEILING))
        .stripTrailingZeros()
        .toPlainString();
  }

  private String lotWords(LotScope scope) {
    String unit = scope.kind().word();
    return switch (scope.wording()) {
      case ONE_LOT ->
          study.claim().assumedLotRatio().isPresent()
              ? "How "
                  + unit
                  + " lots differ is assumed, not measured: as far as "
                  + Numbers.plain(study.claim().assumedLotRatio().getAsDouble())
                  + " times the spread within lot "
                  + String.join(", ", scope.lots())
                  + ", the only one studied."
              : "Variation between "
                  + unit
                  + " lots was not observed: the figure holds for "
                  + unit
                  + "s of lot "
                  + String.join(", ", scope.lots())
                  + " only.";
      case FEW_LOTS ->
          scope.lots().size()
              + " "
              + unit
              + " lots cannot bound how lots differ, so the figure is wide.";
      case GENERAL -> "";
    };
  }
}
