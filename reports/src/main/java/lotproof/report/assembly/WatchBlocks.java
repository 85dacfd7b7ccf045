package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.Numbers;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.words.LaterLotWords;
import lotproof.study.ClaimVersion;
import lotproof.study.Study;
import lotproof.study.WatchLine;

/** A later lot against the study, and the history of such checks, as blocks. */
public final class WatchBlocks {
  private WatchBlocks() {}

  /** What a check found. */
  public static List<Block> of(Study study, LaterLotCheck check) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(levels(check));
    for (LaterLotCheck.LevelCheck level : check.levels()) {
      for (String reason : LaterLotWords.broken(level)) {
        blocks.add(
            new Block.Callout(
                Block.CalloutKind.FINDING, Prose.of("{}: {}", level.level(), reason)));
      }
    }
    blocks.add(power(check));
    LaterLotWords.remarks(study, check)
        .forEach(remark -> blocks.add(new Block.Paragraph(Prose.text(remark))));
    return blocks;
  }

  private static Table levels(LaterLotCheck check) {
    List<Row> rows =
        check.levels().stream()
            .map(
                l ->
                    Row.of(
                        Cell.text(l.level()),
                        Cell.number(l.figureGrams()),
                        Cell.number(l.single().largestGrams()),
                        Cell.text(
                            l.single().beyond() + " (allowed " + l.single().allowedBeyond() + ")"),
                        Cell.number(l.mean().grams()),
                        Cell.number(l.mean().studyGrams()),
                        Cell.number(l.mean().limitGrams()),
                        optional(l.spread().grams()),
                        optional(l.spread().limitGrams()),
                        Cell.text(l.verdict().word())))
            .toList();
    return new Table(
        "lot-check",
        "The later lot against the study",
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.significant("figure", "Figure ±", "g", 4),
            Column.significant("largest", "Largest error", "g", 4),
            Column.text("beyond", CellTexts.capital(check.subject().plural()) + " beyond"),
            Column.significant("mean", "Mean", "g", 4),
            Column.significant("study-mean", "Study's mean", "g", 4),
            Column.significant("mean-limit", "May differ by", "g", 3),
            Column.significant("sd", "Spread", "g", 3),
            Column.significant("sd-limit", "May be up to", "g", 3),
            Column.text("verdict", "Verdict")),
        rows,
        Prose.of(
            "{} {} that share no unit, of {} measured. Mean and spread at the study's worst load of"
                + " the level. A lot like those studied is called anything but \"claim holds\" in"
                + " at most about {} % of checks, over all levels together.",
            Integer.toString(check.kits()),
            check.subject().plural(),
            Integer.toString(check.allKits()),
            Numbers.percent(check.falseAlarmFraction())));
  }

  private static Table power(LaterLotCheck check) {
    return new Table(
        "lot-check-power",
        "What this check would have seen",
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.text("load", "Load"),
            Column.significant("shift", "Shift of the mean", "g", 3),
            Column.decimal("spread", "Spread within the lot, times the study's", "", 2),
            Column.significant("kit", "A single " + check.subject().key() + " off by", "g", 3)),
        check.levels().stream()
            .map(
                l ->
                    Row.of(
                        Cell.text(l.level()),
                        Cell.text(Numbers.plain(l.loadKilograms()) + " kg " + l.direction().word()),
                        Cell.number(l.mean().seenShiftGrams()),
                        optional(l.spread().seenRatio()),
                        Cell.number(l.single().extremeGrams())))
            .toList(),
        Prose.text(
            "Shift and spread that are seen in 80 % of checks with this many; smaller ones mostly"
                + " go unseen, so \"claim holds\" does not say that nothing changed."));
  }

  private static Cell optional(OptionalDouble value) {
    return CellTexts.optional(value, "one kit");
  }

  /** All checks so far. */
  public static Table history(List<WatchLine> lines) {
    return new Table(
        "watch-history",
        "Later lots so far",
        Table.Role.READ,
        List.of(
            Column.text("check", "Check"),
            Column.text("date", "Date"),
            Column.text("lot", "Lot"),
            Column.count("kits", "Kits"),
            Column.text("level", "Calibration level"),
            Column.significant("figure", "Figure ±", "g", 4),
            Column.significant("mean", "Mean", "g", 4),
            Column.significant("largest", "Largest error", "g", 4),
            Column.text("verdict", "Verdict"),
            Column.text("study", "Study")),
        lines.stream()
            .map(
                w ->
                    Row.of(
                        Cell.text(w.check()),
                        Cell.text(w.date()),
                        Cell.text(w.lot()),
                        Cell.number(w.kits()),
                        Cell.text(w.level()),
                        Cell.number(w.figureGrams()),
                        Cell.number(w.meanGrams()),
                        Cell.number(w.largestGrams()),
                        Cell.text(w.verdict().word()),
                        Cell.text(shortHash(w.studyHash()))))
            .toList(),
        Prose.none());
  }

  /** All versions of the claim. */
  public static Table versions(List<ClaimVersion> versions) {
    return new Table(
        "claim-versions",
        "Versions of the claim",
        Table.Role.READ,
        List.of(
            Column.text("version", "Version"),
            Column.text("date", "Date"),
            Column.text("who", "Who"),
            Column.text("level", "Calibration level"),
            Column.significant("figure", "Figure ±", "g", 4),
            Column.fraction("content", "Content", 1),
            Column.fraction("confidence", "Confidence", 1),
            Column.text("study", "Study")),
        versions.stream()
            .map(
                v ->
                    Row.of(
                        Cell.text(v.version()),
                        Cell.text(v.date()),
                        Cell.text(v.who()),
                        Cell.text(v.level()),
                        Cell.number(v.figureGrams()),
                        Cell.number(v.content()),
                        Cell.number(v.confidence()),
                        Cell.text(shortHash(v.studyHash()))))
            .toList(),
        Prose.none());
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
            new Block.Callout(
                Block.CalloutKind.FINDING,
                Prose.of(
                    "The study was changed since version {} of the claim was issued (record {}, now"
                        + " {}). The lot is held against the issued figures and the present study.",
                    last.version(),
                    shortHash(last.studyHash()),
                    shortHash(recordHash))));
  }

  private static String shortHash(String hash) {
    return hash.substring(0, Math.min(12, hash.length()));
  }
}
