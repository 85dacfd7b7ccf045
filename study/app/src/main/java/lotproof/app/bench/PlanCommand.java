package lotproof.app.bench;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.folder.BenchFolder;
import lotproof.folder.StudyFolder;
import lotproof.plan.design.BenchSheet;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Preparation;
import lotproof.plan.design.RunOrder;
import lotproof.plan.design.SideSheets;
import lotproof.plan.rehearse.DesignComparison;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.report.workbook.BenchWorkbook;
import lotproof.study.Assumed;
import lotproof.study.BenchPlan;
import lotproof.study.BenchTimes;
import lotproof.study.Design;
import lotproof.study.Keyed;
import lotproof.study.Study;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Designs a study before anyone touches a screwdriver. */
@Command(name = "plan")
public final class PlanCommand extends CliCommand.WithJson {

  @Parameters(index = "0", arity = "0..1", paramLabel = "STUDY")
  private @Nullable Path study;

  @Mixin private PlanDraft.Options options = new PlanDraft.Options();
  private final PlanAnswers answers = listed(new PlanAnswers(EnumSet.allOf(PlanSetting.class)));
  @Mixin private AssumedSpreadOptions spread = listed(new AssumedSpreadOptions(answers));

  @Option(names = "--ask")
  private boolean ask;

  @Option(names = "--side-sheets")
  private boolean sideSheets;

  /** What {@code plan} assumed, compared, chose and wrote; the seed decides everything random. */
  public record Plan(
      String command,
      String version,
      int exit,
      long seed,
      Assumed.AtLevel assumed,
      BenchTimes times,
      PlannedClaim question,
      DesignComparison comparison,
      String chosen,
      List<String> written)
      implements Message {}

  /** What {@code plan --side-sheets} wrote; the seed decides which kits, and their order. */
  public record SideSheetFiles(
      String command, String version, int exit, long seed, List<String> written)
      implements Message {}

  @Override
  public Integer call() {
    if (sideSheets) {
      return sheetsOfSideTests();
    }
    Optional<StudyFolder> folder = Optional.ofNullable(study).map(StudyFolder::at);
    refuse(
        folder.filter(StudyFolder::holdsStudy).isPresent(),
        study + " holds a study already; name another folder, nothing was written");
    answers.begin(
        io,
        ask || (io.terminal() && !json),
        spread.hasPilot() ? PlanSetting.STUDY : EnumSet.allOf(PlanSetting.class));
    PlanDraft draft = answers.answered(() -> PlanDraft.of(options, spread, answers));
    PlannedClaim question = draft.question();
    DesignComparison comparison = compared(draft, question);
    DesignKind chosen = chosen(comparison);
    Optional<Design.ReferencePartners> partners = partners(chosen);
    Layout layout =
        partners
            .map(it -> checked(() -> Layout.onReferences(draft.described().units(), it)))
            .orElseGet(() -> Layout.of(chosen, draft.described().units(), options.seed));
    BenchPlan plan =
        new BenchPlan(
            chosen.key() + ": " + chosen.words(),
            draft.times(),
            draft.assumed(),
            RunOrder.of(layout, draft.times(), options.seed));
    Study planned = draft.described().withDesign(design(draft, chosen, partners, plan));
    List<String> written = folder.map(it -> write(it, planned, plan)).orElse(List.of());
    return answer(
        Exit.DONE,
        () ->
            new Plan(
                "plan",
                Origin.programVersion(),
                Exit.DONE,
                options.seed,
                draft.spread(),
                draft.times(),
                question,
                comparison,
                chosen.key(),
                written),
        () -> new PlanScreen(io).show(comparison, chosen, draft, plan, written, study));
  }

  private static Design design(
      PlanDraft draft,
      DesignKind chosen,
      Optional<Design.ReferencePartners> partners,
      BenchPlan plan) {
    Design described = draft.described().design();
    return new Design(
        chosen.inStudy(),
        described.loadsKilograms(),
        plan.pairs(),
        partners,
        described.sideTests(),
        partners.isPresent() ? Design.Pairing.NOT_STATED : Design.Pairing.RANDOM);
  }

  private DesignComparison compared(PlanDraft draft, PlannedClaim question) {
    DesignComparison.Start start =
        new DesignComparison.Start(
            draft.described().units(),
            draft.spread(),
            question,
            draft.times(),
            options.mostHours,
            options.seed,
            Runtime.getRuntime().availableProcessors());
    return checked(
        () ->
            io.counted(
                "comparing designs",
                DesignComparison.work(),
                done -> DesignComparison.of(start, done)));
  }

  private DesignKind chosen(DesignComparison comparison) {
    String wanted = options.design;
    if (wanted == null) {
      return comparison.advice().design();
    }
    return Keyed.of(DesignKind.values(), wanted)
        .orElseThrow(
            () ->
                new UnusableException(
                    "there is no design \"%s\"; there are %s",
                    wanted,
                    String.join(
                        ", ", comparison.designs().stream().map(d -> d.design().key()).toList())));
  }

  private Optional<Design.ReferencePartners> partners(DesignKind chosen) {
    String given = options.reference;
    boolean wanted = chosen == DesignKind.REFERENCE_PARTNER;
    refuse(
        !wanted && (given != null || options.dummyBridge),
        "--reference and --dummy-bridge go with --design reference-partner");
    if (!wanted) {
      return Optional.empty();
    } else if (given == null) {
      throw new UnusableException(
          "--design reference-partner needs --reference CELL/BOARD: the cell that all boards meet"
              + " and the board that all cells meet");
    }
    Study.CheckStandard pair = PlanAnswers.read("--reference", given, PlanDraft::pair);
    return Optional.of(
        new Design.ReferencePartners(pair.cell(), pair.board(), options.dummyBridge));
  }

  /** The bench first and study.yaml last: a folder with a study is whole. */
  private List<String> write(StudyFolder folder, Study study, BenchPlan plan) {
    Map<String, byte[]> files = new LinkedHashMap<>();
    for (BenchSheet sheet : BenchSheet.of(study, plan)) {
      put(files, study, sheet);
    }
    files.putAll(sideSheets(study));
    files.put("preparation.txt", Preparation.text(study, plan).getBytes(StandardCharsets.UTF_8));
    files.put(BenchFolder.PLAN, BenchFolder.bytes(plan));
    List<String> written = putBench(folder, files);
    UnusableException.refuse(folder.create(study));
    written.add("study.yaml");
    return written;
  }

  private Map<String, byte[]> sideSheets(Study study) {
    Map<String, byte[]> files = new LinkedHashMap<>();
    checked(() -> SideSheets.of(study, options.sideKits, options.seed))
        .forEach(side -> put(files, study, side));
    return files;
  }

  private static void put(Map<String, byte[]> files, Study study, BenchSheet sheet) {
    files.put(sheet.fileName() + ".xlsx", BenchWorkbook.of(study, sheet));
    files.put(sheet.fileName() + ".csv", sheet.csv().getBytes(StandardCharsets.UTF_8));
  }

  private static List<String> putBench(StudyFolder folder, Map<String, byte[]> files) {
    List<String> written = new ArrayList<>();
    files.forEach(
        (name, content) -> {
          UnusableException.refuse(folder.bench().put(name, content));
          written.add(BenchFolder.NAME + "/" + name);
        });
    return written;
  }

  /** The sheets of side tests of a study that stands already. */
  private int sheetsOfSideTests() {
    Path root = study;
    if (root == null) {
      throw new UnusableException("--side-sheets needs STUDY, the folder of the study");
    }
    Study known = open(root).study();
    refuse(
        known.design().sideTests().isEmpty(),
        "study.yaml names no side test; put them into design.side-tests (docs/formats.md)");
    List<String> written = putBench(StudyFolder.at(root), sideSheets(known));
    return answer(
        Exit.DONE,
        () -> new SideSheetFiles("plan", Origin.programVersion(), Exit.DONE, options.seed, written),
        () -> {
          io.say("Written to " + root + ": " + String.join(", ", written) + ".");
          io.say("Each workbook has its preparation beside the readings; read it first.");
        });
  }
}
