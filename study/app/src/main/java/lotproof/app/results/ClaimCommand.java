package lotproof.app.results;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.claim.FigureChange;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.draft.DraftCheck;
import lotproof.claim.draft.DraftReport;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.folder.StudyContents;
import lotproof.folder.text.Nearest;
import lotproof.report.model.Block;
import lotproof.report.model.Chart;
import lotproof.report.model.Level;
import lotproof.report.model.Section;
import lotproof.report.text.TextReport;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.DraftWords;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.DataIssue;
import lotproof.study.Study;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** The printable figure at each calibration level, and the verdict on a wanted one. */
@Command(name = "claim")
public final class ClaimCommand extends CliCommand.OnStudy {

  private static final int LONGEST_DRAFT = 100_000;

  @Option(names = "--wanted", paramLabel = "LEVEL=GRAMS")
  private Map<String, Double> wanted = new LinkedHashMap<>();

  @Option(names = "--explain")
  private boolean explain;

  @Option(names = "--level", paramLabel = "LEVEL")
  private String level = "";

  @Option(names = "--details")
  private boolean details;

  @Option(names = "--check", paramLabel = "TEXT|FILE")
  private Optional<String> draft = Optional.empty();

  @Option(names = "--compare", paramLabel = "TERMS")
  private List<String> terms = List.of();

  /**
   * What {@code claim} found; the curves of all runs stand in the full result.
   *
   * @param wording the claims of {@code asDecided} in words
   * @param changes what decisions did to each figure, and whether they took out the extremes
   * @param production tests of every kit that guarantee the figures, as {@code limits} has them
   */
  public record Claim(
      Origin origin,
      double content,
      double confidence,
      List<LevelClaim> asDecided,
      List<ClaimWords.Wording> wording,
      List<LevelClaim> withoutExclusions,
      List<FigureChange> changes,
      ProductionLimits production,
      List<DataIssue> issues,
      List<String> cautions,
      List<String> notCovered)
      implements Message {}

  /**
   * What {@code claim --check} found in a draft.
   *
   * @param instead the sentence that the study supports at that level; empty without a level
   */
  public record Draft(Origin origin, DraftReport report, String instead) implements Message {}

  /**
   * What {@code claim --compare} found.
   *
   * @param asRecorded what the study claims as it is
   */
  public record Compared(
      Origin origin, List<LevelClaim> asRecorded, List<Comparison.Alternative> alternatives)
      implements Message {}

  @Override
  public Integer call() {
    Optional<String> sentence = draft.map(ClaimCommand::draftText);
    if (!terms.isEmpty()) {
      StudyContents contents = open(study);
      return compare(Comparison.of(contents, asked(contents.study()), terms));
    }
    AnalysedStudy analysed = AnalysedStudy.of(io, study, this::asked);
    return sentence.isPresent() ? check(analysed, sentence.get()) : show(analysed);
  }

  private int compare(Comparison comparison) {
    AnalysedStudy analysed = AnalysedStudy.of(io, study, this::asked);
    StudyResult result = analysed.result();
    List<Comparison.Alternative> alternatives =
        io.during("comparing claims on other terms", comparison::alternatives);
    int exit = exit(result.asDecided().claims());
    return answer(
        exit,
        () ->
            new Compared(
                analysed.origin("claim", exit),
                result.asDecided().claims().stream().map(LevelClaim::withoutCurves).toList(),
                alternatives.stream().map(Comparison.Alternative::withoutCurves).toList()),
        () -> io.show(List.of(Comparison.table(result, analysed.report().levels(), alternatives))));
  }

  private int show(AnalysedStudy analysed) {
    StudyResult result = analysed.result();
    int exit = exit(result.asDecided().claims());
    ClaimWords words = new ClaimWords(result);
    return answer(
        exit,
        () ->
            new Claim(
                analysed.origin("claim", exit),
                result.study().claim().content(),
                result.study().claim().confidence(),
                result.asDecided().claims().stream().map(LevelClaim::withoutCurves).toList(),
                result.asDecided().claims().stream().map(words::of).toList(),
                result.comparison().claims(),
                result.changes(),
                ProductionLimits.ofAllLoads(result),
                analysed.issues(),
                ClaimWords.cautions(),
                words.notCovered()),
        () -> print(analysed));
  }

  private void print(AnalysedStudy analysed) {
    List<Level> shown = shown(analysed);
    TextReport text = io.text(details);
    io.print(text.screen(analysed.report(), shown));
    for (Level each : shown) {
      if (details) {
        each.charts().stream()
            .filter(Chart::inRows)
            .forEach(sum -> io.print("\n" + text.rows(sum)));
      }
      List<Section> evidence =
          each.evidence().stream()
              .filter(part -> part.id().startsWith("source") ? explain : details)
              .toList();
      if (!evidence.isEmpty()) {
        io.print("\n" + text.sections(evidence));
      }
    }
    io.say("");
    io.show(
        List.of(
            Block.paragraph(ClaimWords.caution()),
            Block.paragraph(
                "More: --details (claim sentence, sum, remedies), --level LEVEL, --explain (down to"
                    + " file and row). All of it: lotproof report.")));
    io.showFirst(analysed.issues());
  }

  /** The levels that are asked for; of all of them the one that leads. */
  private List<Level> shown(AnalysedStudy analysed) {
    List<Level> levels = analysed.report().levels();
    if (level.isEmpty()) {
      return levels.stream().filter(Level::leading).toList();
    }
    List<LevelClaim> claims = analysed.result().asDecided().claims();
    return IntStream.range(0, levels.size())
        .filter(i -> claims.get(i).level().key().equals(level))
        .mapToObj(levels::get)
        .toList();
  }

  /** The draft itself, or what stands in the file that it names. */
  private static String draftText(String given) {
    String text = given;
    try {
      Path file = Path.of(given);
      if (Files.isRegularFile(file)) {
        text = Files.readString(file);
      }
    } catch (InvalidPathException noFile) {
      text = given;
    } catch (IOException e) {
      throw new UnusableException("--check: " + given + " cannot be read as text in UTF-8");
    }
    refuse(text.isBlank(), "--check: the draft is empty");
    refuse(
        text.length() > LONGEST_DRAFT,
        "--check: the draft has %s characters; give the claim alone, at most %s",
        text.length(),
        LONGEST_DRAFT);
    return text.strip();
  }

  private int check(AnalysedStudy analysed, String text) {
    DraftReport report = DraftCheck.of(analysed.result(), text);
    int exit = report.findings().isEmpty() ? Exit.DONE : Exit.NO;
    DraftWords words = new DraftWords(analysed.result(), report);
    if (json) {
      io.json(new Draft(analysed.origin("claim", exit), report, words.instead()));
      return exit;
    }
    io.say("Draft: " + report.draft());
    io.say("");
    report.findings().forEach(finding -> io.say(words.of(finding)));
    if (report.findings().isEmpty()) {
      io.say("The draft leaves nothing out and overstates nothing that this check knows.");
    } else if (!words.instead().isEmpty()) {
      io.say("");
      io.say("The study supports: " + words.instead());
    }
    return exit;
  }

  private static int exit(List<LevelClaim> claims) {
    boolean refused =
        claims.stream()
            .anyMatch(claim -> claim.wanted().map(verdict -> !verdict.supported()).orElse(false));
    boolean none = claims.stream().allMatch(claim -> claim.figure().isEmpty());
    return refused || none ? Exit.NO : Exit.DONE;
  }

  private Study asked(Study asWritten) {
    mustHaveLevels(asWritten, "--wanted", wanted);
    if (!level.isEmpty()) {
      mustHaveLevels(asWritten, "--level", Map.of(level, 1.0));
    }
    List<LevelRequest> levels = new ArrayList<>();
    for (LevelRequest request : asWritten.claim().levels()) {
      Double grams = wanted.get(request.level().key());
      levels.add(grams == null ? request : request.wanting(grams));
    }
    return asWritten.withClaim(asWritten.claim().withLevels(levels));
  }

  /** Ends the command where a figure is given for a level that the study does not ask for. */
  static void mustHaveLevels(Study study, String option, Map<String, Double> figures) {
    ClaimRequest claim = study.claim();
    List<String> keys = claim.levels().stream().map(request -> request.level().key()).toList();
    figures.forEach(
        (key, grams) -> {
          refuse(
              !keys.contains(key),
              "%s: the study asks for no calibration level \"%s\"; %s",
              option,
              key,
              Nearest.hint(key, keys, "its levels"));
          refuse(
              !(grams > 0 && Double.isFinite(grams)),
              option + ": a figure must be above 0 g, was " + grams);
        });
  }
}
