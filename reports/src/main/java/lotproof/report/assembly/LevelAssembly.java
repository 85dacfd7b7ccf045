package lotproof.report.assembly;

import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.claim.Explanation;
import lotproof.claim.FigureChange;
import lotproof.claim.FigureDetail;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.FigureDetail.GridPoint;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.StudyResult;
import lotproof.model.Role;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.model.Verdict.Answer;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.ExplanationWords;
import lotproof.report.words.FigureWords;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Provenance;

/** A calibration level: its first screen, and the evidence behind its figure. */
final class LevelAssembly {
  private final ReportedLevel level;
  private final ClaimWords words;
  private final LevelCharts charts;

  private LevelAssembly(ReportedLevel level) {
    this.level = level;
    this.words = new ClaimWords(level.result());
    this.charts = new LevelCharts(level);
  }

  static List<Level> of(StudyResult result) {
    Optional<ReportedLevel> leading = ReportedLevel.leading(result);
    return ReportedLevel.of(result).stream()
        .map(level -> new LevelAssembly(level).level(leading.orElseThrow().equals(level)))
        .toList();
  }

  private Level level(boolean leading) {
    ClaimWords.Wording wording = words.of(level.claim());
    List<Chart> first = new ArrayList<>();
    charts.errors().ifPresent(first::add);
    charts.sum().ifPresent(first::add);
    return new Level(
        level.id("level"),
        level.name(),
        level.buyer(),
        leading,
        row(),
        level.figure().map(figure -> trial(figure.limitGrams())),
        first,
        Risks.of(level),
        wording.sentence(),
        level.figure().isPresent() ? List.of(wording.productLine(), wording.footnote()) : List.of(),
        evidence());
  }

  private Level.Row row() {
    Optional<LevelClaim.Verdict> wanted = level.claim().wanted();
    String printable =
        level.figure().map(f -> level.form().words(f.printableGrams())).orElse("none");
    return new Level.Row(
        wanted.map(w -> level.form().words(w.wantedGrams())).orElse(""),
        wanted.map(w -> w.supported() ? Answer.YES : Answer.NO),
        printable,
        level.usedFraction(),
        level.result().excluded().isEmpty()
            ? "nothing excluded"
            : level
                .withoutExclusions()
                .map(f -> level.form().words(f.printableGrams()))
                .orElse("none"),
        level.restsOnExclusions());
  }

  private Level.Trial trial(double limitGrams) {
    return new Level.Trial(
        level.claim().wanted().stream().mapToDouble(LevelClaim.Verdict::wantedGrams).findFirst(),
        limitGrams,
        level.form() instanceof ClaimForm.OfReading
            ? List.of()
            : level.form().twoSided() ? List.of(-1, 1) : List.of((int) level.form().sign()),
        level.claim().detail().map(FigureDetail::confidenceCurve).orElse(List.of()).stream()
            .map(p -> new Chart.Point(p.grams(), p.byModel()))
            .toList(),
        grid());
  }

  private Level.Grid grid() {
    ClaimRequest asked = level.result().study().claim();
    return new Level.Grid(
        asked.content(),
        asked.confidence(),
        asked.roundingGrams(),
        level.claim().detail().map(FigureDetail::grid).orElse(List.of()).stream()
            .map(p -> new Level.GridLimit(p.content(), p.confidence(), p.limitGrams()))
            .toList());
  }

  private List<Section> evidence() {
    List<Section> sections = new ArrayList<>();
    List<Block> claim = new ArrayList<>();
    claim.add(Block.paragraph("{}", words.sentence(level.claim())));
    level.figure().stream()
        .flatMap(figure -> FigureWords.remarks(level.result().study(), figure).stream())
        .distinct()
        .forEach(remark -> claim.add(Block.finding("{}", remark)));
    claim.addAll(remedies());
    sections.add(section("claim", "Claim sentence", claimFinding(), claim));
    level
        .claim()
        .detail()
        .ifPresent(
            detail -> {
              sections.add(
                  section(
                      "breakdown",
                      "What makes up the figure",
                      widest(),
                      filled(budget(detail), leftOut(detail))));
              List<Block> sure = new ArrayList<>();
              charts.confidence(detail).ifPresent(sure::add);
              sure.add(contents(detail));
              sections.add(section("sure", "How sure the figure is", sureFinding(), sure));
            });
    List<Block> loads = new ArrayList<>();
    if (level.figure().isPresent()) {
      loads.add(points());
      charts.normal().ifPresent(loads::add);
    }
    RunTables.errors(level).ifPresent(loads::add);
    if (!loads.isEmpty()) {
      sections.add(section("loads", "Error at each load", loadsFinding(), loads));
    }
    if (!level.result().excluded().isEmpty()) {
      List<FigureChange> change = List.of(level.result().changes().get(level.index()));
      sections.add(
          section(
              "decided",
              "What the decisions changed",
              decidedFinding(change.get(0)),
              ReviewBlocks.changes(level.id("moves"), change)));
    }
    level
        .figure()
        .ifPresent(
            figure ->
                sections.add(
                    section(
                        "source",
                        "From the figure down to a reading",
                        Prose.text("Each number and what it was computed from."),
                        List.of(
                            new ExplanationTree(
                                level.explanationId(),
                                "Where the figure comes from, " + level.label(),
                                node(
                                    new ExplanationWords(level.result().study(), level.claim()),
                                    figure.explanation()))))));
    return sections;
  }

  private Section section(String id, String title, Prose finding, List<Block> blocks) {
    return new Section(level.id(id), title + ", " + level.label(), finding, blocks);
  }

  private static List<Block> filled(Table... tables) {
    return Stream.of(tables).filter(table -> !table.rows().isEmpty()).<Block>map(it -> it).toList();
  }

  private Prose claimFinding() {
    return level.figure().isEmpty()
        ? Prose.text("No figure is supported.")
        : Prose.of(
            "{} for {} of {}, with {} confidence.",
            level.form().words(level.safest().printableGrams()),
            Quantity.percent(level.result().study().claim().content(), 0),
            level.subject().plural(),
            Quantity.percent(level.result().study().claim().confidence(), 0));
  }

  /** Where errors are largest, and what most of them comes from. */
  private Prose widest() {
    PointLimit point = level.safest().worst();
    Contribution largest =
        point.contributions().stream()
            .max(Comparator.comparingDouble(Contribution::standardDeviationGrams))
            .orElseThrow();
    return Prose.of(
        "Mean error {} on every {}; most of the spread comes from: {} (standard deviation {}).",
        grams(point.meanGrams()),
        level.subject().key(),
        largest.title().toLowerCase(Locale.ROOT),
        grams(largest.standardDeviationGrams()));
  }

  private Prose loadsFinding() {
    if (level.figure().isEmpty()) {
      return Prose.text("As measured.");
    }
    PointLimit point = level.safest().worst();
    return Prose.of(
        "Errors are widest at {} {}: within ±{}.",
        new Quantity(point.loadKilograms(), "kg", EXACT),
        point.direction().word(),
        grams(point.withinGrams()));
  }

  private Prose sureFinding() {
    OptionalDouble sure =
        level.claim().wanted().map(LevelClaim.Verdict::confidence).orElse(OptionalDouble.empty());
    return sure.isEmpty()
        ? Prose.text("Confidence of other figures, and figures for other shares.")
        : Prose.of(
            "Of the wanted figure the model is {} sure.", Quantity.percent(sure.getAsDouble(), 1));
  }

  private static Prose decidedFinding(FigureChange change) {
    return change.moveGrams().isEmpty()
        ? Prose.text("They make the difference between a figure and none.")
        : Prose.of("The limit moves by {}.", grams(change.moveGrams().getAsDouble()));
  }

  private static Quantity grams(double grams) {
    return Quantity.significant(grams, "g", 3);
  }

  private static ExplanationTree.Node node(ExplanationWords words, Explanation explanation) {
    return new ExplanationTree.Node(
        words.label(explanation),
        Optional.of(new Quantity(explanation.value(), explanation.what().unit(), EXACT)),
        words.how(explanation),
        explanation.source().map(Provenance::place).orElse(""),
        explanation.parts().stream().map(part -> node(words, part)).toList());
  }

  /** What would change a no, one line a lever. */
  private List<Block> remedies() {
    return level.claim().wanted().filter(wanted -> !wanted.supported()).stream()
        .flatMap(
            wanted ->
                wanted.remedies().stream()
                    .map(
                        remedy ->
                            Block.finding(
                                "To reach {}: {}",
                                level.form().words(wanted.wantedGrams()),
                                FigureWords.remedy(remedy, level.result().study().claim()))))
        .toList();
  }

  private <T> TableBuilder<T> table(String id, String title) {
    return new TableBuilder<>(level.id(id), title + ", " + level.label());
  }

  private Table budget(FigureDetail detail) {
    return this.<BudgetLine>table("budget", "What makes up the figure at the worst load")
        .note(
            "The cost is what the limit at that load would lose without this contributor alone."
                + " Spreads add in squares, so their costs do not add up.")
        .add("Contributor", TEXT, line -> FigureWords.title(line.contributor(), level.subject()))
        .add("Effect", TEXT, this::kind)
        .add("Size [g]", significant(3), BudgetLine::grams)
        .missing("-")
        .add(
            "Share of variance",
            percent(1),
            line -> isSpread(line) ? line.varianceShareFraction() : OptionalDouble.empty())
        .add("Cost [g]", significant(3), BudgetLine::costGrams)
        .of(detail.budget());
  }

  private static boolean isSpread(BudgetLine line) {
    return line.contributor() instanceof Contributor.Spread;
  }

  private String kind(BudgetLine line) {
    if (isSpread(line)) {
      return text("differs from %1$s to %1$s (standard deviation)", level.subject().key());
    }
    return line.contributor() instanceof Contributor.Shift
        ? "the same for all " + level.subject().plural()
        : "added in full";
  }

  private Table contents(FigureDetail detail) {
    String plural = level.subject().plural();
    Map<Double, List<GridPoint>> rows =
        detail.grid().stream()
            .collect(Collectors.groupingBy(GridPoint::content, TreeMap::new, Collectors.toList()));
    TableBuilder<List<GridPoint>> table =
        this.<List<GridPoint>>table("contents", "Limit for other contents and confidences")
            .note("Before rounding, guard bands included.")
            .missing("too few " + plural + " without a normal shape")
            .add("Content", percent(1), row -> row.get(0).content());
    for (int i = 0; i < rows.values().iterator().next().size(); i++) {
      int at = i;
      String confidence = Quantity.percent(detail.grid().get(i).confidence(), 0).toString();
      table.add(
          "At " + confidence + " confidence [g]", significant(4), row -> row.get(at).limitGrams());
    }
    return table.of(List.copyOf(rows.values()));
  }

  private Table leftOut(FigureDetail detail) {
    return this.<FigureDetail.LeftOut>table("left-out", "Effect of leaving one unit out")
        .note(
            "The units that change the limit most when left out one at a time. A unit that changes"
                + " it is no reason to leave it out.")
        .add("Unit", TEXT, l -> l.kind().key())
        .add("Serial", SERIAL, l -> l.serial())
        .add("Limit without it [g]", significant(4), l -> l.boundGrams())
        .add("Change [g]", significant(3), l -> l.changeGrams())
        .of(detail.leftOut());
  }

  private Table points() {
    List<PointLimit> points = level.safest().points();
    Map<Role, String> sources = new LinkedHashMap<>();
    points.forEach(p -> p.contributions().forEach(c -> sources.putIfAbsent(c.role(), c.title())));
    TableBuilder<PointLimit> table =
        new TableBuilder<PointLimit>(
                level.pointsId(), "Error and its sources at each load, " + level.label())
            .note(
                "Sources as standard deviations in grams. They add in squares. Limits of single"
                    + " loads do not hold for all loads together; the figure does.")
            .add("Load [kg]", EXACT, PointLimit::loadKilograms)
            .add("Direction", TEXT, p -> p.direction().word())
            .add("Mean error [g]", significant(4), PointLimit::meanGrams);
    sources.forEach(
        (role, title) -> {
          table.add(title + " [g]", significant(4), p -> sd(p, role)).secondary();
        });
    return table
        .add(
            "Total standard deviation [g]", significant(4), PointLimit::totalStandardDeviationGrams)
        .add(
            "Any " + level.subject().key() + " within ± [g]",
            significant(4),
            PointLimit::withinGrams)
        .add("Largest tested [g]", significant(4), PointLimit::largestGrams)
        .of(points);
  }

  private static Optional<Double> sd(PointLimit point, Role role) {
    return point.contributions().stream()
        .filter(c -> c.role() == role)
        .findFirst()
        .map(Contribution::standardDeviationGrams);
  }
}
