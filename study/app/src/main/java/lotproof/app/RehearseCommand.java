package lotproof.app;

import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.concurrent.Callable;
import lotproof.claim.GuardBands;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.StudyAnalysis;
import lotproof.folder.BenchPlanFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.plan.design.Layout;
import lotproof.plan.design.UnitsAtHand;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.plan.rehearse.Rehearsal;
import lotproof.plan.rehearse.RehearsalResult;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Table.Column;
import lotproof.spread.Role;
import lotproof.study.AssumedSpread;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Study;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Carries the planned study out on paper, many times. */
@Command(
    name = "rehearse",
    header = RehearseCommand.HEADER,
    description = {
      "Draws the units of the plan anew each time, takes the error of reading at the worst load of"
          + " every planned run, and forms the figure as claim does at that load. What is taken to be"
          + " true comes from the options; else from the record, when there are readings; else from"
          + " the plan."
    },
    footer = {
      "  lotproof rehearse hive-scale",
      "  lotproof rehearse hive-scale --level none --wanted 600 --times 20000",
      "  lotproof rehearse hive-scale --cell-sd 240 --board-sd 90 --repeat-sd 10"
    })
final class RehearseCommand implements Callable<Integer> {
  static final String HEADER =
      "Rehearse the planned study: how often would it support the figure, or be wrong?";

  private static final int MOST_TIMES = 10_000_000;

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Option(names = "--times", paramLabel = "N", description = "rehearsals (default 10000)")
  private int times = 10_000;

  @Option(
      names = "--level",
      paramLabel = "KEY",
      description = "calibration level of the study (default: its first)")
  private String level = "";

  @Option(names = "--wanted", paramLabel = "G", description = "another wanted figure, grams")
  private @Nullable Double wanted;

  @Option(names = "--seed", description = "decides all draws (default: the study's seed)")
  private @Nullable Long seed;

  @Option(
      names = "--threads",
      paramLabel = "N",
      description = "how many work at once (default: all)")
  private int threads = Runtime.getRuntime().availableProcessors();

  @Mixin private SpreadOptionsOfPlan spread = new SpreadOptionsOfPlan();

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  RehearseCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    if (!(times >= 1 && times <= MOST_TIMES) || threads < 1) {
      throw new UnusableException(
          "--times lies between 1 and " + MOST_TIMES + ", and --threads is 1 or more");
    }
    StudyContents contents = StudyFolders.open(study);
    Study it = contents.study();
    if (!(it.claim().form() instanceof ClaimForm.Symmetric)) {
      throw new UnusableException(
          "the study asks for a figure of the form \""
              + it.claim().form().key()
              + "\"; only ± the same grams at all loads can be rehearsed");
    }
    if (it.design().reference().isPresent()) {
      throw new UnusableException(
          "a study on reference partners tests no kit, and only kits can be rehearsed");
    }
    LevelRequest request = request(it);
    UnitsAtHand units = units(it);
    Layout layout = new Layout(units, PlanDraft.meetings(it, units));
    AssumedSpread assumed = assumed(contents, request);
    PlannedClaim question = question(it, request);
    long used = OptionalLong.of(seed == null ? it.seed() : seed).getAsLong();
    Rehearsal.Options options = new Rehearsal.Options(times, used, threads);
    Rehearsal.Outcome outcome =
        new Progress(io)
            .counted(
                "rehearsing",
                times,
                done -> Rehearsal.of(layout, assumed, question, options, done));
    if (outcome instanceof Rehearsal.Outcome.Not not) {
      throw new UnusableException("the planned study supports no figure: " + not.reason());
    }
    RehearsalResult result = ((Rehearsal.Outcome.Rehearsed) outcome).result();
    Messages.Origin origin =
        new Messages.Origin(
            "rehearse",
            LotproofCommand.Version.number(),
            it.title(),
            contents.recordHash(),
            Exit.DONE);
    if (json) {
      io.out()
          .print(
              ResultJson.of(
                  new Messages.Rehearsed(
                      origin,
                      request.level().key(),
                      layout.meetings().size(),
                      used,
                      assumed,
                      question,
                      result)));
    } else {
      print(it, request, layout, assumed, question, result);
    }
    return Exit.DONE;
  }

  private LevelRequest request(Study it) {
    List<String> keys = it.claim().levels().stream().map(r -> r.level().key()).toList();
    if (it.claim().levels().isEmpty()) {
      throw new UnusableException("the study asks for no claim, so there is nothing to rehearse");
    }
    if (level.isEmpty()) {
      return it.claim().levels().get(0);
    }
    return it.claim().levels().stream()
        .filter(r -> r.level().key().equals(level))
        .findFirst()
        .orElseThrow(
            () ->
                new UnusableException(
                    "the study has no level \"" + level + "\"; it has " + String.join(", ", keys)));
  }

  private static UnitsAtHand units(Study it) {
    if (it.design().pairs().isEmpty()) {
      throw new UnusableException(
          "study.yaml lists no planned pairs, so there is no plan to rehearse");
    }
    try {
      return new UnitsAtHand(it.cellLots(), it.boardLots());
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "too few units"));
    }
  }

  private AssumedSpread assumed(StudyContents contents, LevelRequest request) {
    if (spread.complete()) {
      return spread.assumed(Optional.empty());
    }
    Optional<AssumedSpread> known =
        contents.readings().isEmpty() ? Optional.empty() : ofRecord(contents, request);
    if (known.isEmpty()) {
      BenchPlanFile.Outcome plan = StudyFolder.at(study).benchPlan();
      if (plan instanceof BenchPlanFile.Outcome.Refused refused) {
        throw new UnusableException(List.of(refused.issue()));
      }
      if (plan instanceof BenchPlanFile.Outcome.Planned planned) {
        known = Optional.of(planned.plan().assumed());
      }
    }
    return spread.assumed(known);
  }

  private Optional<AssumedSpread> ofRecord(StudyContents contents, LevelRequest request) {
    Study it = contents.study();
    StudyAnalysis analysis =
        new StudyAnalysis(it.withClaim(it.claim().withLevels(List.of(request))));
    for (LevelClaim claim : analysis.figures(contents.readings(), contents.decisions())) {
      if (claim.outcome() instanceof LevelOutcome.Figure figure) {
        LevelOutcome.PointLimit worst = figure.points().get(figure.worstPoint());
        Map<Role, Double> variances = new EnumMap<>(Role.class);
        worst
            .contributions()
            .forEach(
                c ->
                    variances.put(
                        c.role(), c.standardDeviationGrams() * c.standardDeviationGrams()));
        return Optional.of(
            SpreadOptionsOfPlan.ofVariances(
                String.format(
                    Locale.ROOT,
                    "the record's estimates at %s kg %s",
                    worst.loadKilograms(),
                    worst.direction().word()),
                worst.meanGrams(),
                variances));
      }
    }
    return Optional.empty();
  }

  private PlannedClaim question(Study it, LevelRequest request) {
    GuardBands guards =
        GuardBands.ofMasses(it, request.level())
            .orElseThrow(
                () ->
                    new UnusableException(
                        "OIML R 111 has no limit of error for the masses and classes of the"
                            + " study"));
    OptionalDouble figure = wanted == null ? request.wantedGrams() : OptionalDouble.of(wanted);
    try {
      return new PlannedClaim(
          it.claim().content(),
          it.claim().confidence(),
          guards.benchGrams() + guards.buyerGrams(),
          it.claim().roundingGrams(),
          figure);
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong figure"));
    }
  }

  private void print(
      Study it,
      LevelRequest request,
      Layout layout,
      AssumedSpread a,
      PlannedClaim question,
      RehearsalResult result) {
    Palette palette = program.palette();
    io.out()
        .println(
            palette.strong(lotproof.report.text.OutsideText.clean(it.title()))
                + text(
                    ": %d rehearsals of %d runs, %s.",
                    result.times(), layout.meetings().size(), request.level().description()));
    io.out()
        .println(
            text(
                "Taken to be true (%s): %s. %s %% of kits are then within ±%s g.",
                a.origin(),
                PlanScreen.words(a),
                PlanScreen.number(100 * question.content()),
                PlanScreen.number(result.trueFigureGrams())));
    new Screen(io.out(), palette)
        .showIfAny(
            Screen.table(
                "safest",
                "The safest figure, masses ("
                    + PlanScreen.number(question.guardGrams())
                    + " g) included",
                List.of(
                    Column.fraction("share", "Share of studies at or below", 0),
                    Column.decimal("grams", "Figure", "g", 1)),
                result.safest().stream()
                    .map(
                        q ->
                            lotproof.report.model.Table.Row.of(
                                lotproof.report.model.Cell.number(q.fraction()),
                                lotproof.report.model.Cell.number(q.grams())))
                    .toList()));
    io.out().println();
    io.out()
        .println(
            text(
                "The safest figure holds for the asked content in %.1f %% of studies (asked:"
                    + " %.4g %%).",
                100 * result.holdsFraction(), 100 * question.confidence()));
    result.wanted().ifPresent(w -> io.out().println(wantedWords(w, question)));
    if (result.withoutFigure() > 0) {
      io.out().println(result.withoutFigure() + " studies gave no figure at all.");
    }
    io.out()
        .println(
            "Not rehearsed: the bound over all loads together, missing runs, and shapes other than normal.");
    io.out().flush();
  }

  private static String wantedWords(RehearsalResult.Wanted w, PlannedClaim question) {
    boolean truly = w.trueContent() >= question.content();
    return text(
        "±%.4g g really holds for %.2f %% of kits%s. It would be supported in %.1f %% of studies"
            + " (± %.1f %%), wrongly in %.2f %%.",
        w.grams(),
        100 * w.trueContent(),
        truly ? "" : ", less than asked",
        100 * w.supportedFraction(),
        200 * w.standardError(),
        100 * w.wronglyFraction());
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
