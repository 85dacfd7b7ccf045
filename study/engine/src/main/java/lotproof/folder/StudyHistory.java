package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import lotproof.study.WatchLine;

/**
 * What was made of a study over time: the checks of later lots and the versions of the claim. It
 * enters no figure.
 */
public final class StudyHistory {
  private static final RecordFile<WatchLine> WATCH =
      new RecordFile<>(
          "watch.csv",
          List.of(
              "check",
              "date",
              "lot",
              "kits",
              "level",
              "figure [g]",
              "load [kg]",
              "direction",
              "mean [g]",
              "study mean [g]",
              "mean limit [g]",
              "sd [g]",
              "study sd [g]",
              "sd limit [g]",
              "largest [g]",
              "beyond figure",
              "verdict",
              "file",
              "file hash",
              "study hash"),
          StudyHistory::fields,
          StudyHistory::watchLine);
  private static final RecordFile<ClaimVersion> CLAIMS =
      new RecordFile<>(
          "claims.csv",
          List.of(
              "version",
              "date",
              "who",
              "level",
              "figure [g]",
              "content",
              "confidence",
              "sentence",
              "study hash"),
          v ->
              List.of(
                  v.version(),
                  v.date(),
                  v.who(),
                  v.level(),
                  plain(v.figureGrams()),
                  plain(v.content()),
                  plain(v.confidence()),
                  v.sentence(),
                  v.studyHash()),
          line ->
              new ClaimVersion(
                  line.text("version"),
                  line.text("date"),
                  line.text("who"),
                  line.text("level"),
                  line.number("figure [g]"),
                  line.number("content"),
                  line.number("confidence"),
                  line.text("sentence"),
                  line.text("study hash")));

  private final StudyFiles files;

  StudyHistory(StudyFiles files) {
    this.files = files;
  }

  /**
   * The history at one moment.
   *
   * @param watch checks of later lots, in the order in which they were made
   * @param claims versions of the claim, in the order in which they were issued
   */
  public record Lines(List<WatchLine> watch, List<ClaimVersion> claims) {
    public Lines {
      watch = List.copyOf(watch);
      claims = List.copyOf(claims);
    }
  }

  /** The history as it is now. */
  public Result<Lines> read() {
    try {
      List<DataIssue> issues = new ArrayList<>();
      List<WatchLine> watch = WATCH.read(files.bytesOrNone(WATCH.name()), issues);
      List<ClaimVersion> claims = CLAIMS.read(files.bytesOrNone(CLAIMS.name()), issues);
      return Result.of(new Lines(watch, claims), issues);
    } catch (IOException e) {
      return Result.refused(StudyFiles.unreadable(e));
    }
  }

  /**
   * Adds the check of a later lot, and keeps the original of its readings first.
   *
   * @param file the file of readings
   * @param lines makes the lines, given the history; called while other writers are kept out
   * @return the history with them
   */
  public Result<Lines> addWatch(ReceivedFile file, Function<Lines, List<WatchLine>> lines) {
    return add(
        WATCH,
        known -> {
          files.keep(file);
          return lines.apply(known);
        });
  }

  /** Adds a version of the claim; gives the history with it. */
  public Result<Lines> addClaims(Function<Lines, List<ClaimVersion>> lines) {
    return add(CLAIMS, lines::apply);
  }

  private interface Maker<T> {
    List<T> after(Lines known) throws IOException;
  }

  private <T> Result<Lines> add(RecordFile<T> file, Maker<T> lines) {
    return files.write(
        file.name(),
        () -> {
          Result<Lines> before = read();
          if (before.isRefused()) {
            return before;
          }
          byte[] old = files.bytesOrNone(file.name());
          byte[] added = file.append(old, lines.after(before.get()));
          List<DataIssue> issues = new ArrayList<>();
          file.read(added, issues);
          if (!issues.isEmpty()) {
            return Result.refused(issues);
          }
          files.put(file.name(), added);
          return read();
        });
  }

  private static List<String> fields(WatchLine w) {
    return List.of(
        w.check(),
        w.date(),
        w.lot(),
        Integer.toString(w.kits().measured()),
        w.level(),
        plain(w.figureGrams()),
        plain(w.loadKilograms()),
        w.direction(),
        plain(w.mean().grams()),
        plain(w.mean().studyGrams()),
        plain(w.mean().limitGrams()),
        plain(w.spread().grams()),
        plain(w.spread().studyGrams()),
        plain(w.spread().limitGrams()),
        plain(w.kits().largestGrams()),
        Integer.toString(w.kits().beyond()),
        w.verdict().key(),
        w.source().file(),
        w.source().fileHash(),
        w.source().studyHash());
  }

  private static WatchLine watchLine(RecordLine line) {
    return new WatchLine(
        line.text("check"),
        line.text("date"),
        line.text("lot"),
        new WatchLine.Kits(
            line.count("kits", 1), line.number("largest [g]"), line.count("beyond figure", 0)),
        line.text("level"),
        line.number("figure [g]"),
        line.number("load [kg]"),
        line.text("direction"),
        new WatchLine.Mean(
            line.number("mean [g]"), line.number("study mean [g]"), line.number("mean limit [g]")),
        new WatchLine.Spread(
            line.optionalNumber("sd [g]"),
            line.number("study sd [g]"),
            line.optionalNumber("sd limit [g]")),
        line.word(
            "verdict", WatchLine.Verdict.values(), WatchLine.Verdict::key, Code.RECORD_DAMAGED),
        new WatchLine.Source(line.text("file"), line.text("file hash"), line.text("study hash")));
  }
}
