package lotproof.report.assembly;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.FigureDetail;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.claim.TakenOut;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.premise.Assumption;
import lotproof.reduce.ErrorCurve;
import lotproof.report.model.Level.Risk;
import lotproof.report.model.Prose;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.ReviewWords;
import lotproof.report.words.StudyWords;
import lotproof.review.CheckStandardResult;
import lotproof.review.DecidedRuns;
import lotproof.review.Finding;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Screen;
import lotproof.study.UnitKind;

/** What could make the figure of a calibration level wrong, gravest first. */
final class Risks {
  /** How grave a risk is. */
  private enum Gravity {
    /** It may turn the verdict. */
    TURNS,
    /** The claim is not true without it. */
    CONDITION,
    /** It takes half of the margin or more. */
    MARGIN,
    /** Somebody has to decide. */
    OPEN,
    /** The figure assumes it. */
    ASSUMED,
    /** The study says nothing about it. */
    NOT_MEASURED,
    /** It is there and changes little. */
    SLIGHT
  }

  private record Ranked(Gravity gravity, Risk risk) {}

  private final ReportedLevel level;
  private final StudyResult result;
  private final List<Ranked> found = new ArrayList<>();

  private Risks(ReportedLevel level) {
    this.level = level;
    this.result = level.result();
  }

  static List<Risk> of(ReportedLevel level) {
    Risks risks = new Risks(level);
    risks.alone();
    risks.screens();
    risks.leftOut();
    risks.oneUnit();
    risks.undecided();
    risks.assumptions();
    risks.lots();
    risks.bench();
    risks.notMeasured();
    return risks.found.stream()
        .sorted(Comparator.comparing(Ranked::gravity))
        .map(Ranked::risk)
        .toList();
  }

  private void add(Gravity gravity, String evidence, String lead, String more) {
    found.add(new Ranked(gravity, new Risk(lead, Prose.text(more).restingOn(evidence))));
  }

  private void alone() {
    if (level.subject() != ClaimRequest.Subject.KIT) {
      add(
          Gravity.CONDITION,
          "method",
          text(
              "The figure is for %s alone, each on %s.",
              level.subject().plural(), StudyWords.partner(result.study())),
          "A kit has the error of its other half as well.");
    }
  }

  /** Tests that production has to make, because units that fail them are left out. */
  private void screens() {
    for (Decision.Target kind : List.of(Decision.Target.CELL, Decision.Target.BOARD)) {
      List<Decision> decisions =
          ClaimWords.exclusions(result).stream()
              .filter(d -> d.action() == Action.SCREENED && d.target() == kind)
              .toList();
      Set<String> limits =
          decisions.stream()
              .flatMap(d -> Screen.of(d).stream())
              .map(Screen::words)
              .collect(Collectors.toCollection(LinkedHashSet::new));
      if (!limits.isEmpty()) {
        long failed = decisions.stream().map(Decision::serial).distinct().count();
        UnitKind unit = kind == Decision.Target.CELL ? UnitKind.CELL : UnitKind.BOARD;
        long measured = result.study().units().serials(unit).size();
        add(
            Gravity.CONDITION,
            "decisions",
            text("A test of every %s is part of the claim.", kind.key()),
            text(
                "It passes only: %s. %d of %d %ss failed.",
                String.join("; ", limits), failed, measured, kind.key()));
      }
    }
  }

  private void leftOut() {
    if (result.excluded().isEmpty()) {
      return;
    }
    String units =
        result.excluded().stream()
            .map(DecidedRuns.Excluded::decision)
            .distinct()
            .map(d -> d.serial() + " (" + d.cause() + ")")
            .collect(Collectors.joining(", "));
    Optional<Figure> without = level.withoutExclusions();
    String figure =
        without.map(f -> level.form().words(f.printableGrams())).orElse("no figure is supported");
    String extremes =
        result.changes().get(level.index()).takenOut().stream()
            .filter(TakenOut::extremes)
            .map(out -> " They are the extremes: " + ReviewWords.farthest(List.of(out)) + ".")
            .collect(Collectors.joining());
    OptionalDouble left = level.marginWithExcluded();
    boolean turned = left.isPresent() && left.getAsDouble() < 0;
    boolean most = level.restsOnExclusions();
    add(
        turned
            ? Gravity.TURNS
            : most ? Gravity.MARGIN : extremes.isEmpty() ? Gravity.SLIGHT : Gravity.CONDITION,
        "excluded",
        turned
            ? "The verdict rests on an exclusion."
            : most ? "The margin rests on an exclusion." : "Units are left out.",
        text(
            "%s. With them in: %s%s.%s",
            units,
            figure,
            turned
                ? ", not supported"
                : most
                    ? text(
                        ", and of %s g of margin %s g are left",
                        digits(level.claim().wanted().orElseThrow().marginGrams().orElseThrow(), 3),
                        digits(left.getAsDouble(), 3))
                    : "",
            extremes));
  }

  /** The kit or the unit that carries the figure, and whether anybody decided about it. */
  private void oneUnit() {
    List<FigureDetail.LeftOut> units =
        level.claim().detail().map(FigureDetail::leftOut).orElse(List.of());
    if (units.isEmpty()) {
      return;
    }
    FigureDetail.LeftOut most = units.get(0);
    Figure figure = level.safest();
    boolean byKit = figure.tested().largestGrams() > figure.modelGrams();
    if (!byKit && most.boundGrams() >= figure.limitGrams()) {
      return;
    }
    Optional<ErrorCurve> kit =
        level.claim().curves().stream()
            .filter(curve -> byKit)
            .max(Comparator.comparingDouble(curve -> curve.largestGrams(level.form())));
    Set<String> serials = new LinkedHashSet<>();
    kit.ifPresent(curve -> serials.addAll(List.of(curve.cell(), curve.board())));
    serials.add(most.serial());
    List<String> open =
        result.findings().stream()
            .filter(f -> f.decision().isEmpty() && serials.contains(f.serial()))
            .map(Finding::serial)
            .distinct()
            .toList();
    add(
        Gravity.OPEN,
        level.id("left-out"),
        kit.map(
                curve ->
                    text(
                        "One %s sets the figure: %s × %s.",
                        level.subject().key(), curve.cell(), curve.board()))
            .orElse("One " + most.kind().key() + " moves the figure most: " + most.serial() + "."),
        text(
            "Without %s %s the limit is %s instead of %s g.%s",
            most.kind().key(),
            most.serial(),
            digits(most.boundGrams(), 3),
            digits(figure.limitGrams(), 3),
            open.isEmpty()
                ? ""
                : text(
                    " %s %s out and %s not decided.",
                    String.join(" and ", open),
                    open.size() == 1 ? "stands" : "stand",
                    open.size() == 1 ? "is" : "are")));
  }

  private void undecided() {
    long open = result.findings().stream().filter(f -> f.decision().isEmpty()).count();
    if (open > 0) {
      add(
          Gravity.OPEN,
          "findings-by-unit",
          text(
              "%d of %s no decision.",
              open,
              result.findings().size() == 1
                  ? "1 finding has"
                  : result.findings().size() + " findings have"),
          "What is not decided stays in the figure.");
    }
  }

  private void assumptions() {
    for (Assumption found : level.claim().assumptions()) {
      add(
          switch (found.effect()) {
            case NO_FIGURE -> Gravity.TURNS;
            case RESTRICTION -> Gravity.CONDITION;
            case SHOWN, CONDITION, ALLOWANCE -> Gravity.ASSUMED;
          },
          "assumptions",
          AssumptionWords.title(found) + ".",
          found instanceof Assumption.RunsMissing
              ? AssumptionWords.counts(level.claim().coverage()) + " without a cause."
              : AssumptionWords.evidence(found, level.subject()) + ".");
    }
  }

  private void lots() {
    for (LotScope scope : result.asDecided().scopes()) {
      String kind = scope.kind().key();
      if (scope.wording() == LotScope.Wording.ONE_LOT) {
        add(
            Gravity.CONDITION,
            "lots",
            text("One lot of %ss proves one lot.", kind),
            text("How %s lots differ was not observed.", kind));
      } else if (scope.wording() == LotScope.Wording.FEW_LOTS) {
        add(
            Gravity.ASSUMED,
            "lots",
            text("%d lots of %ss say little about other lots.", scope.lots().size(), kind),
            level
                .figure()
                .flatMap(Risks::withinTheseLots)
                .map(g -> "For these lots alone it would be " + level.form().words(g) + ".")
                .orElse("How far other lots lie from them is hardly known."));
      }
    }
  }

  private static Optional<Double> withinTheseLots(Figure figure) {
    return figure.withinTheseLotsGrams().stream().boxed().findFirst();
  }

  private void bench() {
    if (result.checkStandard().isEmpty()) {
      add(
          Gravity.ASSUMED,
          "bench",
          "No check standard was measured.",
          "A drift of the bench would pass for spread of the units.");
    } else if (result.checkStandard().get().behaviour() instanceof CheckStandardResult.Judged judged
        && !judged.steady()) {
      add(Gravity.OPEN, "bench", "The bench was not steady.", ReviewWords.of(judged));
    }
  }

  private void notMeasured() {
    add(
        Gravity.NOT_MEASURED,
        "method",
        text("Measured only at %s.", StudyWords.temperature(result.asDecided().temperature())),
        "Not measured: " + String.join(", ", new ClaimWords(result).notMeasured()) + ".");
  }
}
