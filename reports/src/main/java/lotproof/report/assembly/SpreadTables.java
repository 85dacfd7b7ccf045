package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Stream;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.SubjectRuns;
import lotproof.reduce.UnitSummary;
import lotproof.report.model.Block;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Quantity;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.SpreadWords;
import lotproof.spread.CharacteristicSpread;
import lotproof.spread.CharacteristicSpread.DistributionFreeLimits;
import lotproof.spread.CharacteristicSpread.LotSummary;
import lotproof.spread.DataCheck;
import lotproof.spread.SpreadOutcome.BenchShare;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.spread.SpreadOutcome.Estimated;
import lotproof.spread.SpreadOutcome.InfluenceEffect;
import lotproof.spread.SpreadOutcome.NotEstimable;
import lotproof.spread.SpreadOutcome.ToleranceLimits;
import lotproof.statistics.Interval;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.study.Characteristic;
import lotproof.study.Limits;
import lotproof.study.UnitKind;

/** Tables of a spread, for a study's report and for a bare table of results. */
final class SpreadTables {
  private static final String COMPONENTS = "components";
  private static final String LIMITS = "limits";
  private static final int DIGITS = 5;

  /** A longer table is looked up, not read. */
  private static final int ROWS_TO_READ = 14;

  private final List<CharacteristicSpread> spreads;

  /** The same characteristics without any exclusion, for comparison. */
  private final List<CharacteristicSpread> withoutExclusions;

  /** What was measured: kits, or cells or boards on one partner. */
  private final String plural;

  /** The study whose report computes what follows from other tables; none for a bare table. */
  private final Optional<StudyResult> study;

  private final List<RecordedRun> runs;

  private SpreadTables(
      List<CharacteristicSpread> spreads,
      List<CharacteristicSpread> withoutExclusions,
      String plural,
      Optional<StudyResult> study,
      List<RecordedRun> runs) {
    this.spreads = spreads;
    this.withoutExclusions = withoutExclusions;
    this.plural = plural;
    this.study = study;
    this.runs = runs;
  }

  /** Everything about the spread of a bare table. */
  static List<Block> of(CharacteristicSpread spread) {
    List<CharacteristicSpread> one = List.of(spread);
    return new SpreadTables(one, one, "kits", Optional.empty(), List.of()).blocks();
  }

  /** Everything about the spreads of a study. */
  static List<Block> of(StudyResult result, List<RecordedRun> runs) {
    return new SpreadTables(
            result.asDecided().spreads(),
            result.comparison().spreads(),
            SubjectRuns.measured(result.study()).plural(),
            Optional.of(result),
            runs)
        .blocks();
  }

  private List<Block> blocks() {
    List<Block> blocks = new ArrayList<>(List.of(components(), limits(), distributionFree()));
    addFilled(blocks, influences());
    addFilled(blocks, capability());
    addFilled(blocks, lots());
    List<Line<DataCheck>> checks = lines(CharacteristicSpread::checks);
    List<DataCheck> done = checks.stream().map(Line::item).filter(DataCheck::done).toList();
    if (!done.isEmpty()) {
      blocks.add(
          Block.paragraph(
              "{} checks were run (outliers, unequal spread, two groups, drift); {} flagged. About"
                  + " 1 in 100 flags by chance.",
              Quantity.count(done.size()),
              Quantity.count(done.stream().filter(DataCheck::notable).count())));
      addFilled(blocks, notable(checks));
      blocks.add(allChecks(checks));
    }
    addFilled(blocks, bench());
    blocks.addAll(notes());
    return blocks;
  }

  private static void addFilled(List<Block> blocks, Table table) {
    if (!table.rows().isEmpty()) {
      blocks.add(table);
    }
  }

  /** What the reader must know about the models, each remark once. */
  private List<Block> notes() {
    List<String> notes = new ArrayList<>();
    for (CharacteristicSpread spread : spreads) {
      String title = spread.values().title();
      if (spread.outcome() instanceof Estimated estimated) {
        estimated.notes().forEach(note -> notes.add(SpreadWords.of(note)));
        estimated.unused().forEach(unused -> notes.add(SpreadWords.of(unused)));
        estimated.caveats().forEach(caveat -> notes.add(title + ": " + SpreadWords.of(caveat)));
      } else {
        notes.add(title + ": " + SpreadWords.of((NotEstimable) spread.outcome()));
      }
    }
    return notes.stream().distinct().<Block>map(note -> Block.finding("{}", note)).toList();
  }

  /** Something of a spread that takes a row. */
  private record Line<T>(CharacteristicSpread spread, T item) {}

  private <T> List<Line<T>> lines(Function<CharacteristicSpread, List<T>> items) {
    return spreads.stream()
        .flatMap(s -> items.apply(s).stream().map(item -> new Line<>(s, item)))
        .toList();
  }

  private <T> List<Line<T>> estimates(Function<Estimated, List<T>> items) {
    return lines(s -> s.estimated().map(items).orElse(List.of()));
  }

  /** A table that begins with the characteristic and the unit that its numbers carry. */
  private static <T> TableBuilder<Line<T>> table(String id, String title) {
    return new TableBuilder<Line<T>>(id, title)
        .add(
            Column.text("characteristic", "Characteristic"),
            line -> {
              String unit = line.spread().values().unit();
              return line.spread().values().title() + (unit.isEmpty() ? "" : " [" + unit + "]");
            });
  }

  private static Column number(String key, String title) {
    return Column.significant(key, title, "", DIGITS);
  }

  private static Column finer(String key, String title) {
    return Column.significant(key, title, "", DIGITS + 1);
  }

  private Table components() {
    TableBuilder<Line<Component>> table =
        SpreadTables.<Component>table(COMPONENTS, "What makes " + plural + " differ")
            .note(
                "An estimate at zero is not detectable with these data, which does not make it"
                    + " absent; its raw variance may be negative.")
            .add(Column.text("source", "Source"), l -> l.item().title())
            .add(Column.count("levels", "Number"), l -> l.item().levels())
            .add(number("sd", "Standard deviation"), l -> l.item().standardDeviation());
    if (study.isPresent()) {
      table.live(
          number("variance", "Variance"),
          l -> Math.pow(l.item().standardDeviation(), 2),
          Formula.of("{}^2", "sd"));
    }
    String none = "not computed";
    return table
        .add(
            number("sd-lower", "Interval from"),
            l -> l.item().interval().map(Interval::lower),
            none)
        .add(number("sd-upper", "to"), l -> l.item().interval().map(Interval::upper), none)
        .live(
            Column.fraction("share", "Share of variance", 1),
            l -> l.item().shareFraction(),
            none,
            l -> total(l.spread()).map(sum -> Formula.of("{}/{}", "variance", sum)))
        .add(
            Column.significant("raw-variance", "Variance, unconstrained", "", 4),
            l -> l.item().unconstrainedVariance())
        .add(Column.text("state", "State"), l -> l.item().atBoundary() ? "not detectable" : "found")
        .of(estimates(Estimated::components));
  }

  /** The total variance of a characteristic, from the rows of its components. */
  private Optional<Formula> total(CharacteristicSpread spread) {
    List<Rows> rows =
        Rows.where(estimates(Estimated::components), line -> line.spread().equals(spread));
    return study.isEmpty() || rows.isEmpty()
        ? Optional.empty()
        : Optional.of(Formula.of("SUM({})", new Range(COMPONENTS, "variance", rows)));
  }

  private Table influences() {
    return SpreadTables.<InfluenceEffect>table(
            "influences", "What else moves readings, and was taken out")
        .readUpTo(ROWS_TO_READ)
        .note(
            "Estimated together with the components (generalised least squares, Satterthwaite's"
                + " degrees of freedom). Mean and limits are at the average of each influence over"
                + " the study; the figures of a claim do not take influences out.")
        .add(Column.text("influence", "Influence"), l -> l.item().influence())
        .add(Column.text("per", "Change"), l -> l.item().per())
        .add(number("estimate", "Estimate"), l -> l.item().estimate())
        .add(number("standard-error", "Standard error"), l -> l.item().standardError())
        .add(number("lower", "Interval from"), l -> l.item().interval().lower())
        .add(number("upper", "to"), l -> l.item().interval().upper())
        .add(
            Column.text("state", "Finding"),
            l -> l.item().toldFromZero() ? "effect found" : "not detectable")
        .of(estimates(Estimated::influences));
  }

  private Table limits() {
    String singular = plural.substring(0, plural.length() - 1);
    TableBuilder<Line<Estimated>> table =
        SpreadTables.<Estimated>table(LIMITS, "Limits for a future " + singular)
            .note(
                "Two-sided, at the content and confidence that were asked, by the model of normal"
                    + " components; exact factors where no unit was measured twice.")
            .add(Column.count("runs", "Runs"), l -> l.spread().values().values().size())
            .add(finer("mean", "Mean"), l -> l.item().mean())
            .live(
                number("total-sd", "Standard deviation of " + plural),
                l -> l.item().limits().totalStandardDeviation(),
                l -> total(l.spread()).map(sum -> Formula.of("SQRT({})", sum)));
    Function<Line<Estimated>, Double> half =
        l -> (l.item().limits().upper() - l.item().limits().lower()) / 2;
    Function<Line<Estimated>, Double> sd = l -> l.item().limits().totalStandardDeviation();
    if (study.isPresent()) {
      table
          .add(number("half-width", "Half-width by the model"), half)
          .live(
              number("factor", "Factor on the standard deviation"),
              l -> sd.apply(l) > 0 ? Optional.of(half.apply(l) / sd.apply(l)) : Optional.empty(),
              "no spread found",
              l -> Optional.of(Formula.of("{}/{}", "half-width", "total-sd")));
    }
    table
        .live(
            finer("lower", "Lower"),
            l -> l.item().limits().lower(),
            l -> study.map(s -> Formula.of("{}-{}", "mean", "half-width")))
        .live(
            finer("upper", "Upper"),
            l -> l.item().limits().upper(),
            l -> study.map(s -> Formula.of("{}+{}", "mean", "half-width")));
    if (!spreads.equals(withoutExclusions)) {
      addLimits(
          table,
          "without",
          " with excluded units",
          "not estimable",
          l ->
              withoutExclusions
                  .get(spreads.indexOf(l.spread()))
                  .estimated()
                  .map(Estimated::limits));
    }
    List<Line<Estimated>> lines = estimates(List::of);
    if (lines.stream().anyMatch(l -> l.item().withinTheseLots().isPresent())) {
      addLimits(table, "these", ", these lots only", "not needed", l -> l.item().withinTheseLots());
    }
    return table.of(lines);
  }

  private static void addLimits(
      TableBuilder<Line<Estimated>> table,
      String key,
      String title,
      String missing,
      Function<Line<Estimated>, Optional<ToleranceLimits>> limits) {
    table
        .add(
            finer("lower-" + key, "Lower" + title),
            l -> limits.apply(l).map(ToleranceLimits::lower),
            missing)
        .add(
            finer("upper-" + key, "Upper" + title),
            l -> limits.apply(l).map(ToleranceLimits::upper),
            missing);
  }

  private Table distributionFree() {
    Range content = StudySection.number("content");
    Range confidence = StudySection.number("confidence");
    String kits = CellTexts.capital(plural);
    return SpreadTables.<DistributionFreeLimits>table(
            "distribution-free", "What the tested " + plural + " say without a model")
        .note(
            "Order statistics of "
                + plural
                + " that share no unit. Smallest and largest seen are not limits: the confidence"
                + " beside them says what they are worth.")
        .add(Column.count("kits", kits + " tested"), l -> l.item().testedKits())
        .add(Column.count("disjoint", kits + " that share no unit"), l -> l.item().disjointKits())
        .add(finer("smallest", "Smallest seen"), l -> l.item().smallest())
        .add(finer("largest", "Largest seen"), l -> l.item().largest())
        .live(
            Column.fraction("both", "Confidence for the content between them", 1),
            l -> l.item().confidenceTwoLimits(),
            l ->
                study.map(
                    s ->
                        Formula.of(
                            "1-{}*{}^({}-1)+({}-1)*{}^{}",
                            "disjoint",
                            content,
                            "disjoint",
                            "disjoint",
                            content,
                            "disjoint")))
        .live(
            Column.fraction("one", "Confidence for the content beyond one of them", 1),
            l -> l.item().confidenceOneLimit(),
            l -> study.map(s -> Formula.of("1-{}^{}", content, "disjoint")))
        .live(
            Column.fraction("supported", "Content that one of them supports", 1),
            l -> l.item().supportedContentOneLimit(),
            l -> study.map(s -> Formula.of("(1-{})^(1/{})", confidence, "disjoint")))
        .add(
            Column.count("needed", kits + " needed for one of them"),
            l -> l.item().kitsNeededOneLimit())
        .of(lines(s -> s.distributionFree().stream().toList()));
  }

  private Table capability() {
    TableBuilder<Line<CapabilityIndices>> table =
        SpreadTables.<CapabilityIndices>table(
                "capability", "How " + plural + " lie within the study's limits")
            .note(
                "Overall spread of "
                    + plural
                    + ", lots included (ISO 22514-2 performance indices), with the degrees of"
                    + " freedom of the model. Small fractions outside depend on normality.");
    if (study.isPresent()) {
      table
          .add(
              finer("lower-limit", "Lower limit"),
              l -> limit(l.spread(), Limits::lower),
              "no such limit")
          .add(
              finer("upper-limit", "Upper limit"),
              l -> limit(l.spread(), Limits::upper),
              "no such limit")
          .live(
              finer("mean", "Mean"),
              l -> l.spread().estimated().map(Estimated::mean),
              l -> fromLimits(l.spread(), "mean"))
          .live(
              finer("sd", "Standard deviation of " + plural),
              l -> l.spread().estimated().map(e -> e.limits().totalStandardDeviation()),
              l -> fromLimits(l.spread(), "total-sd"));
    }
    String one = "one limit only";
    return table
        .live(
            Column.decimal("pp", "Pp", "", 3),
            l -> l.item().pp(),
            one,
            l -> study.map(s -> Formula.of("({}-{})/(6*{})", "upper-limit", "lower-limit", "sd")))
        .add(
            Column.decimal("pp-lower", "Pp from", "", 3),
            l -> l.item().ppInterval().map(Interval::lower),
            one)
        .add(
            Column.decimal("pp-upper", "to", "", 3),
            l -> l.item().ppInterval().map(Interval::upper),
            one)
        .live(
            Column.decimal("ppk", "Ppk", "", 3),
            l -> l.item().ppk(),
            one,
            l -> study.map(s -> Formula.of("{}/3", Formula.call("MIN", sides(l.spread())))))
        .add(Column.decimal("ppk-lower", "Ppk from", "", 3), l -> l.item().ppkInterval().lower())
        .add(Column.decimal("ppk-upper", "to", "", 3), l -> l.item().ppkInterval().upper())
        .live(
            Column.fraction("outside", "Kits outside, if normal", 4),
            l -> l.item().fractionBelow() + l.item().fractionAbove(),
            one,
            l ->
                study.map(
                    s ->
                        Formula.call(
                            "SUM",
                            sides(l.spread()).stream()
                                .map(side -> Formula.of("NORMSDIST(-{})", side))
                                .toList())))
        .of(estimates(e -> e.capability().stream().toList()));
  }

  private OptionalDouble limit(CharacteristicSpread spread, Function<Limits, OptionalDouble> side) {
    return characteristic(spread)
        .flatMap(c -> study.flatMap(s -> Optional.ofNullable(s.study().limits().get(c))))
        .map(side)
        .orElse(OptionalDouble.empty());
  }

  /** A number of the characteristic's row in the table of limits. */
  private Optional<Formula> fromLimits(CharacteristicSpread spread, String column) {
    List<Rows> row = Rows.where(estimates(List::of), line -> line.spread().equals(spread));
    return Optional.of(Formula.of("{}", new Range(LIMITS, column, row)));
  }

  /** Distances of the limits from the mean, in standard deviations. */
  private List<Formula> sides(CharacteristicSpread spread) {
    List<Formula> sides = new ArrayList<>();
    if (limit(spread, Limits::lower).isPresent()) {
      sides.add(Formula.of("({}-{})/{}", "mean", "lower-limit", "sd"));
    }
    if (limit(spread, Limits::upper).isPresent()) {
      sides.add(Formula.of("({}-{})/{}", "upper-limit", "mean", "sd"));
    }
    return sides;
  }

  private static Optional<Characteristic> characteristic(CharacteristicSpread spread) {
    return Stream.of(Characteristic.values())
        .filter(c -> c.key().equals(spread.values().key()))
        .findFirst();
  }

  private Table lots() {
    List<UnitSummary> units = study.map(s -> RunTables.summaries(s, runs)).orElse(List.of());
    Column largest = finer("largest", "Largest");
    return SpreadTables.<LotSummary>table("lots", "Lot by lot")
        .evidence()
        .note("Plain figures of unit means; partners and bench are not taken out.")
        .add(Column.text("kind", "Kind"), l -> l.item().role().key())
        .add(Column.text("lot", "Lot"), l -> l.item().lot())
        .live(Column.count("units", "Units"), l -> l.item().units(), l -> over("COUNT", l, units))
        .live(
            finer("mean", "Mean of unit means"),
            l -> l.item().mean(),
            l -> over("AVERAGE", l, units))
        .live(
            number("sd", "Standard deviation"),
            l -> l.item().standardDeviation(),
            l -> l.item().units() > 1 ? over("STDEV", l, units) : Optional.empty())
        .live(finer("smallest", "Smallest"), l -> l.item().smallest(), l -> over("MIN", l, units))
        .live(largest, l -> l.item().largest(), l -> over("MAX", l, units))
        .of(lines(CharacteristicSpread::lots));
  }

  /**
   * A function over the unit means of a lot; none where the lot's figures rest on other values,
   * such as those whose temperature is known.
   */
  private Optional<Formula> over(String function, Line<LotSummary> line, List<UnitSummary> units) {
    Optional<Characteristic> c = characteristic(line.spread());
    if (c.isEmpty() || study.isEmpty()) {
      return Optional.empty();
    }
    long values =
        units.stream()
            .filter(u -> u.kind() == UnitKind.CELL)
            .flatMap(u -> u.runs().stream())
            .filter(run -> run.value(c.get()).isPresent())
            .count();
    if (values != line.spread().values().values().size()) {
      return Optional.empty();
    }
    List<Rows> rows =
        Rows.where(
            units,
            u ->
                line.item().role().key().equals(u.kind().key() + " lot")
                    && u.lot().equals(line.item().lot()));
    return new RunFormulas(study.get()).over(function, RunTables.UNITS, c.get().key(), rows);
  }

  private static Table notable(List<Line<DataCheck>> checks) {
    return new TableBuilder<Line<DataCheck>>("checks-notable", "Points to check")
        .add(Column.text("characteristic", "Characteristic"), l -> l.spread().values().title())
        .add(Column.text("check", "Check"), l -> SpreadWords.title(l.item().kind()))
        .add(Column.text("points-at", "Points at"), l -> String.join(", ", l.item().pointsAt()))
        .add(Column.text("meaning", "What it means"), l -> SpreadWords.meaning(l.item()))
        .of(checks.stream().filter(l -> l.item().notable()).toList());
  }

  private static Table allChecks(List<Line<DataCheck>> checks) {
    String not = "not done";
    return new TableBuilder<Line<DataCheck>>("checks", "All checks of the data")
        .readUpTo(ROWS_TO_READ)
        .note(
            "Units are judged by their predicted effects, so that partners are taken out. A check"
                + " points at something; it takes nothing out.")
        .add(Column.text("characteristic", "Characteristic"), l -> l.spread().values().title())
        .add(Column.text("key", "Key"), l -> l.item().kind().key())
        .add(Column.text("check", "Check"), l -> SpreadWords.title(l.item().kind()))
        .add(Column.text("about", "Looked at"), l -> SpreadWords.about(l.item()))
        .add(number("statistic", "Statistic"), l -> l.item().statistic(), not)
        .add(number("critical", "Critical value"), l -> l.item().criticalValue(), not)
        .add(Column.significant("p-value", "p-value", "", 3), l -> l.item().pValue(), not)
        .add(Column.text("points-at", "Points at"), l -> String.join(", ", l.item().pointsAt()))
        .add(Column.text("meaning", "What it means"), l -> SpreadWords.meaning(l.item()))
        .of(checks);
  }

  private Table bench() {
    return SpreadTables.<BenchShare>table("bench-share", "How much of it is the bench")
        .note(
            "Shares by standard deviations: measuring over the total, six of measuring over the"
                + " width between the limits. Distinct categories are 1.41 times kits over"
                + " measuring, rounded down.")
        .add(Column.count("df", "Degrees of freedom"), l -> l.item().degreesOfFreedom())
        .add(
            Column.significant("sd", "Standard deviation of measuring", "", 4),
            l -> l.item().standardDeviation())
        .add(
            Column.significant("sd-lower", "Interval from", "", 4),
            l -> l.item().interval().lower())
        .add(Column.significant("sd-upper", "to", "", 4), l -> l.item().interval().upper())
        .add(Column.fraction("of-total", "Of the total", 1), l -> l.item().shareOfTotal())
        .add(
            Column.fraction("of-tolerance", "Of the tolerance", 1),
            l -> l.item().shareOfTolerance(),
            "no two limits")
        .add(
            Column.count("categories", "Distinct categories"),
            l -> Math.floor(l.item().distinctCategories()))
        .add(Column.text("basis", "From"), l -> SpreadWords.basis(l.item()))
        .of(estimates(e -> e.bench().stream().toList()));
  }
}
