package lotproof.report.assembly;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.LaterLotCheck.LevelCheck;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.LaterLotWords;
import lotproof.report.words.Numbers;
import lotproof.report.words.StudyWords;
import lotproof.study.ClaimVersion;
import lotproof.study.Study;
import lotproof.study.WatchLine;

/** A later lot against the study, and the history of such checks, as blocks. */
public final class WatchBlocks {
  private static final Axis ORDER = new Axis("Check, in the order of watch.csv", "");

  private static final String ONE = "one kit";

  private WatchBlocks() {}

  /** What a check found. */
  public static List<Block> of(Study study, LaterLotCheck check) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(levels(check));
    for (LevelCheck level : check.levels()) {
      for (String reason : LaterLotWords.broken(level)) {
        blocks.add(Block.finding("{}: {}", StudyWords.level(level.level()), reason));
      }
    }
    blocks.add(power(check));
    LaterLotWords.remarks(study, check)
        .forEach(remark -> blocks.add(Block.paragraph("{}", remark)));
    return blocks;
  }

  private static Table levels(LaterLotCheck check) {
    return new TableBuilder<LevelCheck>("lot-check", "The later lot against the study")
        .note(
            "{} {} that share no unit, of {} measured. Mean and spread at the study's worst"
                + " load of the level. A lot like those studied is called anything but \"claim"
                + " holds\" in at most about {} % of checks, over all levels together.",
            check.kits(),
            check.subject().plural(),
            check.allKits(),
            Numbers.percent(check.falseAlarmFraction()))
        .add("Calibration level", TEXT, l -> StudyWords.level(l.level()))
        .add("Figure ± [g]", significant(4), l -> l.figureGrams())
        .add("Largest error [g]", significant(4), l -> l.judgement().single().largestGrams())
        .add(
            "Beyond it",
            TEXT,
            l ->
                l.judgement().single().beyond()
                    + " (allowed "
                    + l.judgement().single().allowedBeyond()
                    + ")")
        .add("Mean [g]", significant(4), l -> l.judgement().mean().grams())
        .add("Study's mean [g]", significant(4), l -> l.judgement().mean().studyGrams())
        .add("May differ by [g]", significant(3), l -> l.judgement().mean().limitGrams())
        .missing(ONE)
        .add("Spread [g]", significant(3), l -> l.judgement().spread().grams())
        .add("May be up to [g]", significant(3), l -> l.judgement().spread().limitGrams())
        .add("Verdict", TEXT, l -> l.judgement().verdict().key())
        .of(check.levels());
  }

  private static Table power(LaterLotCheck check) {
    return new TableBuilder<LevelCheck>("lot-check-power", "What this check would have seen")
        .note(
            "Shift and spread that are seen in 80 % of checks with this many; smaller ones mostly"
                + " go unseen, so \"claim holds\" does not say that nothing changed.")
        .add("Calibration level", TEXT, l -> StudyWords.level(l.level()))
        .add("Load", TEXT, l -> plain(l.loadKilograms()) + " kg " + l.direction().word())
        .add("Shift of the mean [g]", significant(3), l -> l.judgement().mean().seenShiftGrams())
        .missing(ONE)
        .add(
            "Spread within the lot, times the study's",
            decimals(2),
            l -> l.judgement().spread().seenRatio())
        .add(
            "A single " + check.subject().key() + " off by [g]",
            significant(3),
            l -> l.judgement().single().extremeGrams())
        .of(check.levels());
  }

  /** All checks so far. */
  public static Table history(List<WatchLine> lines) {
    return new TableBuilder<WatchLine>("watch-history", "Later lots so far")
        .add("Check", TEXT, WatchLine::check)
        .add("Date", TEXT, WatchLine::date)
        .add("Lot", TEXT, WatchLine::lot)
        .add("Calibration level", TEXT, w -> StudyWords.level(w.level()))
        .add("Figure ± [g]", significant(4), WatchLine::figureGrams)
        .add("Mean [g]", significant(4), w -> w.mean().grams())
        .add("Largest error [g]", significant(4), w -> w.kits().largestGrams())
        .add("Verdict", TEXT, w -> w.verdict().key())
        .of(lines);
  }

  /** All versions of the claim. */
  public static Table versions(List<ClaimVersion> versions) {
    return new TableBuilder<ClaimVersion>("claim-versions", "Versions of the claim")
        .add("Version", TEXT, ClaimVersion::version)
        .add("Date", TEXT, ClaimVersion::date)
        .add("Who", TEXT, ClaimVersion::who)
        .add("Calibration level", TEXT, v -> StudyWords.level(v.level()))
        .add("Figure ± [g]", significant(4), ClaimVersion::figureGrams)
        .add("Content", percent(1), ClaimVersion::content)
        .add("Confidence", percent(1), ClaimVersion::confidence)
        .add("Study", TEXT, v -> shortHash(v.studyHash()))
        .of(versions);
  }

  /** What a reader must know when the study is no longer the one that a version rests on. */
  public static Optional<Block> changedSince(List<ClaimVersion> versions, String recordHash) {
    if (versions.isEmpty()) {
      return Optional.empty();
    }
    ClaimVersion last = versions.get(versions.size() - 1);
    return last.studyHash().equals(recordHash)
        ? Optional.empty()
        : Optional.of(
            Block.finding(
                "The study was changed since version {} of the claim was issued (record {}, now"
                    + " {}). The lot is held against the issued figures and the present study.",
                last.version(),
                shortHash(last.studyHash()),
                shortHash(recordHash)));
  }

  private static String shortHash(String hash) {
    return hash.substring(0, Math.min(8, hash.length()));
  }

  /** Mean errors and largest errors of the checked lots; none without a check. */
  public static List<Chart> charts(List<WatchLine> lines) {
    Map<String, List<WatchLine>> byLevel = new LinkedHashMap<>();
    lines.forEach(l -> byLevel.computeIfAbsent(l.level(), k -> new ArrayList<>()).add(l));
    List<Chart> charts = new ArrayList<>();
    byLevel.forEach(
        (level, ofLevel) -> {
          String id = id(charts.size() / 2 + 1, level);
          charts.add(means(id + "-mean", level, ofLevel));
          charts.add(largest(id + "-largest", level, ofLevel));
        });
    return charts;
  }

  private static String id(int number, String level) {
    String plain = level.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-");
    String name = text("later-lots-%d-%s", number, plain);
    return name.substring(0, Math.min(40, name.length())).replaceAll("-$", "");
  }

  /** Each lot's mean against the study's, with what the latest check allowed. */
  private static Chart means(String id, String level, List<WatchLine> lines) {
    WatchLine last = lines.get(lines.size() - 1);
    double study = last.mean().studyGrams();
    double limit = last.mean().limitGrams();
    return new Chart(
        new Caption(
            id,
            "Do later lots stay where the study was, at level \"" + StudyWords.level(level) + "\"?",
            text(
                "Mean error at %s kg %s: %s Lines: mean of the study, and what the latest check"
                    + " allowed.",
                plain(last.loadKilograms()), last.direction(), verdicts(lines))),
        ORDER,
        new Axis("Mean error of the lot's kits", "g"),
        List.of(series("mean of the lot", lines, line -> line.mean().grams())),
        List.of(
            new Mark("study", study),
            new Mark("lower limit", study - limit),
            new Mark("upper limit", study + limit)));
  }

  private static Chart largest(String id, String level, List<WatchLine> lines) {
    return new Chart(
        new Caption(
            id,
            "Do later lots keep the figure, at level \"" + StudyWords.level(level) + "\"?",
            "Largest error of the lot's kits beside the figure that was held against it: "
                + verdicts(lines)),
        ORDER,
        new Axis("Largest error of the lot's kits", "g"),
        List.of(
            series("largest error of the lot", lines, line -> line.kits().largestGrams()),
            series("figure", lines, WatchLine::figureGrams)),
        List.of());
  }

  private static Series series(
      String name, List<WatchLine> lines, ToDoubleFunction<WatchLine> value) {
    return new Series(
        name,
        Look.DOTTED_LINE,
        IntStream.range(0, lines.size())
            .mapToObj(i -> new Point(i + 1, value.applyAsDouble(lines.get(i))))
            .toList());
  }

  private static String verdicts(List<WatchLine> lines) {
    return lines.stream()
        .map(l -> l.check() + " lot " + l.lot() + " " + l.verdict().key())
        .collect(Collectors.joining("; ", "", "."));
  }
}
