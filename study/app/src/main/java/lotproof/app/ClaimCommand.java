package lotproof.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import lotproof.claim.DraftCheck;
import lotproof.claim.DraftFinding;
import lotproof.claim.DraftReport;
import lotproof.claim.LevelClaim;
import lotproof.folder.text.Nearest;
import lotproof.report.data.ResultJson;
import lotproof.report.model.ExplanationTree;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Study;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** The safest figure at each calibration level, and the verdict on a wanted one. */
@Command(
    name = "claim",
    header = "Say which figure the study supports at each calibration level.",
    description = {
      "Prints the safest figure with and without the decided exclusions, the claim sentence with"
          + " its conditions, and the verdict on each wanted figure. Answers no (1) when a wanted"
          + " figure is not supported or when there is no figure at all."
    },
    footer = {
      "  lotproof claim hive-scale",
      "  lotproof claim hive-scale --wanted one-point=40 --wanted two-point=15",
      "  lotproof claim hive-scale --details",
      "  lotproof claim hive-scale --check \"Accurate to 30 g, guaranteed.\"",
      "  lotproof claim hive-scale --explain"
    })
final class ClaimCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Option(
      names = "--wanted",
      paramLabel = "LEVEL=GRAMS",
      description = "judge this figure instead of the one in study.yaml; may be repeated")
  private Map<String, Double> wanted = new LinkedHashMap<>();

  @Option(
      names = "--explain",
      description = "show what each figure is made of, down to file and row")
  private boolean explain;

  @Option(
      names = "--details",
      description =
          "show what each contributor costs, other contents and confidences, units that carry the"
              + " figure, and words for print")
  private boolean details;

  @Option(
      names = "--check",
      paramLabel = "TEXT|FILE",
      description =
          "check a draft sentence: what it fails to state and what it overstates; a file with the"
              + " sentence may be named instead")
  private Optional<String> draft = Optional.empty();

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  ClaimCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    Optional<String> sentence = draft.map(ClaimCommand::draftText);
    AnalysedStudy analysed = AnalysedStudy.of(io, study, this::asked);
    if (sentence.isPresent()) {
      return check(analysed, sentence.get());
    }
    int exit = exit(analysed.result().asDecided().claims());
    if (json) {
      io.out().print(ResultJson.of(Messages.Claim.of(analysed, exit)));
    } else {
      new Screen(io.out(), program.palette())
          .show(
              analysed.only(
                  block -> explain || !(block instanceof ExplanationTree),
                  details ? new String[] {"figure", "figure-detail"} : new String[] {"figure"}));
      io.out().println();
      analysed.result().cautions().forEach(io.out()::println);
      io.out().flush();
      Issues.printFirst(analysed.issues(), io.err());
    }
    return exit;
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
    if (text.isBlank()) {
      throw new UnusableException("--check: the draft is empty");
    }
    return text.strip();
  }

  private int check(AnalysedStudy analysed, String text) {
    DraftReport report = DraftCheck.of(analysed.result(), text);
    int exit = report.findings().isEmpty() ? Exit.DONE : Exit.NO;
    if (json) {
      io.out().print(ResultJson.of(Messages.Draft.of(analysed, report, exit)));
      io.out().flush();
      return exit;
    }
    io.out().println("Draft: " + report.draft());
    io.out().println();
    for (DraftFinding finding : report.findings()) {
      io.out().println(finding.kind().word() + ", " + finding.about() + ": " + finding.message());
    }
    if (report.findings().isEmpty()) {
      io.out().println("Nothing was found that the draft leaves out or overstates.");
    } else if (!report.instead().isEmpty()) {
      io.out().println();
      io.out().println("The study supports: " + report.instead());
    }
    io.out().flush();
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
    ClaimRequest claim = asWritten.claim();
    List<String> keys = claim.levels().stream().map(request -> request.level().key()).toList();
    for (Map.Entry<String, Double> entry : wanted.entrySet()) {
      if (!keys.contains(entry.getKey())) {
        throw new UnusableException(
            "--wanted: the study asks for no calibration level \""
                + entry.getKey()
                + "\"; "
                + Nearest.hint(entry.getKey(), keys, "its levels"));
      }
      if (!(entry.getValue() > 0 && Double.isFinite(entry.getValue()))) {
        throw new UnusableException(
            "--wanted: a figure must be above 0 g, was " + entry.getValue());
      }
    }
    List<LevelRequest> levels = new ArrayList<>();
    for (LevelRequest request : claim.levels()) {
      Double grams = wanted.get(request.level().key());
      levels.add(grams == null ? request : request.wanting(grams));
    }
    return asWritten.withClaim(claim.withLevels(levels));
  }
}
