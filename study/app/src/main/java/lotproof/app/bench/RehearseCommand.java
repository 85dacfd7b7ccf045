package lotproof.app.bench;

import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.words.Numbers.digits;

import java.util.List;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.plan.design.Layout;
import lotproof.plan.rehearse.PlannedClaim;
import lotproof.plan.rehearse.Rehearsal;
import lotproof.plan.rehearse.RehearsalResult;
import lotproof.report.model.TableBuilder;
import lotproof.study.AssumedSpread;
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
  private @Nullable Double wanted;

  @Option(names = "--seed")
  private @Nullable Long seed;

  @Option(names = "--threads", paramLabel = "N")
  private int threads = Runtime.getRuntime().availableProcessors();

  @Mixin
  private AssumedSpreadOptions spread =
      new AssumedSpreadOptions(listed(new PlanAnswers(io, PlanSetting.SPREAD)));

  /**
   * How a planned study would end.
   *
   * @param level the calibration level
   * @param runs planned runs of the study's units
   * @param seed decides all draws
   * @param assumed what was taken to be true at the worst load
   * @param points loads of a run that were rehearsed, rising and falling apart; 1 where the others
   *     were taken to follow the worst
   * @param question what is to be supported
   * @param result what came of all rehearsals
   */
  public record Rehearsed(
      Origin origin,
      String level,
      int runs,
      long seed,
      AssumedSpread assumed,
      int points,
      PlannedClaim question,
      RehearsalResult result)
      implements Message {}

  public RehearseCommand(CliContext io) {
    super(io);
    listed(spread.understanding);
  }

  @Override
  public Integer call() {
    if (!(times >= 1 && times <= MOST_TIMES) || threads < 1) {
      throw new UnusableException(
          "--times lies between 1 and " + MOST_TIMES + ", and --threads is 1 or more");
    }
    StudyContents contents = open(study);
    Study it = contents.study();
    mustBeRehearsable(it);
    LevelRequest request = request(it);
    RehearsedTruth truth = RehearsedTruth.of(contents, StudyFolder.at(study), request, spread);
    Units units = units(it);
    PlannedClaim question = PlanDraft.question(it, request, truth.guardGrams());
    Rehearsal.Planned planned =
        new Rehearsal.Planned(
            Layout.of(units, it.design().pairs()),
            it.design().reference(),
            truth.curves(),
            question);
    long used = seed == null ? it.seed() : seed;
    Rehearsal.Options options = new Rehearsal.Options(times, used, threads);
    Rehearsal.Outcome outcome =
        io.counted("rehearsing", times, done -> Rehearsal.of(planned, options, done));
    if (outcome instanceof Rehearsal.Outcome.Not not) {
      throw new UnusableException("the planned study supports no figure: " + not.reason());
    }
    RehearsalResult result = ((Rehearsal.Outcome.Rehearsed) outcome).result();
    int runs = planned.layout().meetings().size();
    if (json) {
      io.json(
          new Rehearsed(
              Origin.of("rehearse", contents, Exit.DONE),
              request.level().key(),
              runs,
              used,
              truth.atWorst(),
              truth.curves().points(),
              question,
              result));
    } else {
      print(it, request, runs, truth, question, result);
    }
    return Exit.DONE;
  }

  private static void mustBeRehearsable(Study it) {
    if (!(it.claim().form() instanceof ClaimForm.Symmetric)) {
      throw new UnusableException(
          "the study asks for a figure of the form \"%s\"; only ± the same grams at all loads can"
              + " be rehearsed",
          it.claim().form().key());
    }
    if (it.claim().subject() != ClaimRequest.Subject.KIT) {
      throw new UnusableException(
          "the study claims for a %s alone; only kits can be rehearsed",
          it.claim().subject().key());
    }
    if (it.claim().assumedLotRatio().isPresent()) {
      throw new UnusableException(
          "the study declares how far lots spread without measuring it; what was not drawn cannot"
              + " be rehearsed");
    }
  }

  private LevelRequest request(Study it) {
    List<LevelRequest> levels = it.claim().levels();
    if (levels.isEmpty()) {
      throw new UnusableException("the study asks for no claim, so there is nothing to rehearse");
    }
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
    return wanted == null ? request : checked(() -> request.wanting(wanted));
  }

  private static Units units(Study it) {
    if (it.design().pairs().isEmpty()) {
      throw new UnusableException(
          "study.yaml lists no planned pairs, so there is no plan to rehearse");
    }
    return checked(
        () -> {
          Units units = it.units().twoOrMore();
          return it.design().reference().map(units::with).orElse(units);
        });
  }

  private void print(
      Study it,
      LevelRequest request,
      int runs,
      RehearsedTruth truth,
      PlannedClaim question,
      RehearsalResult result) {
    AssumedSpread assumed = truth.atWorst();
    io.sayf(
        "%s: %s rehearsals of %s runs, %s.",
        io.strong(it.title()), result.times(), runs, request.level().description());
    io.sayf(
        "Assumed (%s): %s. %s %% of kits are then within ±%s g.",
        assumed.origin(),
        PlanScreen.words(assumed),
        digits(100 * question.content(), 3),
        digits(result.trueFigureGrams(), 3));
    String included = truth.guardGrams().isPresent() ? "guard bands" : "masses";
    io.show(
        new TableBuilder<RehearsalResult.QuantileGrams>(
                "Printable figure, "
                    + included
                    + " ("
                    + digits(question.guardGrams(), 3)
                    + " g) included")
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
    io.say(truth.limits());
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
