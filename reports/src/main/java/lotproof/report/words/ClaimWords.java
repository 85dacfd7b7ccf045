package lotproof.report.words;

import static lotproof.report.words.Numbers.counted;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.claim.Analysis;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.GuardBands.SideAllowance;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.premise.Assumption;
import lotproof.review.DecidedRuns;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Screen;
import lotproof.study.SideTest.Effect;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** Claims of a study in words, with every condition that they need. */
public final class ClaimWords {
  /** So many words stand on a product page at most, footnote included. */
  private static final int MOST_WORDS = 60;

  private static final List<String> CAUTIONS =
      List.of(
          "Not for trade: weighing that sets a price needs a type-approved, verified instrument"
              + " under the local law of weights and measures.",
          "Not for medical use or for dosing.",
          "Not for lifting, and not as a safety interlock.",
          "An overloaded cell can fail or shift for good, and a falling load can injure: keep below"
              + " rated capacity, use overload stops, and let a qualified person judge the"
              + " structure.",
          "The program supports a claim with evidence; it certifies nothing. Local law and the"
              + " judgement of licensed professionals come first.");

  private final Study study;
  private final Analysis analysis;
  private final List<String> ofDecisions;
  private final List<Screen> screens;

  /** Speaks of the claims of a study with the decided exclusions. */
  public ClaimWords(StudyResult result) {
    this(result.study(), result.asDecided(), exclusions(result));
  }

  /** The decisions that take something out, each once. */
  public static List<Decision> exclusions(StudyResult result) {
    return Stream.concat(
            result.excluded().stream().map(DecidedRuns.Excluded::decision),
            DecidedRuns.excludedUnits(result.decisions()).stream())
        .distinct()
        .toList();
  }

  ClaimWords(Study study, Analysis analysis, List<Decision> exclusions) {
    this.study = study;
    this.analysis = analysis;
    this.ofDecisions = conditions(exclusions);
    this.screens = exclusions.stream().flatMap(decision -> Screen.of(decision).stream()).toList();
  }

  /**
   * A claim in words.
   *
   * @param sentence the claim with every condition; without a figure the reason
   * @param productLine a short line for a product page, which needs the footnote; empty without a
   *     figure
   * @param footnote the conditions that must stand with the short line; empty without a figure
   * @param mustNotSay what this study does not allow anyone to print
   */
  public record Wording(
      String sentence, String productLine, String footnote, List<String> mustNotSay) {
    public Wording {
      mustNotSay = List.copyOf(mustNotSay);
    }
  }

  /** A claim of the study in words. */
  public Wording of(LevelClaim claim) {
    return claim
        .figure()
        .map(
            figure ->
                new Wording(
                    sentence(claim),
                    productLine(claim, figure),
                    footnote(claim, figure),
                    mustNotSay(claim, figure)))
        .orElseGet(() -> new Wording(sentence(claim), "", "", List.of()));
  }

  /** The claim with every condition; without a figure the reason. */
  public String sentence(LevelClaim claim) {
    if (claim.outcome() instanceof LevelOutcome.NoFigure none) {
      return text(
          "No figure can be claimed %s. %s",
          description(claim), AssumptionWords.noFigure(study, claim, none.why()));
    }
    Figure figure = claim.figure().orElseThrow();
    List<String> sentences = new ArrayList<>();
    sentences.add(
        text(
            "Reading error %s%s %s, %s, %s%s%s.",
            within(),
            figureWords(figure),
            description(claim),
            loads(figure),
            temperature(),
            change(figure),
            sides(figure)));
    sentences.add(holds(claim));
    sentences.addAll(qualifications(claim));
    return String.join(" ", sentences);
  }

  /** What no figure may be used for. */
  public static List<String> cautions() {
    return CAUTIONS;
  }

  /** The same in brief. */
  public static String caution() {
    return "Not for trade, medical use, dosing, lifting or as a safety interlock. Overload can"
        + " break a cell and injure. Evidence, no certificate: local law comes first.";
  }

  /** What the study did not measure: what one of its figures does not cover. */
  public List<String> notCovered() {
    return notCovered(analysis.claims().stream().flatMap(c -> c.figure().stream()).toList());
  }

  /** What the buyer has done, and what the firmware does. */
  private String description(LevelClaim claim) {
    return claim.level().description()
        + (claim.correction().isPresent()
            ? ", corrected for temperature with one coefficient for all "
                + study.claim().subject().plural()
            : "");
  }

  private String within() {
    return study.claim().form().twoSided() ? "within " : "";
  }

  private String subject(LevelClaim claim) {
    ClaimRequest.Subject subject = study.claim().subject();
    if (subject != ClaimRequest.Subject.KIT) {
      UnitKind kind = subject == ClaimRequest.Subject.CELL ? UnitKind.CELL : UnitKind.BOARD;
      return text(
          "%s, each on %s",
          oneLot(kind)
              .map(lot -> subject.plural() + " of lot " + lot)
              .orElse("such " + subject.plural()),
          StudyWords.partner(study));
    }
    if (claim.isMatched()) {
      return "kits whose board was matched to its cell as in this study";
    }
    Optional<String> cells = oneLot(UnitKind.CELL);
    Optional<String> boards = oneLot(UnitKind.BOARD);
    return cells.isEmpty() && boards.isEmpty()
        ? "kits of any such cell with any such board"
        : text(
            "kits of %s with %s",
            cells.map(lot -> "a cell of lot " + lot).orElse("any such cell"),
            boards.map(lot -> "a board of lot " + lot).orElse("any such board"));
  }

  /** The only lot of a kind, where the claim holds for it alone. */
  private Optional<String> oneLot(UnitKind kind) {
    return analysis.scopes().stream()
        .filter(s -> s.kind() == kind && s.wording() == LotScope.Wording.ONE_LOT)
        .filter(s -> study.claim().assumedLotRatio().isEmpty() && !s.lots().isEmpty())
        .map(s -> s.lots().get(0))
        .findFirst();
  }

  private String figureWords(Figure figure) {
    ClaimForm form = study.claim().form();
    String words = form.words(figure.printableGrams());
    String percent =
        new BigDecimal(100 * figure.fractionOfCapacity())
            .round(new MathContext(9))
            .round(new MathContext(3, RoundingMode.CEILING))
            .stripTrailingZeros()
            .toPlainString();
    return form instanceof ClaimForm.OfReading
        ? words
        : text("%s (%s %% of %s kg)", words, percent, plain(study.kit().capacityKilograms()));
  }

  private String holds(LevelClaim claim) {
    return text(
        "At least %s %% of %s meet this, with %s %% confidence, by a study of %s.",
        percent(study.claim().content()),
        subject(claim),
        percent(study.claim().confidence()),
        evidence(analysis.scopes()));
  }

  /** {@code 50 cells from 5 lots and 49 boards from 5 lots}. */
  public static String evidence(List<LotScope> scopes) {
    return scopes.stream()
        .map(s -> counted(s.units(), s.kind().key()) + " from " + counted(s.lots().size(), "lot"))
        .collect(Collectors.joining(" and "));
  }

  private List<String> qualifications(LevelClaim claim) {
    List<String> sentences = new ArrayList<>();
    analysis.scopes().stream()
        .filter(scope -> scope.wording() == LotScope.Wording.ONE_LOT)
        .forEach(scope -> sentences.add(oneLot(scope)));
    sentences.addAll(ofDecisions);
    for (Assumption found : claim.assumptions()) {
      AssumptionWords.condition(found, study.claim()).ifPresent(sentences::add);
    }
    return sentences;
  }

  private String oneLot(LotScope scope) {
    String unit = scope.kind().key();
    return study.claim().assumedLotRatio().isPresent()
        ? text(
            "How %s lots differ is assumed, not measured: %s times the spread within lot %s, the"
                + " only one studied.",
            unit,
            plain(study.claim().assumedLotRatio().getAsDouble()),
            String.join(", ", scope.lots()))
        : "Variation between " + unit + " lots was not observed.";
  }

  /** What a claim has to say about the decisions that took something out. */
  static List<String> conditions(List<Decision> decisions) {
    Map<String, List<String>> screens = new LinkedHashMap<>();
    decisions.stream()
        .flatMap(decision -> Screen.of(decision).stream())
        .forEach(
            screen ->
                screens
                    .computeIfAbsent(screen.target().key(), target -> new ArrayList<>())
                    .add(screen.words()));
    List<String> sentences = new ArrayList<>();
    screens.forEach(
        (target, limits) ->
            sentences.add(
                text(
                    "Requires a test of every %s before it ships, which passes only: %s.",
                    target, String.join("; ", limits))));
    String excluded =
        decisions.stream()
            .filter(d -> d.action() != Action.SCREENED)
            .map(ClaimWords::words)
            .collect(Collectors.joining(", "));
    if (!excluded.isEmpty()) {
      sentences.add("Excluded by decision: " + excluded + ".");
    }
    return sentences;
  }

  private static String words(Decision decision) {
    String what =
        decision.action() == Action.RE_MEASURED
            ? "run " + decision.value().orElse("") + " or " + decision.serial() + ", measured again"
            : decision.target().key() + " " + decision.serial();
    return what + " (" + decision.cause() + ")";
  }

  /** Short enough for a product page; it needs the footnote. */
  private String productLine(LevelClaim claim, Figure figure) {
    ClaimRequest.Subject subject = study.claim().subject();
    List<Double> masses = claim.level().pointsKilograms();
    return text(
        "Reading error%s %s%s %s *",
        subject == ClaimRequest.Subject.KIT ? "" : " of a " + subject.key() + " alone",
        within(),
        study.claim().form().words(figure.printableGrams()),
        masses.isEmpty()
            ? "without calibration"
            : text(
                "after a %s calibration with %s kg",
                claim.level().key(),
                masses.stream().map(Numbers::plain).collect(Collectors.joining(" and "))));
  }

  /** Conditions that a buyer can check; notes of the study only where there is room. */
  private String footnote(LevelClaim claim, Figure figure) {
    String whole = footnote(claim, figure, String.join(", ", study.conditions().notes()));
    int words = (productLine(claim, figure) + " " + whole).split("\\s+", -1).length;
    return words <= MOST_WORDS ? whole : footnote(claim, figure, "as in the study");
  }

  private String footnote(LevelClaim claim, Figure figure, String notes) {
    List<Double> loads = study.design().loadsKilograms().stream().sorted().distinct().toList();
    boolean between = figure.guards().holdsBetweenLoads();
    List<String> conditions = new ArrayList<>();
    conditions.add(
        between
            ? plain(loads.get(0)) + " to " + plain(loads.get(loads.size() - 1)) + " kg"
            : "at " + testedLoads());
    conditions.add(StudyWords.temperature(analysis.temperature()) + change(figure) + sides(figure));
    conditions.add(claim.correction().isPresent() ? "tared, corrected for temperature" : "tared");
    if (!notes.isEmpty()) {
      conditions.add(notes);
    }
    String tested =
        screens.stream()
            .map(screen -> "; every " + screen.target().key() + " tested")
            .distinct()
            .collect(Collectors.joining());
    return text(
        "* %s. %s %% of %s, %s %% confidence (%s%s). Not for trade.",
        String.join(", ", conditions),
        percent(study.claim().content()),
        briefly(claim),
        percent(study.claim().confidence()),
        analysis.scopes().stream()
            .map(scope -> counted(scope.units(), scope.kind().key()))
            .collect(Collectors.joining(", ")),
        tested);
  }

  /** Whom the footnote speaks of. */
  private String briefly(LevelClaim claim) {
    String lots =
        Stream.of(UnitKind.values())
            .flatMap(kind -> oneLot(kind).stream().map(lot -> kind.key() + " lot " + lot))
            .collect(Collectors.joining(" and "));
    return (claim.isMatched() ? "matched " : "")
        + study.claim().subject().plural()
        + (lots.isEmpty() ? "" : " from " + lots);
  }

  List<String> notCovered(List<Figure> figures) {
    List<GuardBands> guards = figures.stream().map(Figure::guards).toList();
    boolean between = !guards.isEmpty() && guards.stream().allMatch(GuardBands::holdsBetweenLoads);
    boolean changed =
        !guards.isEmpty() && guards.stream().allMatch(g -> g.changeKelvin().isPresent());
    // supplementary tests are the same for all figures
    List<SideAllowance> sides = guards.isEmpty() ? List.of() : guards.get(0).sides();
    List<String> gaps = new ArrayList<>();
    gaps.add("temperatures other than those named");
    gaps.add((changed ? "a larger" : "a") + " change of temperature between calibration and use");
    gaps.add(
        between
            ? "loads outside the tested range"
            : "loads other than those tested, also between them");
    gaps.addAll(notShownBy(study.design().loadsKilograms()));
    if (study.claim().subject() != ClaimRequest.Subject.BOARD) {
      gaps.add(
          tested(sides, Effect.OFF_CENTRE)
              .map(covers -> "other places of the load than " + covers)
              .orElse("loads off the centre of the platform"));
      gaps.add(
          tested(sides, Effect.CREEP)
              .map(covers -> "creep beyond " + covers)
              .orElse("creep under a load that stays on for longer than one load run"));
    }
    gaps.add(
        tested(sides, Effect.DRIFT)
            .map(covers -> "drift beyond " + covers)
            .orElse("drift over longer than one load run"));
    gaps.add("other supply voltages, cable lengths and humidity");
    gaps.add("ageing, overload and shipping after the test");
    gaps.add("lots made with other parts or processes than those studied");
    return gaps;
  }

  /** Effects that a buyer meets and the study did not measure. */
  public List<String> notMeasured() {
    Map<Effect, String> effects = new EnumMap<>(Effect.class);
    if (study.claim().subject() != ClaimRequest.Subject.BOARD) {
      effects.put(Effect.OFF_CENTRE, "load off the centre");
      effects.put(Effect.CREEP, "creep");
    }
    effects.put(Effect.DRIFT, "drift");
    analysis.claims().stream()
        .flatMap(claim -> claim.figure().stream())
        .flatMap(figure -> figure.guards().sides().stream())
        .forEach(side -> effects.remove(side.test().effect()));
    List<String> all = new ArrayList<>(effects.values());
    all.addAll(List.of("ageing", "other temperatures"));
    return all;
  }

  /** What a run with these loads cannot show. */
  private static List<String> notShownBy(List<Double> loads) {
    double last = loads.get(loads.size() - 1);
    double largest = loads.stream().mapToDouble(Double::doubleValue).max().orElse(0);
    if (last == largest) {
      return List.of("readings as the load falls", "the zero after the load is taken off");
    }
    return last > 0 ? List.of("the zero after the load is taken off") : List.of();
  }

  private static Optional<String> tested(List<SideAllowance> sides, Effect effect) {
    return sides.stream()
        .filter(side -> side.test().effect() == effect)
        .map(side -> side.test().covers())
        .findFirst();
  }

  private List<String> mustNotSay(LevelClaim claim, Figure figure) {
    ClaimForm form = study.claim().form();
    String subject = study.claim().subject().key();
    double limit =
        figure.limitGrams() > 0
            ? new BigDecimal(figure.limitGrams())
                .round(new MathContext(4, RoundingMode.CEILING))
                .doubleValue()
            : 0;
    List<String> not = new ArrayList<>();
    not.add(
        text(
            "\"Accuracy %s\" without saying of what, after which calibration, at which loads and"
                + " temperatures.",
            form.words(figure.printableGrams())));
    not.add(
        text(
            "That every %s meets the figure, or that it is guaranteed: up to %s %% may not, unless"
                + " each one is tested before it ships.",
            subject, percent(1 - study.claim().content())));
    not.add(
        text(
            "Any figure below %s at this level, such as the largest error that was seen or the"
                + " typical one.",
            form.words(limit)));
    if (study.claim().subject() != ClaimRequest.Subject.KIT) {
      not.add(
          text(
              "That a kit or a scale with such a %s meets the figure: its other half has errors of"
                  + " its own.",
              subject));
    }
    if (claim.isMatched()) {
      not.add("That it holds for any cell with any board: boards were matched to their cells.");
    }
    for (LotScope scope : analysis.scopes()) {
      if (scope.wording() == LotScope.Wording.ONE_LOT) {
        not.add(
            text(
                "That it holds for %ss of other lots: only one lot was studied.",
                scope.kind().key()));
      }
    }
    not.add(
        text(
            "That it holds outside %s, or other than %s.",
            loads(figure).substring("at ".length()), temperature()));
    not.add("That the scale is legal for trade, certified, or fit for medical use or lifting.");
    return not;
  }

  /** Loads for which the figure speaks: the range where its bend is known, else the tested ones. */
  private String loads(Figure figure) {
    if (!figure.guards().holdsBetweenLoads()) {
      return "at the tested loads of " + testedLoads();
    }
    List<Double> loads = study.design().loadsKilograms().stream().sorted().toList();
    return text(
        "at loads from %s to %s kg, tested at %s",
        plain(loads.get(0)), plain(loads.get(loads.size() - 1)), testedLoads());
  }

  private String temperature() {
    return "at " + StudyWords.temperature(analysis.temperature());
  }

  /** The change of temperature between calibration and use, where the figure speaks of one. */
  private static String change(Figure figure) {
    return figure.guards().changeKelvin().isPresent()
        ? text(
            ", calibrated at a temperature up to %s K away",
            plain(Math.floor(10 * figure.guards().changeKelvin().getAsDouble()) / 10))
        : "";
  }

  /** What supplementary tests add to the conditions. */
  private static String sides(Figure figure) {
    List<SideAllowance> sides = figure.guards().sides();
    return sides.isEmpty()
        ? ""
        : ", also for "
            + sides.stream().map(side -> side.test().covers()).collect(Collectors.joining(" and "));
  }

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
}
