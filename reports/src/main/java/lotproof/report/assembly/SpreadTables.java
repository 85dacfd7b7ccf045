package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Stream;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.SubjectRuns;
import lotproof.reduce.UnitSummary;
import lotproof.report.model.Block;
import lotproof.report.model.Format;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Table;
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
import lotproof.study.Characteristic.Limits;
import lotproof.study.UnitKind;

/**
 * Tables of a spread, for a study's report and for a bare table of results.
 *
 * @param spreads what is shown
 * @param withoutExclusions the same characteristics without any exclusion, for comparison
 * @param plural what was measured: kits, or cells or boards on one partner
 * @param study the study whose report computes what follows from other tables; none for a bare
 *     table
 * @param runs its runs
 */
record SpreadTables(
    List<CharacteristicSpread> spreads,
    List<CharacteristicSpread> withoutExclusions,
    String plural,
    Optional<StudyResult> study,
    List<RecordedRun> runs) {
  private static final String COMPONENTS = "components";
  private static final String LIMITS = "limits";
  private static final Format NUMBER = significant(5);
  private static final Format FINER = significant(6);

  /** A longer table is looked up, not read. */
  private static final int ROWS_TO_READ = 14;

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
              done.size(),
              done.stream().filter(DataCheck::notable).count()));
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
        estimated.influences().stream()
            .flatMap(effect -> SpreadWords.doubt(effect).stream())
            .forEach(doubt -> notes.add(title + ": " + doubt));
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
  private <T> TableBuilder<Line<T>> table(String id, String title) {
    return new TableBuilder<Line<T>>(id, title)
        .add(
            "Characteristic",
            TEXT,
            line -> {
              String unit = line.spread().values().unit();
              return line.spread().values().title() + (unit.isEmpty() ? "" : " [" + unit + "]");
            });
  }

  private Table components() {
    TableBuilder<Line<Component>> table =
        this.<Component>table(COMPONENTS, "What makes " + plural + " differ")
            .note(
                "An estimate at zero is not detectable with these data, which does not make it"
                    + " absent; its raw variance may be negative.")
            .add("Source", TEXT, l -> l.item().title())
            .add("Number", COUNT, l -> l.item().levels())
            .secondary()
            .add("Standard deviation", NUMBER, l -> l.item().standardDeviation());
    if (study.isPresent()) {
      table
          .add("Variance", NUMBER, l -> Math.pow(l.item().standardDeviation(), 2))
          .secondary()
          .live(row -> Formula.of("{}^2", "standard-deviation"));
    }
    return table
        .missing("not computed")
        .add("Lower end", NUMBER, l -> l.item().interval().map(Interval::lower))
        .add("Upper end", NUMBER, l -> l.item().interval().map(Interval::upper))
        .add("Share of variance", percent(1), l -> l.item().shareFraction())
        .live(l -> total(l.spread()).map(sum -> Formula.of("{}/{}", "variance", sum)))
        .add("Variance, unconstrained", significant(4), l -> l.item().unconstrainedVariance())
        .secondary()
        .add("State", TEXT, l -> l.item().atBoundary() ? "not detectable" : "found")
        .secondary()
        .of(estimates(Estimated::components));
  }

  /** The total variance of a characteristic, from the rows of its components. */
  private Optional<Formula> total(CharacteristicSpread spread) {
    List<Rows> rows =
        Rows.where(estimates(Estimated::components), line -> line.spread().equals(spread));
    return rows.isEmpty()
        ? Optional.empty()
        : Optional.of(Formula.of("SUM({})", new Range(COMPONENTS, "variance", rows)));
  }

  private Table influences() {
    return this.<InfluenceEffect>table("influences", "What else moves readings, and was taken out")
        .readUpTo(ROWS_TO_READ)
        .note(
            "Estimated together with the components (generalised least squares, Satterthwaite's"
                + " degrees of freedom); the standard error is wider than the model's where"
                + " successive residuals are alike or units respond differently. Mean and limits"
                + " are at the average of each influence over the study; the figures of a claim do"
                + " not take influences out.")
        .add("Influence", TEXT, l -> l.item().influence())
        .add("Change", TEXT, l -> l.item().per())
        .add("Estimate", NUMBER, l -> l.item().estimate())
        .add("Standard error", NUMBER, l -> l.item().standardError())
        .secondary()
        .add("Times that of the model", decimals(2), l -> l.item().widening())
        .secondary()
        .add("Lower end", NUMBER, l -> l.item().interval().lower())
        .add("Upper end", NUMBER, l -> l.item().interval().upper())
        .add("Finding", TEXT, l -> l.item().toldFromZero() ? "effect found" : "not detectable")
        .of(estimates(Estimated::influences));
  }

  private Table limits() {
    String singular = plural.substring(0, plural.length() - 1);
    TableBuilder<Line<Estimated>> table =
        this.<Estimated>table(LIMITS, "Limits for a future " + singular)
            .note(
                "Two-sided, at the content and confidence that were asked, by the model of normal"
                    + " components; exact factors where no unit was measured twice.")
            .add("Runs", COUNT, l -> l.spread().values().values().size())
            .add("Mean", FINER, l -> l.item().mean())
            .add("Standard deviation", NUMBER, l -> l.item().limits().totalStandardDeviation())
            .live(l -> total(l.spread()).map(sum -> Formula.of("SQRT({})", sum)));
    Function<Line<Estimated>, Double> half =
        l -> (l.item().limits().upper() - l.item().limits().lower()) / 2;
    Function<Line<Estimated>, Double> sd = l -> l.item().limits().totalStandardDeviation();
    if (study.isPresent()) {
      table
          .add("Half-width", NUMBER, half)
          .secondary()
          .missing("no spread found")
          .add(
              "Factor on the standard deviation",
              NUMBER,
              l -> sd.apply(l) > 0 ? Optional.of(half.apply(l) / sd.apply(l)) : Optional.empty())
          .secondary()
          .live(l -> Formula.of("{}/{}", "half-width", "standard-deviation"));
    }
    table
        .add("Lower limit", FINER, l -> l.item().limits().lower())
        .live(l -> Formula.of("{}-{}", "mean", "half-width"))
        .add("Upper limit", FINER, l -> l.item().limits().upper())
        .live(l -> Formula.of("{}+{}", "mean", "half-width"));
    if (!spreads.equals(withoutExclusions)) {
      addLimits(
          table,
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
      addLimits(table, ", these lots only", "not needed", l -> l.item().withinTheseLots());
    }
    return table.of(lines);
  }

  private static void addLimits(
      TableBuilder<Line<Estimated>> table,
      String title,
      String missing,
      Function<Line<Estimated>, Optional<ToleranceLimits>> limits) {
    table
        .missing(missing)
        .add("Lower limit" + title, FINER, l -> limits.apply(l).map(ToleranceLimits::lower))
        .secondary()
        .add("Upper limit" + title, FINER, l -> limits.apply(l).map(ToleranceLimits::upper))
        .secondary();
  }

  private Table distributionFree() {
    Range content = StudySection.number("content");
    Range confidence = StudySection.number("confidence");
    return this.<DistributionFreeLimits>table(
            "distribution-free", "What the tested " + plural + " say without a model")
        .detail()
        .note(
            "Order statistics of {} that share no unit. Smallest and largest value are not"
                + " limits: the confidence beside them says what they are worth.",
            plural)
        .add("Number tested", COUNT, l -> l.item().testedKits())
        .add("Number independent", COUNT, l -> l.item().disjointKits())
        .add("Smallest value", FINER, l -> l.item().smallest())
        .add("Largest value", FINER, l -> l.item().largest())
        .add(
            "Confidence for the content between them",
            percent(1),
            l -> l.item().confidenceTwoLimits())
        .live(
            l ->
                Formula.of(
                    "1-{}*{}^({}-1)+({}-1)*{}^{}",
                    "number-independent",
                    content,
                    "number-independent",
                    "number-independent",
                    content,
                    "number-independent"))
        .add(
            "Confidence for the content beyond one of them",
            percent(1),
            l -> l.item().confidenceOneLimit())
        .live(l -> Formula.of("1-{}^{}", content, "number-independent"))
        .add(
            "Content that one of them supports",
            percent(1),
            l -> l.item().supportedContentOneLimit())
        .live(l -> Formula.of("(1-{})^(1/{})", confidence, "number-independent"))
        .add("Number needed for one of them", COUNT, l -> l.item().kitsNeededOneLimit())
        .of(lines(s -> s.distributionFree().stream().toList()));
  }

  private Table capability() {
    TableBuilder<Line<CapabilityIndices>> table =
        this.<CapabilityIndices>table(
                "capability", "How " + plural + " lie within the study's limits")
            .note(
                "Overall spread of {}, lots included (ISO 22514-2 performance indices); the"
                    + " intervals allow for few lots. Small fractions outside depend on"
                    + " normality.",
                plural);
    if (study.isPresent()) {
      table
          .missing("none")
          .add("Lower limit", FINER, l -> limit(l.spread(), Limits::lower))
          .add("Upper limit", FINER, l -> limit(l.spread(), Limits::upper))
          .add("Mean", FINER, l -> l.spread().estimated().map(Estimated::mean))
          .secondary()
          .live(l -> fromLimits(l.spread(), "mean"))
          .add(
              "Standard deviation",
              FINER,
              l -> l.spread().estimated().map(e -> e.limits().totalStandardDeviation()))
          .secondary()
          .live(l -> fromLimits(l.spread(), "standard-deviation"));
    }
    return table
        .missing("one limit only")
        .add("Pp", decimals(3), l -> l.item().pp())
        .secondary()
        .live(l -> Formula.of("({}-{})/(6*{})", "upper-limit", "lower-limit", "standard-deviation"))
        .add("Pp, lower end", decimals(3), l -> l.item().ppInterval().map(Interval::lower))
        .secondary()
        .add("Pp, upper end", decimals(3), l -> l.item().ppInterval().map(Interval::upper))
        .secondary()
        .add("Ppk", decimals(3), l -> l.item().ppk())
        .live(l -> Formula.of("{}/3", Formula.call("MIN", sides(l.spread()))))
        .add("Ppk, lower end", decimals(3), l -> l.item().ppkInterval().lower())
        .add("Ppk, upper end", decimals(3), l -> l.item().ppkInterval().upper())
        .secondary()
        .add(
            "Kits outside, if normal",
            percent(4),
            l -> l.item().fractionBelow() + l.item().fractionAbove())
        .live(
            l ->
                Formula.call(
                    "SUM",
                    sides(l.spread()).stream()
                        .map(side -> Formula.of("NORMSDIST(-{})", side))
                        .toList()))
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
      sides.add(Formula.of("({}-{})/{}", "mean", "lower-limit", "standard-deviation"));
    }
    if (limit(spread, Limits::upper).isPresent()) {
      sides.add(Formula.of("({}-{})/{}", "upper-limit", "mean", "standard-deviation"));
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
    return this.<LotSummary>table("lots", "Lot by lot")
        .evidence()
        .note(
            "Plain figures of unit means; partners and bench are not taken out. Without serials"
                + " each row counts as one unit.")
        .add("Kind", TEXT, l -> l.item().role().key())
        .add("Lot", TEXT, l -> l.item().lot())
        .add("Units", COUNT, l -> l.item().units())
        .live(l -> over("COUNT", l, units))
        .add("Mean of unit means", FINER, l -> l.item().mean())
        .live(l -> over("AVERAGE", l, units))
        .add("Standard deviation", NUMBER, l -> l.item().standardDeviation())
        .live(l -> l.item().units() > 1 ? over("STDEV", l, units) : Optional.empty())
        .add("Smallest value", FINER, l -> l.item().smallest())
        .live(l -> over("MIN", l, units))
        .add("Largest value", FINER, l -> l.item().largest())
        .live(l -> over("MAX", l, units))
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
        .add("Characteristic", TEXT, l -> l.spread().values().title())
        .add("Check", TEXT, l -> SpreadWords.title(l.item().kind()))
        .add("Units", TEXT, l -> String.join(", ", l.item().pointsAt()))
        .add("Meaning", TEXT, l -> SpreadWords.meaning(l.item()))
        .of(checks.stream().filter(l -> l.item().notable()).toList());
  }

  private static Table allChecks(List<Line<DataCheck>> checks) {
    return new TableBuilder<Line<DataCheck>>("checks", "All checks of the data")
        .detail()
        .readUpTo(ROWS_TO_READ)
        .note(
            "Units are judged by their predicted effects, so that partners are taken out. A check"
                + " points at something; it takes nothing out.")
        .add("Characteristic", TEXT, l -> l.spread().values().title())
        .add("Key", TEXT, l -> l.item().kind().key())
        .secondary()
        .add("Check", TEXT, l -> SpreadWords.title(l.item().kind()))
        .add("Data", TEXT, l -> SpreadWords.about(l.item()))
        .missing("not done")
        .add("Statistic", NUMBER, l -> l.item().statistic())
        .secondary()
        .add("Critical value", NUMBER, l -> l.item().criticalValue())
        .secondary()
        .add("p-value", significant(3), l -> l.item().pValue())
        .secondary()
        .add("Units", TEXT, l -> String.join(", ", l.item().pointsAt()))
        .add("Meaning", TEXT, l -> SpreadWords.meaning(l.item()))
        .of(checks);
  }

  private Table bench() {
    return this.<BenchShare>table("bench-share", "How much of it is the bench")
        .detail()
        .note(
            "Shares by standard deviations: measuring over the total, six of measuring over the"
                + " width between the limits. Distinct categories are 1.41 times kits over"
                + " measuring, rounded down.")
        .add("Degrees of freedom", COUNT, l -> l.item().degreesOfFreedom())
        .secondary()
        .add("Standard deviation of measuring", significant(4), l -> l.item().standardDeviation())
        .add("Lower end", significant(4), l -> l.item().interval().lower())
        .add("Upper end", significant(4), l -> l.item().interval().upper())
        .add("Share of total", percent(1), l -> l.item().shareOfTotal())
        .missing("no two limits")
        .add("Share of tolerance", percent(1), l -> l.item().shareOfTolerance())
        .add("Distinct categories", COUNT, l -> Math.floor(l.item().distinctCategories()))
        .add("Basis", TEXT, l -> SpreadWords.basis(l.item()))
        .of(estimates(e -> e.bench().stream().toList()));
  }
}
