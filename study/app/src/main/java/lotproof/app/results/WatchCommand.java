package lotproof.app.results;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext.Style;
import lotproof.app.cli.Exit;
import lotproof.app.cli.MappingOptions;
import lotproof.app.cli.Origin;
import lotproof.app.cli.OutputFolder;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.app.cli.UnusableException;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.LaterLotCalculator;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.LotHistory;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.StudyHistory;
import lotproof.gather.ImportChoices;
import lotproof.gather.LaterLot;
import lotproof.gather.tables.Mapping;
import lotproof.report.assembly.WatchBlocks;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.LaterLotWords;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.Result;
import lotproof.study.WatchLine;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Checks a later lot against the study. */
@Command(name = WatchCommand.NAME)
public final class WatchCommand extends CliCommand.OnStudy {
  static final String NAME = "watch";

  @Parameters(index = "1", arity = "0..1", paramLabel = "FILE")
  private @Nullable Path file;

  @Option(names = "--lot", paramLabel = "NAME")
  private @Nullable String lot;

  @Option(names = "--date", paramLabel = "DATE")
  private @Nullable String date;

  @Option(names = "--serials", paramLabel = "RULE")
  private SerialRule serials = SerialRule.UNIQUE;

  @Option(names = "--dry-run")
  private boolean dryRun;

  @Option(names = "--accept", paramLabel = "CODE", split = ",")
  private List<DataIssue.Code> accepted = List.of();

  @Option(names = "--strict")
  private boolean strict;

  @Option(names = "--issue")
  private boolean issue;

  @Option(names = "--who", paramLabel = "NAME")
  private @Nullable String who;

  @Mixin private final OutputFolder output = new OutputFolder();

  private final MappingOptions understanding =
      listed(new MappingOptions("How FILE is to be understood"));

  /**
   * The check of this call, if there was one, and all checks and versions of the claim so far.
   *
   * @param issues what the reader must know about the readings of the lot, or of the study whose
   *     claim is issued
   */
  public record Watched(
      Origin origin,
      List<LaterLotCheck> checked,
      List<WatchLine> history,
      List<ClaimVersion> versions,
      List<DataIssue> issues)
      implements Message {}

  @Override
  public Integer call() {
    if (issue) {
      refuse(
          file != null || lot != null || dryRun || output.asked(),
          "--issue takes --who and --date, and none of FILE, --lot and --to");
      return issueClaims();
    }
    refuse(who != null, "--who belongs to --issue");
    if (file != null) {
      return check(file);
    }
    refuse(lot != null || date != null || dryRun, "FILE is missing: the readings of the later lot");
    return showHistory();
  }

  private int showHistory() {
    StudyContents contents = open(study);
    StudyHistory.Lines known = UnusableException.needed(folder(study).history().read());
    draw(contents, known);
    return answer(
        contents,
        Exit.DONE,
        List.of(),
        known,
        List.of(),
        () -> {
          if (known.watch().isEmpty() && known.claims().isEmpty()) {
            io.say("No later lot was checked and no claim was issued yet.");
          }
          List<Block> blocks = new ArrayList<>();
          if (!known.claims().isEmpty()) {
            blocks.add(WatchBlocks.versions(known.claims()));
          }
          show(blocks, known, contents.recordHash());
        });
  }

  private int answer(
      StudyContents contents,
      int exit,
      List<LaterLotCheck> checked,
      StudyHistory.Lines known,
      List<DataIssue> issues,
      Runnable words) {
    Origin origin = Origin.of("watch", contents, exit);
    return answer(
        exit,
        () -> new Watched(origin, checked, known.watch(), known.claims(), issues),
        () -> {
          words.run();
          io.showFirst(issues);
        });
  }

  /** Shows these blocks and the history. */
  private void show(List<Block> blocks, StudyHistory.Lines known, String hash) {
    WatchBlocks.changedSince(known.claims(), hash).ifPresent(blocks::add);
    if (!known.watch().isEmpty()) {
      blocks.add(WatchBlocks.history(known.watch()));
    }
    io.show(blocks);
  }

  private int issueClaims() {
    String day = day();
    String person = needed(who, "--who", "who issues the claim");
    mustNotPrecede(day, UnusableException.needed(folder(study).history().read()));
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    StudyResult result = analysed.result();
    refuse(
        result.asDecided().claims().stream().allMatch(claim -> claim.figure().isEmpty()),
        "the study supports no figure; there is nothing to issue");
    String hash = analysed.contents().recordHash();
    ClaimWords words = new ClaimWords(result);
    StudyHistory.Lines known =
        UnusableException.needed(
            folder(study)
                .history()
                .addClaims(
                    before ->
                        LotHistory.nextVersion(
                            before.claims(), result, words::sentence, day, person, hash)));
    return answer(
        analysed.contents(),
        Exit.DONE,
        List.of(),
        known,
        analysed.issues(),
        () -> io.show(List.of(WatchBlocks.versions(known.claims()))));
  }

  private int check(Path readings) {
    String day = day();
    String name = needed(lot, "--lot", "what the later lot is called");
    StudyFolder folder = folder(study);
    StudyHistory.Lines before = UnusableException.needed(folder.history().read());
    mustNotPrecede(day, before);
    understanding.check();
    Mapping mapping = understanding.mapping(folder);
    Result<LaterLot> read =
        LaterLot.read(
            open(study),
            readings,
            readers(),
            new ImportChoices(mapping, Set.copyOf(accepted), Optional.empty()),
            name,
            serials == SerialRule.PER_LOT);
    LaterLot found = UnusableException.needed(read);
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    LaterLotCalculator.Outcome.Checked checked = check(analysed, found, read.issues(), before);
    LaterLotCheck check = checked.check();
    List<DataIssue> issues = new ArrayList<>(read.issues());
    issues.addAll(checked.issues());
    String hash = analysed.contents().recordHash();
    boolean again = LotHistory.holds(before.watch(), found.file(), hash);
    StudyHistory.Lines after =
        dryRun || again
            ? before
            : UnusableException.needed(
                folder
                    .history()
                    .addWatch(
                        found.file(),
                        known ->
                            LotHistory.nextCheck(
                                known.watch(), check, day, name, found.file(), hash)));
    draw(analysed.contents(), after);
    boolean no =
        check.verdict() == WatchLine.Verdict.HOLD_THE_LOT
            || (strict && check.verdict() == WatchLine.Verdict.RE_STUDY);
    Optional<String> saved = understanding.save(folder, mapping);
    return answer(
        analysed.contents(),
        no ? Exit.NO : Exit.DONE,
        List.of(check),
        after,
        issues,
        () -> {
          io.say(Style.STRONG, "Lot " + name + ": " + check.verdict().key() + ".", "");
          show(new ArrayList<>(WatchBlocks.of(analysed.result().study(), check)), after, hash);
          if (again) {
            io.say(
                "The same file was checked against the same study before; the history is"
                    + " unchanged.");
          }
          saved.ifPresent(io::say);
        });
  }

  private static LaterLotCalculator.Outcome.Checked check(
      AnalysedStudy analysed, LaterLot found, List<DataIssue> warnings, StudyHistory.Lines before) {
    LaterLotCalculator.Outcome outcome =
        LaterLotCalculator.of(
            analysed.result(), found.readings(), LotHistory.latestFigures(before.claims()));
    if (outcome instanceof LaterLotCalculator.Outcome.Checked checked) {
      return checked;
    }
    LaterLotCalculator.Outcome.NotChecked not = (LaterLotCalculator.Outcome.NotChecked) outcome;
    List<DataIssue> issues = new ArrayList<>(warnings);
    issues.addAll(not.issues());
    issues.add(
        DataIssue.error(
            DataIssue.Code.RUN_INCOMPLETE,
            found.file().name(),
            LaterLotWords.why(analysed.result().study(), not.why())));
    throw new UnusableException(issues);
  }

  private void draw(StudyContents contents, StudyHistory.Lines known) {
    if (!output.asked()) {
      return;
    }
    List<Chart> charts = WatchBlocks.charts(known.watch());
    Path to = output.checked(NAME, study);
    OutputFolder.fill(
        to,
        OutputFolder.Manifest.of(NAME, contents),
        sink -> charts.forEach(chart -> ChartFilesWriter.write(chart, "", sink)));
    if (!json) {
      io.say(
          charts.isEmpty()
              ? "No later lot was checked yet, so nothing was drawn."
              : charts.size() + " charts are in " + to + ".");
    }
  }

  /** The history is kept in the order of its dates: a lot is held against the claim of its time. */
  private static void mustNotPrecede(String day, StudyHistory.Lines before) {
    for (WatchLine line : before.watch()) {
      mustNotPrecede(day, "check " + line.check(), line.date());
    }
    for (ClaimVersion version : before.claims()) {
      mustNotPrecede(day, "version " + version.version() + " of the claim", version.date());
    }
  }

  private static void mustNotPrecede(String day, String entry, String date) {
    refuse(
        day.compareTo(date) < 0,
        "--date %s is before %s of %s; the history is kept in the order of its dates",
        day,
        entry,
        date);
  }

  private String day() {
    String text = needed(date, "--date", "such as 2026-11-02; the program never takes the clock's");
    return time("--date", text).substring(0, 10);
  }
}
