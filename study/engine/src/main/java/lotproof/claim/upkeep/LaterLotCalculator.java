package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.StudyResult;
import lotproof.claim.premise.PartnerTest;
import lotproof.claim.premise.SubjectRuns;
import lotproof.claim.upkeep.LaterLotCheck.LevelCheck;
import lotproof.claim.upkeep.LaterLotCheck.Remark;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.Reduction;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Study;

/** Holds the readings of a later lot against a study; the rules are those of LaterLotRules. */
public final class LaterLotCalculator {
  /** Share of lots like those studied that some rule at some level calls different. */
  public static final double FALSE_ALARM_FRACTION = 0.05;

  private final StudyResult result;
  private final Study study;
  private final Map<String, Double> promised;

  private LaterLotCalculator(StudyResult result, Map<String, Double> promised) {
    this.result = result;
    this.study = result.study();
    this.promised = promised;
  }

  /** The check, or why there is none. */
  public sealed interface Outcome {
    /** There is a verdict. */
    record Checked(LaterLotCheck check, List<DataIssue> issues) implements Outcome {
      public Checked {
        issues = List.copyOf(issues);
      }
    }

    /** There is none. */
    record NotChecked(Why why, List<DataIssue> issues) implements Outcome {
      public NotChecked {
        issues = List.copyOf(issues);
      }
    }

    /** Why a lot cannot be checked. */
    enum Why {
      /** No run of the file has the study's loads. */
      OTHER_LOADS,
      /** No run of the file is of what the claim is for. */
      NOT_OF_SUBJECT,
      /** The study supports no figure. */
      NO_FIGURE,
      /** No level could be compared. */
      NO_LEVEL
    }
  }

  /**
   * Checks a lot.
   *
   * @param promised figures that were issued, by the label of their level; a level without one is
   *     held against its present safest figure
   */
  public static Outcome of(
      StudyResult result, List<Reading> readings, Map<String, Double> promised) {
    return new LaterLotCalculator(result, promised).check(readings);
  }

  private Outcome check(List<Reading> readings) {
    Reduction reduced =
        new LoadRunReduction(study.kit(), study.referenceLine())
            .reduce(LoadRun.groupedFrom(readings, study));
    List<ReducedRun> runs =
        reduced.runs().stream()
            .filter(r -> r.run().loadsKilograms().equals(study.design().loadsKilograms()))
            .toList();
    List<ReducedRun> ofSubject =
        runs.stream().filter(r -> SubjectRuns.holds(study, r.run())).toList();
    List<LevelClaim> claims =
        result.asDecided().claims().stream().filter(c -> c.figure().isPresent()).toList();
    boolean matched = claims.stream().anyMatch(LevelClaim::isMatched);
    List<ReducedRun> own =
        matched ? PartnerTest.ofFirstPartners(study.design(), ofSubject) : ofSubject;
    if (own.isEmpty() || claims.isEmpty()) {
      Outcome.Why why =
          runs.isEmpty()
              ? Outcome.Why.OTHER_LOADS
              : own.isEmpty() ? Outcome.Why.NOT_OF_SUBJECT : Outcome.Why.NO_FIGURE;
      return new Outcome.NotChecked(why, reduced.issues());
    }
    List<Remark> remarks = new ArrayList<>();
    if (runs.size() < reduced.runs().size()) {
      remarks.add(new Remark.OtherLoads(reduced.runs().size() - runs.size()));
    }
    if (ofSubject.size() < runs.size()) {
      remarks.add(new Remark.NotOfSubject(runs.size() - ofSubject.size()));
    }
    if (matched) {
      remarks.add(new Remark.MatchedKits(pairs(own), pairs(ofSubject) - pairs(own)));
    }
    List<LevelCheck> levels = new ArrayList<>();
    int kits = 0;
    for (LevelClaim claim : claims) {
      LaterLotCurves curves = LaterLotCurves.of(result, claim, own);
      Optional<LaterLotRules> rules = rules(claim, curves.study(), claims.size());
      if (curves.lot().isEmpty() || rules.isEmpty()) {
        remarks.add(new Remark.NotCompared(claim.label(), curves.uncorrectedRuns()));
        continue;
      }
      curves.remark().ifPresent(remarks::add);
      kits = Math.max(kits, ProductionReadings.disjoint(curves.lot()).size());
      levels.add(level(claim, curves.lot(), rules.get()));
    }
    if (levels.isEmpty()) {
      return new Outcome.NotChecked(Outcome.Why.NO_LEVEL, reduced.issues());
    }
    if (isAloneInKits()) {
      remarks.add(new Remark.MeasuredAsKits());
    }
    result.asDecided().scopes().stream()
        .filter(scope -> scope.lots().size() <= 1)
        .forEach(scope -> remarks.add(new Remark.OneLotStudied(scope.kind())));
    return new Outcome.Checked(
        new LaterLotCheck(
            SubjectRuns.measured(study),
            kits,
            pairs(own),
            levels,
            levels.stream()
                .map(level -> level.judgement().verdict())
                .max(Comparator.naturalOrder())
                .orElseThrow(),
            FALSE_ALARM_FRACTION,
            remarks),
        reduced.issues());
  }

  private static int pairs(List<ReducedRun> runs) {
    return (int) runs.stream().map(r -> r.run().pair()).distinct().count();
  }

  /** Whether the claim is for units alone while study and lot are measured as kits. */
  private boolean isAloneInKits() {
    return study.claim().subject() != ClaimRequest.Subject.KIT && !SubjectRuns.onPartner(study);
  }

  private Optional<LaterLotRules> rules(LevelClaim claim, List<ErrorCurve> curves, int levels) {
    PointLimit worst = claim.figure().orElseThrow().worst();
    MeasuredValues values =
        new StudySpread(study)
            .errors(curves, curves.stream().map(c -> at(c, worst, claim.form())).toList())
            .withoutSharedPartner();
    Set<Role> partner =
        !isAloneInKits()
            ? Set.of()
            : study.claim().subject() == ClaimRequest.Subject.CELL ? Role.OF_BOARDS : Role.OF_CELLS;
    double alpha = FALSE_ALARM_FRACTION / (LaterLotRules.RULES * levels);
    return FactorPlan.of(values).fit(values) instanceof ComponentsFit fit
        ? Optional.of(
            new LaterLotRules(
                fit,
                partner.stream().map(Role::component).collect(Collectors.toSet()),
                alpha,
                claim.form().twoSided()))
        : Optional.empty();
  }

  /** Error at a load in grams of the claim's form. */
  private static double at(ErrorCurve curve, PointLimit point, ClaimForm form) {
    return curve
        .at(point.loadKilograms(), point.direction())
        .map(p -> form.inForm(p.errorGrams(), p.loadKilograms()))
        .orElseThrow();
  }

  private LevelCheck level(LevelClaim claim, List<ErrorCurve> curves, LaterLotRules rules) {
    Figure figure = claim.figure().orElseThrow();
    PointLimit worst = figure.worst();
    ClaimForm form = claim.form();
    double grams = Objects.requireNonNullElse(promised.get(claim.label()), figure.printableGrams());
    double content = study.claim().content();
    double[] atLoad =
        ProductionReadings.disjoint(curves).stream()
            .mapToDouble(i -> at(curves.get(i), worst, form))
            .toArray();
    Map<String, Double> largestOfKit = new LinkedHashMap<>();
    curves.forEach(c -> largestOfKit.merge(c.pair(), c.largestGrams(form), Math::max));
    ErrorCurve furthest =
        curves.stream().max(Comparator.comparingDouble(c -> c.largestGrams(form))).orElseThrow();
    double[] largest = largestOfKit.values().stream().mapToDouble(g -> g).toArray();
    return new LevelCheck(
        claim.label(),
        worst.loadKilograms(),
        worst.direction(),
        grams,
        content,
        furthest.run(),
        rules.judge(atLoad, largest, grams, content));
  }
}
