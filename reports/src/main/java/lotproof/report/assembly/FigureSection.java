package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import lotproof.claim.Analysis;
import lotproof.claim.Explanation;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.LotScope;
import lotproof.claim.SideAllowance;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Formula;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.text.NumberText;
import lotproof.study.ClaimSubject;

/** The figure at each calibration level, its sentence, and what lies behind it. */
final class FigureSection {
  private static final String NO_FIGURE = "no figure";

  private FigureSection() {}

  static Section of(StudyResult result) {
    List<LevelClaim> claims = result.asDecided().claims();
    List<Block> blocks = new ArrayList<>();
    blocks.add(figures(result));
    blocks.addAll(AssumptionBlocks.of(claims, result.study().claim()));
    blocks.add(new Block.ChartBlock(chart(result)));
    for (LevelClaim claim : claims) {
      blocks.add(new Block.Paragraph(Prose.of("{}: {}", Levels.name(claim), claim.sentence())));
      claim
          .figure()
          .ifPresent(
              figure ->
                  figure.remarks().stream()
                      .distinct()
                      .forEach(
                          remark ->
                              blocks.add(
                                  new Block.Callout(
                                      Block.CalloutKind.FINDING,
                                      Prose.of("{}: {}", Levels.name(claim), remark)))));
      blocks.addAll(FigureDetailBlocks.remedies(claim));
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
                          "Where the figure for " + Levels.name(claim) + " comes from",
                          node(figure.explanation()))));
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
    List<Row> rows = new ArrayList<>();
    for (int i = 0; i < claims.size(); i++) {
      LevelClaim claim = claims.get(i);
      Optional<LevelOutcome.Figure> figure = claim.figure();
      Optional<LevelClaim.Verdict> wanted = claim.wanted();
      rows.add(
          Row.of(
              Cell.text(Levels.name(claim)),
              safest(result, figure, boundsRow(claims, claim)),
              CellTexts.optional(figure.map(LevelOutcome.Figure::fractionOfCapacity), NO_FIGURE),
              CellTexts.optional(
                  Levels.withoutExclusions(result, i).map(LevelOutcome.Figure::safestGrams),
                  NO_FIGURE),
              CellTexts.optional(
                  figure
                      .map(LevelOutcome.Figure::withinTheseLotsGrams)
                      .orElse(OptionalDouble.empty()),
                  figure.isPresent() ? whyNoOther(result) : NO_FIGURE),
              CellTexts.optional(wanted.map(LevelClaim.Verdict::wantedGrams), "none wanted"),
              wanted
                  .map(v -> Cell.text(v.supported() ? "supported" : "not supported"))
                  .orElse(Cell.missing("none wanted")),
              CellTexts.optional(
                  wanted.map(LevelClaim.Verdict::marginGrams).orElse(OptionalDouble.empty()),
                  wanted.isPresent() ? NO_FIGURE : "none wanted")));
    }
    int decimals = CellTexts.decimals(result.study().claim().roundingGrams());
    int wantedDecimals =
        claims.stream()
            .flatMap(c -> c.wanted().stream())
            .mapToInt(w -> CellTexts.decimals(w.wantedGrams()))
            .max()
            .orElse(0);
    return new Table(
        "figures",
        "Safest figure by calibration level",
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.decimal("safest", "Safest figure ±", "g", decimals),
            Column.fraction("of-capacity", "Of capacity", 3),
            Column.decimal("without-exclusions", "Without exclusions ±", "g", decimals),
            Column.decimal("these-lots", "For these lots only ±", "g", decimals),
            Column.decimal("wanted", "Wanted ±", "g", wantedDecimals),
            Column.text("verdict", "Verdict"),
            Column.significant("margin", "Margin", "g", 4)),
        rows,
        Prose.of(
            "Error of reading at all loads together; content {} of {}, confidence {}. The margin is"
                + " the wanted figure minus the smallest supported one before rounding.{}",
            Quantity.percent(result.study().claim().content(), 1),
            result.study().claim().subject().plural(),
            Quantity.percent(result.study().claim().confidence(), 1),
            Levels.formNote(result.study().claim().form())));
  }

  /** Why there is no separate figure for the study's own lots. */
  private static String whyNoOther(StudyResult result) {
    boolean oneLot =
        result.asDecided().scopes().stream().anyMatch(s -> s.wording() == LotScope.Wording.ONE_LOT);
    return oneLot ? "the same: one lot" : "lots are not few";
  }

  /** Id of the explanation of a claim's figure. */
  static String explanationId(Analysis analysis, LevelClaim claim) {
    return "why-" + Levels.id(claim, analysis.claims().indexOf(claim));
  }

  /** The cell that holds the figure of a claim. */
  static Formula safestCell(Analysis analysis, LevelClaim claim) {
    return new Formula.CellOf("figures", "safest", analysis.claims().indexOf(claim));
  }

  /** Row of a claim in the table of bounds, which holds only claims with a figure. */
  private static int boundsRow(List<LevelClaim> claims, LevelClaim claim) {
    return (int)
        claims.subList(0, claims.indexOf(claim)).stream()
            .filter(c -> c.figure().isPresent())
            .count();
  }

  private static Cell safest(
      StudyResult result, Optional<LevelOutcome.Figure> figure, int boundsRow) {
    return figure
        .map(
            f ->
                Cell.computed(
                    f.safestGrams(),
                    new Formula.RoundOutward(
                        new Formula.CellOf("bounds", "bound", boundsRow),
                        result.study().claim().roundingGrams())))
        .orElse(Cell.missing(NO_FIGURE));
  }

  /** A guard band as a column of the table of bounds. */
  private record Guard(String id, String title, ToDoubleFunction<LevelOutcome.Figure> grams) {}

  private static final List<Guard> GUARDS =
      List.of(
          new Guard("bench-masses", "Bench masses", LevelOutcome.Figure::benchMassGrams),
          new Guard("buyer-masses", "Buyer's masses", LevelOutcome.Figure::buyerMassGrams),
          new Guard("between-loads", "Between loads", f -> f.betweenLoadsGrams().orElse(0)),
          new Guard("temperature", "Temperature", LevelOutcome.Figure::temperatureGrams),
          new Guard("reference", "Reference pair", LevelOutcome.Figure::referenceGrams),
          new Guard("drift", "Drift between lots", LevelOutcome.Figure::driftGrams),
          new Guard(
              "side-tests",
              "Side tests",
              f -> f.sides().stream().mapToDouble(SideAllowance::grams).sum()));

  /** Guard bands that some level has. */
  private static List<Guard> guards(List<LevelClaim> claims) {
    return GUARDS.stream()
        .filter(
            guard ->
                claims.stream()
                    .flatMap(claim -> claim.figure().stream())
                    .anyMatch(figure -> guard.grams().applyAsDouble(figure) > 0))
        .toList();
  }

  private static Cell bound(LevelOutcome.Figure figure, int row, List<Guard> guards) {
    Formula kits =
        new Formula.LargestOf(
            List.of(
                new Formula.CellOf("bounds", "model", row),
                new Formula.CellOf("bounds", "tested", row)));
    Formula sum = kits;
    for (Guard guard : guards) {
      sum =
          new Formula.Join(
              Formula.Operator.PLUS, sum, new Formula.CellOf("bounds", guard.id(), row));
    }
    return Cell.computed(figure.boundGrams(), sum);
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
                          f.safestGrams(),
                          row,
                          "±" + NumberText.of(CellTexts.exact(f.safestGrams(), "g")))));
      if (!result.excluded().isEmpty()) {
        Levels.withoutExclusions(result, i)
            // a little lower, so that equal figures stay apart
            .ifPresent(f -> included.add(new Point(f.safestGrams(), row + 0.14)));
      }
      claim.wanted().ifPresent(w -> wanted.add(new Point(w.wantedGrams(), row)));
      levels.add(Levels.name(claim) + (claim.figure().isPresent() ? "" : ": no figure"));
      answer
          .append(i == 0 ? "" : "; ")
          .append(Levels.name(claim))
          .append(' ')
          .append(
              claim
                  .figure()
                  .map(f -> claim.form().words(f.safestGrams()))
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

  private static Table bounds(List<LevelClaim> claims, ClaimSubject subject) {
    String plural = subject.plural();
    List<Guard> guards = guards(claims);
    List<Row> rows = new ArrayList<>();
    for (LevelClaim claim : claims) {
      if (claim.figure().isEmpty()) {
        continue;
      }
      LevelOutcome.Figure f = claim.figure().get();
      List<Cell> cells = new ArrayList<>();
      cells.add(Cell.text(Levels.name(claim)));
      cells.add(Cell.number(f.modelGrams()));
      cells.add(Cell.number(f.distributionFreeGrams()));
      cells.add(Cell.number(f.distributionFreeConfidence()));
      cells.add(Cell.number(f.supportedContentFraction()));
      cells.add(Cell.number(f.testedKits()));
      cells.add(Cell.number(f.disjointKits()));
      guards.forEach(guard -> cells.add(Cell.number(guard.grams().applyAsDouble(f))));
      cells.add(bound(f, rows.size(), guards));
      rows.add(new Row(cells));
    }
    List<Column> columns = new ArrayList<>();
    columns.add(Column.text("level", "Calibration level"));
    columns.add(Column.significant("model", "Bound by the model", "g", 4));
    columns.add(Column.significant("tested", "Largest error over tested " + plural, "g", 4));
    columns.add(Column.fraction("tested-confidence", "Confidence of that, without a model", 1));
    columns.add(
        Column.fraction("tested-content", "Content that tested " + plural + " alone support", 1));
    columns.add(Column.count("kits", CellTexts.capital(plural) + " tested"));
    columns.add(
        Column.count(
            "disjoint",
            subject == ClaimSubject.KIT
                ? "Kits that share no unit"
                : CellTexts.capital(plural) + " that are different"));
    guards.forEach(guard -> columns.add(Column.significant(guard.id(), guard.title(), "g", 3)));
    columns.add(Column.significant("bound", "Smallest supported figure", "g", 4));
    return new Table(
        "bounds",
        "What the figures are made of",
        Table.Role.READ,
        columns,
        rows,
        Prose.text(
            "The larger of the first two columns plus the guard bands is the smallest supported"
                + " figure; the safest figure is that, rounded outward. The confidence without a"
                + " model holds for "
                + plural
                + " drawn like the tested ones, lots included."));
  }

  private static ExplanationTree.Node node(Explanation explanation) {
    Quantity value = CellTexts.exact(explanation.value(), explanation.unit());
    return new ExplanationTree.Node(
        explanation.label(),
        Optional.of(value),
        explanation.how(),
        explanation.source().map(CellTexts::place),
        explanation.parts().stream().map(FigureSection::node).toList());
  }
}
