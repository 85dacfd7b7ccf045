package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import lotproof.claim.Analysis;
import lotproof.claim.Explanation;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.LotScope;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.report.text.PlainText;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.ExplanationWords;
import lotproof.report.words.FigureWords;
import lotproof.study.ClaimRequest;
import lotproof.study.Provenance;

/** The figure at each calibration level, its sentence, and what lies behind it. */
final class FigureSection {
  private static final String NO_FIGURE = "no figure";

  private FigureSection() {}

  static Section of(StudyResult result) {
    List<LevelClaim> claims = result.asDecided().claims();
    ClaimWords words = new ClaimWords(result);
    List<Block> blocks = new ArrayList<>();
    blocks.add(figures(result));
    blocks.addAll(AssumptionBlocks.of(claims, result.study().claim()));
    blocks.add((chart(result)));
    for (LevelClaim claim : claims) {
      blocks.add(Block.paragraph("{}: {}", claim.label(), words.sentence(claim)));
      claim
          .figure()
          .ifPresent(
              figure ->
                  FigureWords.remarks(result.study(), figure).stream()
                      .distinct()
                      .forEach(
                          remark -> blocks.add(Block.finding("{}: {}", claim.label(), remark))));
      blocks.addAll(FigureDetailBlocks.remedies(result.study().claim(), claim));
    }
    blocks.add(bounds(claims, result.study().claim().subject()));
    FigureDetailBlocks.limitKinds(claims, result.study().claim().subject()).ifPresent(blocks::add);
    for (int i = 0; i < claims.size(); i++) {
      LevelClaim claim = claims.get(i);
      int index = i;
      claim
          .figure()
          .ifPresent(
              figure ->
                  blocks.add(
                      new ExplanationTree(
                          "why-" + Levels.id(claim, index),
                          "Where the figure for " + claim.label() + " comes from",
                          node(
                              new ExplanationWords(result.study(), claim), figure.explanation()))));
    }
    return new Section(
        "figure",
        "Which figure can be printed?",
        Prose.text(
            "The smallest figure that the study supports at each calibration level, with and"
                + " without the exclusions, and the verdict on the figure that was wanted."),
        blocks);
  }

  private static Table figures(StudyResult result) {
    List<LevelClaim> claims = result.asDecided().claims();
    int decimals = CellTexts.decimals(result.study().claim().roundingGrams());
    int wantedDecimals =
        claims.stream()
            .flatMap(c -> c.wanted().stream())
            .mapToInt(w -> CellTexts.decimals(w.wantedGrams()))
            .max()
            .orElse(0);
    return new TableBuilder<LevelClaim>("figures", "Printable figure by calibration level")
        .note(
            Prose.of(
                "Reading error at all loads together; content {} of {}, confidence {}. The margin"
                    + " is the wanted figure minus the limit before rounding.{}",
                Quantity.percent(result.study().claim().content(), 1),
                result.study().claim().subject().plural(),
                Quantity.percent(result.study().claim().confidence(), 1),
                Levels.formNote(result.study().claim().form())))
        .add("level", "Calibration level", TEXT, LevelClaim::label)
        .live(
            Column.of("safest", "Printable figure ± [g]", decimals(decimals)),
            claim -> claim.figure().map(LevelOutcome.Figure::printableGrams),
            NO_FIGURE,
            claim ->
                Optional.of(
                    Formula.roundedOutward(
                        boundOf(claims, claim), result.study().claim().roundingGrams())))
        .live(
            Column.of("of-capacity", "Of capacity", percent(3)),
            claim -> claim.figure().map(LevelOutcome.Figure::fractionOfCapacity),
            NO_FIGURE,
            claim ->
                Optional.of(Formula.of("{}/(1000*{})", "safest", StudySection.number("capacity"))))
        .add(
            "without-exclusions",
            "Exclusions left in ± [g]",
            decimals(decimals),
            claim ->
                Levels.withoutExclusions(result, claims.indexOf(claim))
                    .map(LevelOutcome.Figure::printableGrams),
            NO_FIGURE)
        .add(
            "these-lots",
            "For these lots only ± [g]",
            decimals(decimals),
            claim ->
                claim
                    .figure()
                    .<Object>map(
                        f ->
                            f.withinTheseLotsGrams().isPresent()
                                ? f.withinTheseLotsGrams()
                                : Cell.missing(whyNoOther(result))),
            NO_FIGURE)
        .add(
            "wanted",
            "Wanted ± [g]",
            decimals(wantedDecimals),
            claim -> claim.wanted().map(LevelClaim.Verdict::wantedGrams),
            "-")
        .add(
            "verdict",
            "Verdict",
            TEXT,
            claim -> claim.wanted().map(v -> v.supported() ? "supported" : "not supported"),
            "-")
        .live(
            Column.of("margin", "Margin [g]", significant(4)),
            claim -> claim.wanted().map(LevelClaim.Verdict::marginGrams),
            "-",
            claim -> Optional.of(Formula.of("{}-{}", "wanted", boundOf(claims, claim))))
        .of(claims);
  }

  /** Why there is no separate figure for the study's own lots. */
  private static String whyNoOther(StudyResult result) {
    boolean oneLot =
        result.asDecided().scopes().stream().anyMatch(s -> s.wording() == LotScope.Wording.ONE_LOT);
    return oneLot ? "same" : "not needed";
  }

  /** Id of the explanation of a claim's figure. */
  static String explanationId(Analysis analysis, LevelClaim claim) {
    return "why-" + Levels.id(claim, analysis.claims().indexOf(claim));
  }

  /** The cell that holds the figure of a claim. */
  static Formula safestCell(Analysis analysis, LevelClaim claim) {
    return Formula.of("{}", Range.cell("figures", "safest", analysis.claims().indexOf(claim)));
  }

  /** The limit of a claim in the table of bounds, which holds only claims with a figure. */
  private static Range boundOf(List<LevelClaim> claims, LevelClaim claim) {
    long row =
        claims.subList(0, claims.indexOf(claim)).stream()
            .filter(c -> c.figure().isPresent())
            .count();
    return Range.cell("bounds", "bound", (int) row);
  }

  /** A guard band as a column of the table of bounds. */
  private record Guard(String id, String title, ToDoubleFunction<GuardBands> grams) {
    static Guard of(String id, GuardBands.Kind kind) {
      return new Guard(id, FigureWords.title(kind), guards -> guards.of(kind));
    }
  }

  private static final List<Guard> GUARDS =
      List.of(
          Guard.of("bench-masses", GuardBands.Kind.BENCH_MASSES),
          Guard.of("buyer-masses", GuardBands.Kind.BUYER_MASSES),
          Guard.of("between-loads", GuardBands.Kind.BETWEEN_LOADS),
          Guard.of("temperature", GuardBands.Kind.TEMPERATURE_CORRECTION),
          Guard.of("reference", GuardBands.Kind.REFERENCE),
          Guard.of("drift", GuardBands.Kind.DRIFT),
          new Guard("side-tests", "Side tests", GuardBands::sidesGrams));

  /** Guard bands that some level has. */
  private static List<Guard> guards(List<LevelClaim> claims) {
    return GUARDS.stream()
        .filter(
            guard ->
                claims.stream()
                    .flatMap(claim -> claim.figure().stream())
                    .anyMatch(figure -> guard.grams().applyAsDouble(figure.guards()) > 0))
        .toList();
  }

  private static Chart chart(StudyResult result) {
    List<LevelClaim> claims = result.asDecided().claims();
    List<Point> printable = new ArrayList<>();
    List<Point> included = new ArrayList<>();
    List<Point> wanted = new ArrayList<>();
    List<String> levels = new ArrayList<>();
    StringBuilder answer = new StringBuilder("Printable figures: ");
    for (int i = 0; i < claims.size(); i++) {
      LevelClaim claim = claims.get(i);
      int row = i;
      claim
          .figure()
          .ifPresent(
              f ->
                  printable.add(
                      new Point(
                          f.printableGrams(),
                          row,
                          "±" + PlainText.of(CellTexts.exact(f.printableGrams(), "g")))));
      if (!result.excluded().isEmpty()) {
        Levels.withoutExclusions(result, i)
            // a little lower, so that equal figures stay apart
            .ifPresent(f -> included.add(new Point(f.printableGrams(), row + 0.14)));
      }
      claim.wanted().ifPresent(w -> wanted.add(new Point(w.wantedGrams(), row)));
      levels.add(claim.label() + (claim.figure().isPresent() ? "" : ": no figure"));
      answer
          .append(i == 0 ? "" : "; ")
          .append(claim.label())
          .append(' ')
          .append(
              claim
                  .figure()
                  .map(f -> claim.form().words(f.printableGrams()))
                  .orElse("none supported"));
    }
    return new Chart(
        new Chart.Caption(
            "figure-by-level",
            "How much does each calibration tighten the figure?",
            answer.append('.').toString()),
        new Chart.Axis("Figure ±", "g", Chart.Scale.FROM_ZERO),
        Chart.Axis.words("Calibration level", levels),
        List.of(
            new Series("printable figure", Look.BARS, printable),
            new Series("wanted", Look.DOTS, wanted),
            new Series("excluded units included", Look.DOTS, included)),
        List.of());
  }

  private static Table bounds(List<LevelClaim> claims, ClaimRequest.Subject subject) {
    String plural = subject.plural();
    List<Guard> guards = guards(claims);
    Range content = StudySection.number("content");
    Range confidence = StudySection.number("confidence");
    List<Object> sum = new ArrayList<>();
    sum.add(Formula.of("MAX({},{})", "model", "tested"));
    guards.forEach(guard -> sum.add(guard.id()));
    TableBuilder<LevelClaim> table =
        new TableBuilder<LevelClaim>("bounds", "What makes up the figures")
            .note(
                text(
                    "The larger of \"Limit by the model\" and \"Largest error over tested %s\" plus"
                        + " the guard bands is the limit; the printable figure is that, rounded"
                        + " outward. The confidence without a model holds for %s drawn like the"
                        + " tested ones, lots included.",
                    plural, plural))
            .add("level", "Calibration level", TEXT, LevelClaim::label)
            .add("model", "Limit by the model [g]", significant(4), c -> figure(c).modelGrams())
            .live(
                "tested",
                "Largest error over tested " + plural + " [g]",
                significant(4),
                c -> figure(c).tested().largestGrams(),
                c -> tested(c, claims.indexOf(c)))
            .live(
                "tested-confidence",
                "Confidence from order statistics",
                percent(1),
                c -> figure(c).tested().confidence(),
                row -> Formula.of("1-{}^{}", content, "disjoint"))
            .live(
                "tested-content",
                "Share of " + plural + " covered without a model",
                percent(1),
                c -> figure(c).tested().contentFraction(),
                row -> Formula.of("(1-{})^(1/{})", confidence, "disjoint"))
            .add(
                "kits",
                CellTexts.capital(plural) + " tested",
                COUNT,
                c -> figure(c).tested().kits())
            .add(
                "disjoint", "Independent " + plural, COUNT, c -> figure(c).tested().disjointKits());
    guards.forEach(
        guard ->
            table.add(
                guard.id(),
                guard.title() + " [g]",
                significant(3),
                c -> guard.grams().applyAsDouble(figure(c).guards())));
    return table
        .live(
            "bound",
            "Limit [g]",
            significant(4),
            c -> figure(c).limitGrams(),
            row -> Formula.call("SUM", sum))
        .of(claims.stream().filter(claim -> claim.figure().isPresent()).toList());
  }

  private static LevelOutcome.Figure figure(LevelClaim claim) {
    return claim.figure().orElseThrow();
  }

  /** From the errors of all runs, where they are those that the figure rests on. */
  private static Optional<Formula> tested(LevelClaim claim, int index) {
    double seen =
        claim.curves().stream().mapToDouble(c -> c.largestGrams(claim.form())).max().orElse(-1);
    return Math.abs(seen - figure(claim).tested().largestGrams()) < 1e-9
        ? Optional.of(
            Formula.of("MAX({})", Range.column(RunTables.errorsId(claim, index), "largest")))
        : Optional.empty();
  }

  private static ExplanationTree.Node node(ExplanationWords words, Explanation explanation) {
    Quantity value = CellTexts.exact(explanation.value(), explanation.what().unit());
    return new ExplanationTree.Node(
        words.label(explanation),
        Optional.of(value),
        words.how(explanation),
        explanation.source().map(Provenance::place).orElse(""),
        explanation.parts().stream().map(part -> node(words, part)).toList());
  }
}
