package lotproof.app;

import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import lotproof.claim.LevelClaim;
import lotproof.claim.upkeep.LaterLotCalculator;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.folder.HistoryOutcome;
import lotproof.folder.StudyFolder;
import lotproof.gather.ImportChoices;
import lotproof.gather.LaterLot;
import lotproof.report.OutputSink;
import lotproof.report.assembly.WatchBlocks;
import lotproof.report.assembly.WatchCharts;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.text.OutsideText;
import lotproof.report.words.LaterLotWords;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import lotproof.study.WatchLine;
import lotproof.study.WatchVerdict;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Holds a later lot against the study. */
@Command(
    name = "watch",
    header = "Hold a later lot against the study, and keep the history.",
    description = {
      "FILE holds the readings of a few kits of the later lot in the layout of readings"
          + " (docs/formats.md), with serials of their own. The verdict is \"claim holds\","
          + " \"re-study\" (the lot differs from what was studied) or \"hold the lot\" (it does not"
          + " keep the figure; answers no, 1). Each check becomes lines of watch.csv in the study"
          + " folder. Without FILE the history is shown. --issue writes the present figures into"
          + " claims.csv as a version of the claim; later lots are held against the latest version."
    },
    footer = {
      "  lotproof watch hive-scale lot-C6.csv --lot C6 --date 2026-11-02",
      "  lotproof watch hive-scale lot-C6.csv --lot C6 --date 2026-11-02 --dry-run --json",
      "  lotproof watch hive-scale --issue --who \"Mara Lind\" --date 2026-10-01",
      "  lotproof watch hive-scale",
      "  lotproof watch hive-scale --to hive-scale/reports/watch"
    })
final class WatchCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Parameters(
      index = "1",
      arity = "0..1",
      paramLabel = "FILE",
      description = "readings of the later lot, CSV or .xlsx")
  private @Nullable Path file;

  @Option(names = "--lot", paramLabel = "NAME", description = "what the later lot is called")
  private @Nullable String lot;

  @Option(
      names = "--date",
      paramLabel = "DATE",
      description = "the date of the check or of the issue, such as 2026-11-02")
  private @Nullable String date;

  @Option(
      names = "--serials",
      paramLabel = "RULE",
      description =
          "per-lot: serials start again in every lot, so units are named LOT/SERIAL; unique"
              + " (default) unless study.yaml says per-lot")
  private SerialRule serials = SerialRule.UNIQUE;

  @Option(names = "--dry-run", description = "judge the lot and write nothing")
  private boolean dryRun;

  @Option(
      names = "--accept",
      paramLabel = "CODE",
      split = ",",
      description =
          "check the lot although its readings look wrong in this way, such as SLOPE_DOUBTFUL")
  private List<DataIssue.Code> accepted = List.of();

  @Option(names = "--strict", description = "answer no (1) to \"re-study\" too")
  private boolean strict;

  @Option(names = "--issue", description = "write the present figures as a version of the claim")
  private boolean issue;

  @Option(names = "--who", paramLabel = "NAME", description = "with --issue: who issues the claim")
  private @Nullable String who;

  @Option(
      names = "--to",
      paramLabel = "DIR",
      description = "draw the history there, SVG and PNG, two charts for each calibration level")
  private @Nullable Path to;

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  @ArgGroup(validate = false, heading = "%nHow FILE is to be understood:%n")
  private MappingOptions understanding = new MappingOptions();

  WatchCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    Path readings = file;
    if (issue) {
      if (readings != null || lot != null || dryRun || to != null) {
        throw new UnusableException(
            "--issue takes --who and --date, and none of FILE, --lot and --to");
      }
      return issueClaims();
    }
    if (who != null) {
      throw new UnusableException("--who belongs to --issue");
    }
    if (readings == null) {
      if (lot != null || date != null || dryRun) {
        throw new UnusableException("FILE is missing: the readings of the later lot");
      }
      return showHistory();
    }
    return check(readings);
  }

  private int showHistory() {
    String hash = StudyFolders.open(study).recordHash();
    HistoryOutcome.Known known = history();
    draw(known);
    if (json) {
      io.out()
          .print(
              ResultJson.of(
                  new Messages.Watched(
                      origin(hash, Exit.DONE), List.of(), known.watch(), known.claims())));
      return Exit.DONE;
    }
    if (known.watch().isEmpty() && known.claims().isEmpty()) {
      io.out().println("No later lot was checked and no claim was issued yet.");
    }
    List<Block> blocks = new ArrayList<>();
    if (!known.claims().isEmpty()) {
      blocks.add(WatchBlocks.versions(known.claims()));
      WatchBlocks.changedSince(known.claims(), hash).ifPresent(blocks::add);
    }
    if (!known.watch().isEmpty()) {
      blocks.add(WatchBlocks.history(known.watch()));
    }
    new Screen(io.out(), program.palette()).showBlocks(blocks);
    return Exit.DONE;
  }

  private int issueClaims() {
    String day = day();
    String person = needed(who, "--who", "who issues the claim");
    AnalysedStudy analysed = AnalysedStudy.of(io, study, UnaryOperator.identity());
    List<LevelClaim> claims =
        analysed.result().asDecided().claims().stream()
            .filter(claim -> claim.figure().isPresent())
            .toList();
    if (claims.isEmpty()) {
      throw new UnusableException("the study supports no figure; there is nothing to issue");
    }
    String hash = analysed.contents().recordHash();
    HistoryOutcome.Known known =
        known(
            StudyFolders.existing(study)
                .addClaims(
                    before -> {
                      String version = next("V", before.claims().stream().map(c -> c.version()));
                      return claims.stream()
                          .map(
                              claim ->
                                  new ClaimVersion(
                                      version,
                                      day,
                                      person,
                                      LaterLotCalculator.label(claim),
                                      claim.figure().orElseThrow().safestGrams(),
                                      analysed.result().study().claim().content(),
                                      analysed.result().study().claim().confidence(),
                                      claim.sentence(),
                                      hash))
                          .toList();
                    }));
    if (json) {
      io.out()
          .print(
              ResultJson.of(
                  new Messages.Watched(
                      origin(hash, Exit.DONE), List.of(), known.watch(), known.claims())));
    } else {
      new Screen(io.out(), program.palette())
          .showBlocks(List.of(WatchBlocks.versions(known.claims())));
      Issues.printFirst(analysed.issues(), io.err());
    }
    return Exit.DONE;
  }

  private int check(Path readings) {
    String day = day();
    String name = needed(lot, "--lot", "what the later lot is called");
    HistoryOutcome.Known before = history();
    StudyFolder folder = StudyFolders.existing(study);
    understanding.check();
    LaterLot.Outcome read =
        LaterLot.read(
            StudyFolders.open(study),
            readings,
            Readers.all(),
            new ImportChoices(
                understanding.mapping(folder), Set.copyOf(accepted), Optional.empty()),
            name,
            serials == SerialRule.PER_LOT);
    if (read instanceof LaterLot.Outcome.Refused refused) {
      throw new UnusableException(refused.issues());
    }
    LaterLot.Outcome.Found found = (LaterLot.Outcome.Found) read;
    AnalysedStudy analysed = AnalysedStudy.of(io, study, UnaryOperator.identity());
    LaterLotCalculator.Outcome outcome =
        LaterLotCalculator.of(analysed.result(), found.readings(), promised(before.claims()));
    if (outcome instanceof LaterLotCalculator.Outcome.NotChecked not) {
      List<DataIssue> issues = new ArrayList<>(found.warnings());
      issues.addAll(not.issues());
      issues.add(
          DataIssue.error(
              DataIssue.Code.RUN_INCOMPLETE,
              found.file().name(),
              0,
              "",
              "",
              LaterLotWords.why(analysed.result().study(), not.why())));
      throw new UnusableException(issues);
    }
    LaterLotCheck check = ((LaterLotCalculator.Outcome.Checked) outcome).check();
    String hash = analysed.contents().recordHash();
    boolean again =
        before.watch().stream()
            .anyMatch(
                w -> w.fileHash().equals(found.file().sha256()) && w.studyHash().equals(hash));
    HistoryOutcome.Known after =
        dryRun || again
            ? before
            : known(
                StudyFolders.existing(study)
                    .addWatch(found.file(), lines(check, day, name, found, hash)));
    draw(after);
    int exit = exit(check.verdict());
    if (json) {
      io.out()
          .print(
              ResultJson.of(
                  new Messages.Watched(
                      origin(hash, exit), List.of(check), after.watch(), after.claims())));
    } else {
      print(analysed.result().study(), check, name, after, hash);
      if (again) {
        io.out()
            .println(
                "The same file was held against the same study before; the history is as it was.");
      }
      io.out().flush();
      understanding.save(folder, understanding.mapping(folder)).ifPresent(io.out()::println);
      io.out().flush();
      Issues.printFirst(found.warnings(), io.err());
    }
    return exit;
  }

  private void print(
      Study of, LaterLotCheck check, String name, HistoryOutcome.Known after, String hash) {
    Palette palette = program.palette();
    io.out()
        .println(
            palette.strong("Lot " + OutsideText.clean(name) + ": " + check.verdict().word() + "."));
    List<Block> blocks = new ArrayList<>(WatchBlocks.of(of, check));
    WatchBlocks.changedSince(after.claims(), hash).ifPresent(blocks::add);
    if (!after.watch().isEmpty()) {
      blocks.add(WatchBlocks.history(after.watch()));
    }
    new Screen(io.out(), palette).showBlocks(blocks);
  }

  private void draw(HistoryOutcome.Known known) {
    Path folder = to;
    if (folder == null) {
      return;
    }
    List<Chart> charts = WatchCharts.of(known.watch());
    OutputSink sink = OutputSink.folder(folder);
    charts.forEach(chart -> ChartFilesWriter.write(chart, "", sink));
    if (!json) {
      io.out()
          .println(
              charts.isEmpty()
                  ? "No later lot was checked yet, so nothing was drawn."
                  : OutsideText.clean(charts.size() + " charts are in " + folder + "."));
    }
  }

  private static Function<HistoryOutcome.Known, List<WatchLine>> lines(
      LaterLotCheck check, String day, String name, LaterLot.Outcome.Found found, String hash) {
    return before -> {
      String id = next("W", before.watch().stream().map(WatchLine::check));
      return check.levels().stream()
          .map(
              l ->
                  new WatchLine(
                      id,
                      day,
                      name,
                      check.kits(),
                      l.level(),
                      l.figureGrams(),
                      l.loadKilograms(),
                      l.direction().word(),
                      l.mean().grams(),
                      l.mean().studyGrams(),
                      l.mean().limitGrams(),
                      l.spread().grams(),
                      l.spread().studyGrams(),
                      l.spread().limitGrams(),
                      l.single().largestGrams(),
                      l.single().beyond(),
                      l.verdict(),
                      found.file().name(),
                      found.file().sha256(),
                      hash))
          .toList();
    };
  }

  /** The figures of the latest version, by level. */
  private static Map<String, Double> promised(List<ClaimVersion> versions) {
    Map<String, Double> figures = new LinkedHashMap<>();
    if (!versions.isEmpty()) {
      String last = versions.get(versions.size() - 1).version();
      versions.stream()
          .filter(v -> v.version().equals(last))
          .forEach(v -> figures.put(v.level(), v.figureGrams()));
    }
    return figures;
  }

  private int exit(WatchVerdict verdict) {
    boolean no =
        verdict == WatchVerdict.HOLD_THE_LOT || (strict && verdict == WatchVerdict.RE_STUDY);
    return no ? Exit.NO : Exit.DONE;
  }

  private HistoryOutcome.Known history() {
    return known(StudyFolders.existing(study).history());
  }

  private static HistoryOutcome.Known known(HistoryOutcome outcome) {
    if (outcome instanceof HistoryOutcome.Refused refused) {
      throw new UnusableException(refused.issues());
    }
    return (HistoryOutcome.Known) outcome;
  }

  private Messages.Origin origin(String hash, int exit) {
    return new Messages.Origin(
        "watch",
        LotproofCommand.Version.number(),
        StudyFolders.open(study).study().title(),
        hash,
        exit);
  }

  private String day() {
    String text = needed(date, "--date", "such as 2026-11-02; the program never takes the clock's");
    try {
      return LocalDate.parse(text).toString();
    } catch (DateTimeException e) {
      throw new UnusableException("--date: \"" + text + "\" is not a date; write 2026-11-02");
    }
  }

  private static String needed(@Nullable String value, String option, String what) {
    if (value == null || value.isBlank()) {
      throw new UnusableException(option + " is missing: " + what);
    }
    return value;
  }

  /** The name behind the largest number so far. */
  private static String next(String letter, Stream<String> names) {
    int largest =
        names
            .filter(n -> n.matches(letter + "[0-9]{1,8}"))
            .mapToInt(n -> Integer.parseInt(n.substring(1)))
            .max()
            .orElse(0);
    return letter + (largest + 1);
  }
}
