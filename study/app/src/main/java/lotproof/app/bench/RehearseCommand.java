package lotproof.app.bench;

import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.words.Numbers.digits;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext.Style;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.claim.EstimatedCurves;
import lotproof.claim.StudyAnalysis;
import lotproof.folder.StudyContents;
import lotproof.model.PooledSpread;
import lotproof.plan.design.Layout;
import lotproof.plan.rehearse.AssumedCurves;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.plan.rehearse.Rehearsal;
import lotproof.plan.rehearse.RehearsalResult;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.StudyWords;
import lotproof.study.Assumed;
import lotproof.study.BenchPlan;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Study;
import lotproof.study.Units;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Carries the planned study out on paper, many times. */
@Command(name = "rehearse")
public final class RehearseCommand extends CliCommand.OnStudy {

  private static final int MOST_TIMES = 10_000_000;

  @Option(names = "--times", paramLabel = "N")
  private int times = 10_000;

  @Option(names = "--level", paramLabel = "KEY")
  private String level = "";

  @Option(names = "--wanted", paramLabel = "G")
  private OptionalDouble wanted = OptionalDouble.empty();

  @Option(names = "--seed")
  private @Nullable Long seed;

  @Option(names = "--threads", paramLabel = "N")
  private int threads = Runtime.getRuntime().availableProcessors();

  @Mixin
  private AssumedSpreadOptions spread =
      listed(new AssumedSpreadOptions(listed(new PlanAnswers(PlanSetting.SPREAD))));

  /**
   * How a planned study would end.
   *
   * @param assumed what was taken to be true at the worst load
   * @param points loads of a run that were rehearsed, rising and falling apart; 1 where the others
   *     were taken to follow the worst
   */
  public record Rehearsed(
      Origin origin,
      String level,
      int runs,
      long seed,
      Assumed.AtLevel assumed,
      int points,
      PlannedClaim question,
      RehearsalResult result)
      implements Message {}

  /**
   * Why a level is not rehearsed: nobody said how kits spread at it.
   *
   * @param known what the plan assumed, of another level or of none that it names; absent where it
   *     assumed nothing
   */
  public record SpreadNotKnown(
      Origin origin, String level, Optional<Assumed.AtLevel> known, List<String> needed)
      implements Message {}

  /** Any one of these makes the spread of a level known. */
  private static final List<String> NEEDED =
      List.of("--cell-sd, --board-sd and --repeat-sd", "--pilot", "readings");

  /** What a rehearsal takes to be true; guard bands are known from a record alone. */
  private record Truth(
      Assumed assumed, AssumedCurves curves, Assumed.AtLevel atWorst, OptionalDouble guardGrams) {}

  @Override
  public Integer call() {
    refuse(
        !(times >= 1 && times <= MOST_TIMES) || threads < 1,
        "--times lies between 1 and " + MOST_TIMES + ", and --threads is 1 or more");
    StudyContents contents = open(study);
    Study it = contents.study();
    mustBeRehearsable(it);
    LevelRequest request = request(it);
    Optional<Truth> known = truth(contents, request);
    return known.isPresent()
        ? rehearse(contents, request, known.get())
        : notKnown(contents, request.level());
  }

  private int notKnown(StudyContents contents, CalibrationLevel level) {
    Optional<Assumed.AtLevel> planned =
        benchPlan(folder(study))
            .map(BenchPlan::assumed)
            .filter(Assumed.AtLevel.class::isInstance)
            .map(Assumed.AtLevel.class::cast);
    return answer(
        Exit.NO,
        () ->
            new SpreadNotKnown(
                Origin.of("rehearse", contents, Exit.NO), level.label(), planned, NEEDED),
        () -> {
          io.say(
              Style.STRONG,
              contents.study().title(),
              ": how kits spread at level %s is not known, so it is not rehearsed."
                  .formatted(StudyWords.level(level.label())));
          planned.ifPresent(
              other ->
                  io.sayf(
                      "The plan assumed a spread %s. A calibration takes out the error of the span,"
                          + " so the spread at one level says nothing of another.",
                      other.level().isEmpty()
                          ? "and does not say at which level, and study.yaml names several"
                          : "at level " + StudyWords.level(other.level())));
          io.sayf(
              "Needed: the spread at level %s in grams at the worst load, or as a data sheet says"
                  + " it (--cell-sd, --board-sd and --repeat-sd), a pilot's errors at that level"
                  + " (--pilot), or readings.",
              StudyWords.level(level.label()));
        });
  }

  private int rehearse(StudyContents contents, LevelRequest request, Truth truth) {
    Study it = contents.study();
    Units own = checked(() -> it.units().twoOrMore());
    Units units = checked(() -> it.design().reference().map(own::with).orElse(own));
    PlannedClaim question = PlanDraft.question(it, request, truth.guardGrams);
    Rehearsal.Planned planned =
        new Rehearsal.Planned(
            Layout.of(units, it.design().pairs()), it.design().reference(), truth.curves, question);
    long used = seed == null ? it.seed() : seed;
    Rehearsal.Options options = new Rehearsal.Options(times, used, threads);
    Rehearsal.Outcome outcome =
        io.counted("rehearsing", times, done -> Rehearsal.of(planned, options, done));
    if (outcome instanceof Rehearsal.Outcome.Not not) {
      throw new UnusableException("the planned study supports no figure: " + not.reason());
    }
    Rehearsed rehearsed =
        new Rehearsed(
            Origin.of("rehearse", contents, Exit.DONE),
            request.level().key(),
            planned.layout().meetings().size(),
            used,
            truth.atWorst,
            truth.curves.points(),
            question,
            ((Rehearsal.Outcome.Rehearsed) outcome).result());
    return answer(
        Exit.DONE,
        () -> rehearsed,
        () -> {
          io.say(
              Style.STRONG,
              it.title(),
              ": %s rehearsals of %s runs, %s."
                  .formatted(times, rehearsed.runs, request.level().description()));
          print(rehearsed, truth);
        });
  }

  private static void mustBeRehearsable(Study it) {
    ClaimRequest claim = it.claim();
    refuse(
        !(claim.form() instanceof ClaimForm.Symmetric),
        "the study asks for a figure of the form \"%s\"; only ± the same grams at all loads can be"
            + " rehearsed",
        claim.form().key());
    refuse(
        claim.subject() != ClaimRequest.Subject.KIT,
        "the study claims for a %s alone; only kits can be rehearsed",
        claim.subject().key());
    refuse(
        claim.assumedLotRatio().isPresent(),
        "the study declares how far lots spread without measuring it; what was not drawn cannot be"
            + " rehearsed");
    refuse(
        claim.levels().isEmpty(), "the study asks for no claim, so there is nothing to rehearse");
    refuse(
        it.design().pairs().isEmpty(),
        "study.yaml lists no planned pairs, so there is no plan to rehearse");
  }

  private LevelRequest request(Study it) {
    List<LevelRequest> levels = it.claim().levels();
    LevelRequest request =
        levels.stream()
            .filter(r -> level.isEmpty() || r.level().key().equals(level))
            .findFirst()
            .orElseThrow(
                () ->
                    new UnusableException(
                        "the study has no level \"%s\"; it has %s",
                        level,
                        String.join(", ", levels.stream().map(r -> r.level().key()).toList())));
    return wanted.isEmpty() ? request : checked(() -> request.wanting(wanted.getAsDouble()));
  }

  /** From the options; else from the record; else from the plan, if it is of this level. */
  private Optional<Truth> truth(StudyContents contents, LevelRequest request) {
    Optional<EstimatedCurves> recorded =
        spread.complete() || contents.readings().isEmpty()
            ? Optional.empty()
            : new StudyAnalysis(contents.study())
                .curves(contents.readings(), contents.decisions(), request);
    OptionalDouble guard =
        recorded.map(it -> OptionalDouble.of(it.guardGrams())).orElse(OptionalDouble.empty());
    Optional<Assumed.AtLevel> atWorst = recorded.map(found -> atWorst(found, request.level()));
    if (recorded.isPresent() && !spread.isSaid() && recorded.get().covariances().isPresent()) {
      EstimatedCurves found = recorded.get();
      AssumedCurves curves = new AssumedCurves(found.means(), found.covariances().orElseThrow());
      Assumed.AtLevel worst = atWorst.orElseThrow();
      return Optional.of(new Truth(worst, curves, worst, guard));
    }
    Optional<Assumed> known =
        atWorst.isPresent() || spread.complete()
            ? atWorst.map(Assumed.class::cast)
            : benchPlan(folder(study))
                .map(BenchPlan::assumed)
                .filter(planned -> planned.isOf(request.level(), contents.study().claim()));
    if (known.isEmpty() && !spread.complete()) {
      return Optional.empty();
    }
    Study it = contents.study();
    Assumed assumed = spread.assumed(request.level(), known);
    AssumedCurves curves =
        AssumedCurves.of(assumed, request.level(), it.design().loadsKilograms(), it.kit());
    return Optional.of(new Truth(assumed, curves, curves.atWorst(assumed, request.level()), guard));
  }

  private static Assumed.AtLevel atWorst(EstimatedCurves found, CalibrationLevel level) {
    ErrorCurve.Point worst = found.places().get(found.worst());
    String origin =
        "the record's estimates at %s kg %s"
            .formatted(worst.loadKilograms(), worst.direction().word());
    return PooledSpread.of(origin, level, found.means()[found.worst()], found.variancesAtWorst());
  }

  private void print(Rehearsed rehearsed, Truth truth) {
    boolean ofRecord = truth.guardGrams.isPresent();
    PlannedClaim question = rehearsed.question;
    RehearsalResult result = rehearsed.result;
    io.sayf(
        "%s %s %% of kits are then within ±%s g.",
        PlanScreen.words(truth.assumed, truth.atWorst),
        digits(100 * question.content(), 3),
        digits(result.trueFigureGrams(), 3));
    io.show(
        new TableBuilder<RehearsalResult.QuantileGrams>(
                "Printable figure, %s (%s g) included"
                    .formatted(
                        ofRecord ? "guard bands" : "masses", digits(question.guardGrams(), 3)))
            .add("Share of studies at or below", percent(0), q -> q.fraction())
            .add("Figure [g]", decimals(1), q -> q.grams())
            .of(result.safest()));
    io.say("");
    io.sayf(
        "The printable figure holds for the wanted content in %.1f %% of studies (wanted: %.4g"
            + " %%).",
        100 * result.holdsFraction(), 100 * question.confidence());
    result.wanted().ifPresent(w -> print(w, question));
    if (result.withoutFigure() > 0) {
      io.say(result.withoutFigure() + " studies gave no figure at all.");
    }
    io.sayf(
        "%sNot rehearsed: %smissing runs, and shapes other than normal.",
        rehearsed.points > 1
            ? ""
            : "Errors at other loads are taken to follow the one at the worst load. ",
        ofRecord ? "" : "guard bands that only readings show (between loads), ");
  }

  private void print(RehearsalResult.Wanted w, PlannedClaim question) {
    io.sayf(
        "±%.4g g really holds for %.2f %% of kits%s. It would be supported in %.1f %% of studies"
            + " (± %.1f %%), wrongly in %.2f %%.",
        w.grams(),
        100 * w.trueContent(),
        w.trueContent() >= question.content() ? "" : ", less than wanted",
        100 * w.supportedFraction(),
        200 * w.standardError(),
        100 * w.wronglyFraction());
  }
}
