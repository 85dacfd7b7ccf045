package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.Tested;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.SubjectRuns;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.FigureWords;
import lotproof.study.ClaimRequest;

/** The figure at each calibration level, its sentence, and what lies behind it. */
final class FigureSection {
  private static final String LEVEL = "Calibration level";
  private static final String NO_FIGURE = "no figure";

  private final StudyResult result;
  private final ClaimRequest request;
  private final String plural;
  private final List<ReportedLevel> levels;

  /** Those with a figure, in the rows of the table of bounds. */
  private final List<ReportedLevel> supported;

  private FigureSection(StudyResult result) {
    this.result = result;
    this.request = result.study().claim();
    this.plural = request.subject().plural();
    this.levels = ReportedLevel.of(result);
    this.supported = levels.stream().filter(level -> level.figure().isPresent()).toList();
  }

  static Section of(StudyResult result) {
    return new Section(
        "figure",
        "All calibration levels side by side",
        Prose.of(
            "{} of {} wanted figures are supported.",
            result.asDecided().claims().stream()
                .flatMap(claim -> claim.wanted().stream())
                .filter(LevelClaim.Verdict::supported)
                .count(),
            result.asDecided().claims().stream().flatMap(c -> c.wanted().stream()).count()),
        new FigureSection(result).blocks());
  }

  private List<Block> blocks() {
    List<Block> blocks = new ArrayList<>();
    blocks.add(figures());
    Table assumptions = assumptions();
    if (!assumptions.rows().isEmpty()) {
      blocks.add(assumptions);
    }
    blocks.add(bounds());
    return blocks;
  }

  private Table figures() {
    return new TableBuilder<ReportedLevel>("figures", "Printable figure by calibration level")
        .note(
            "Reading error at all loads together; content {} of {}, confidence {}. The margin"
                + " is the wanted figure minus the limit before rounding.{}",
            Quantity.percent(request.content(), 1),
            plural,
            Quantity.percent(request.confidence(), 1),
            ReportedLevel.formNote(request.form()))
        .add(LEVEL, TEXT, ReportedLevel::label)
        .missing(NO_FIGURE)
        .add("Printable figure ± [g]", EXACT, level -> level.figure().map(Figure::printableGrams))
        .add(
            "Share of capacity",
            percent(3),
            level -> level.figure().map(Figure::fractionOfCapacity))
        .add(
            "Figure with exclusions left in ± [g]",
            EXACT,
            level -> level.withoutExclusions().map(Figure::printableGrams))
        .add(
            "Figure for these lots only ± [g]", EXACT, level -> level.figure().map(this::theseLots))
        .missing("-")
        .add(
            "Wanted figure ± [g]",
            EXACT,
            level -> level.claim().wanted().map(LevelClaim.Verdict::wantedGrams))
        .add(
            "Verdict",
            TEXT,
            level -> level.claim().wanted().map(v -> v.supported() ? "supported" : "not supported"))
        .add(
            "Margin [g]",
            significant(4),
            level -> level.claim().wanted().map(LevelClaim.Verdict::marginGrams))
        .of(levels);
  }

  /** The figure for the study's own lots, or why there is no separate one. */
  private Object theseLots(Figure figure) {
    boolean oneLot =
        result.asDecided().scopes().stream().anyMatch(s -> s.wording() == LotScope.Wording.ONE_LOT);
    return figure.withinTheseLotsGrams().isPresent()
        ? figure.withinTheseLotsGrams()
        : Cell.missing(oneLot ? "same" : "not needed");
  }

  /** What was found of what figures assume, each once with the levels that it concerns. */
  private Table assumptions() {
    Map<List<String>, String> found =
        ReportedLevel.told(
            levels, level -> level.claim().assumptions().stream().map(this::words).toList());
    return new TableBuilder<Map.Entry<List<String>, String>>(
            "assumptions", "What the figures assume")
        .add("Finding", TEXT, e -> e.getKey().get(0))
        .add("Evidence", TEXT, e -> e.getKey().get(1))
        .add("Effect", TEXT, e -> e.getKey().get(2))
        .add("Calibration levels", TEXT, Map.Entry::getValue)
        .of(List.copyOf(found.entrySet()));
  }

  private List<String> words(Assumption found) {
    return List.of(
        AssumptionWords.title(found),
        AssumptionWords.evidence(found, request.subject()),
        AssumptionWords.effect(found.effect()));
  }

  /** Guard bands that some figure has, by the words that head their columns. */
  private Map<String, ToDoubleFunction<GuardBands>> guards() {
    Map<String, ToDoubleFunction<GuardBands>> guards = new LinkedHashMap<>();
    for (GuardBands.Kind kind : GuardBands.Kind.values()) {
      guards.put(FigureWords.title(kind), bands -> bands.of(kind));
    }
    guards.put("Side tests", GuardBands::sidesGrams);
    guards
        .values()
        .removeIf(
            grams ->
                supported.stream().noneMatch(l -> grams.applyAsDouble(l.safest().guards()) > 0));
    return guards;
  }

  private Table bounds() {
    TableBuilder<ReportedLevel> table =
        new TableBuilder<ReportedLevel>("bounds", "What makes up the figures")
            .note(
                "The larger of \"Limit by the model\" and \"Largest tested error\""
                    + " plus the guard bands is the limit; the printable figure is that,"
                    + " rounded outward. The confidence without a model holds for {} drawn"
                    + " like the tested ones, lots included.",
                plural)
            .add(LEVEL, TEXT, ReportedLevel::label)
            .add("Limit by the model [g]", significant(4), l -> l.safest().modelGrams())
            .missing("none alone")
            .add("Largest tested error [g]", significant(4), l -> tested(l, Tested::largestGrams))
            .add("Confidence from order statistics", percent(1), l -> tested(l, Tested::confidence))
            .add(
                "Share covered without a model",
                percent(1),
                l -> tested(l, Tested::contentFraction));
    boolean ofKits = request.subject() == ClaimRequest.Subject.KIT;
    if (!ofKits) {
      String where = SubjectRuns.onPartner(result.study()) ? "" : " in kits";
      table.add("Number measured" + where, COUNT, l -> l.safest().tested().measured());
    }
    table
        .add(
            ofKits ? "Number tested" : "Number tested alone",
            COUNT,
            l -> l.safest().tested().kits())
        .add("Number independent", COUNT, l -> l.safest().tested().disjointKits());
    guards()
        .forEach(
            (title, grams) ->
                table.add(
                    title + " [g]", significant(3), l -> grams.applyAsDouble(l.safest().guards())));
    return table.add("Limit [g]", significant(4), l -> l.safest().limitGrams()).of(supported);
  }

  /** What tested kits or units say; nothing where units were tested in kits alone. */
  static OptionalDouble tested(ReportedLevel level, ToDoubleFunction<Tested> number) {
    Tested tested = level.safest().tested();
    return tested.kits() == 0 && tested.measured() > 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(number.applyAsDouble(tested));
  }
}
