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
import lotproof.claim.Numbers;
import lotproof.claim.StudyResult;
import lotproof.claim.SubjectRuns;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.Reduction;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.spread.StudySpread;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.Criterion;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimSubject;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.WatchVerdict;

/** Holds the readings of a later lot against a study; the rules are those of LotRules. */
public final class LotChecks {
  /** Share of lots like those studied that some rule at some level calls different. */
  public static final double FALSE_ALARM_FRACTION = 0.05;

  private final StudyResult result;
  private final Study study;

  private LotChecks(StudyResult result) {
    this.result = result;
    this.study = result.study();
  }

  /** The check, or why there is none. */
  public sealed interface Outcome {
    /** There is a verdict. */
    record Checked(LotCheck check, List<DataIssue> issues) implements Outcome {
      public Checked {
        issues = List.copyOf(issues);
      }
    }

    /** There is none. */
    record NotChecked(String reason, List<DataIssue> issues) implements Outcome {
      public NotChecked {
        issues = List.copyOf(issues);
      }
    }
  }

  /** Name of a claim's level with its masses, as the history writes it. */
  public static String label(LevelClaim claim) {
    CalibrationLevel level = claim.level();
    String masses =
        level.pointsKilograms().stream().map(Numbers::plain).collect(Collectors.joining(", "));
    return level.key()
        + (masses.isEmpty() ? "" : " (" + masses + " kg)")
        + (claim.correction().isPresent() ? ", corrected" : "");
  }

  /**
   * Checks a lot.
   *
   * @param result the study
   * @param readings readings of the later lot's kits
   * @param promised figures that were issued, by {@link #label}; a level without one is held
   *     against its present safest figure
   */
  public static Outcome of(
      StudyResult result, List<Reading> readings, Map<String, Double> promised) {
    return new LotChecks(result).check(readings, promised);
  }

  private Outcome check(List<Reading> readings, Map<String, Double> promised) {
    Reduction reduced =
        new LoadRunReduction(study.kit(), study.referenceLine())
            .reduce(LoadRun.groupedFrom(readings, study));
    List<ReducedRun> runs =
        reduced.runs().stream()
            .filter(r -> r.run().loadsKilograms().equals(study.design().loadsKilograms()))
            .toList();
    if (runs.isEmpty()) {
      return new Outcome.NotChecked(
          "no run of the file has the study's loads, so nothing can be compared", reduced.issues());
    }
    List<String> remarks = new ArrayList<>();
    if (runs.size() < reduced.runs().size()) {
      remarks.add(
          (reduced.runs().size() - runs.size())
              + " runs have other loads than the study and were not compared.");
    }
    List<ReducedRun> own =
        runs.stream()
            .filter(r -> SubjectRuns.holds(study, r.run().cell(), r.run().board()))
            .toList();
    if (own.isEmpty()) {
      return new Outcome.NotChecked(
          "the claim is for a " + SubjectRuns.one(study) + ", and no run of the file is on it",
          reduced.issues());
    }
    if (own.size() < runs.size()) {
      remarks.add(
          (runs.size() - own.size())
              + " runs are not of a "
              + SubjectRuns.one(study)
              + " and were not compared.");
    }
    List<LevelClaim> claims =
        result.asDecided().claims().stream().filter(c -> c.figure().isPresent()).toList();
    if (claims.isEmpty()) {
      return new Outcome.NotChecked("the study supports no figure", reduced.issues());
    }
    double alpha = FALSE_ALARM_FRACTION / (LotRules.RULES * claims.size());
    List<LotCheck.LevelCheck> levels = new ArrayList<>();
    int kits = 0;
    int allKits = (int) own.stream().map(r -> r.run().pair()).distinct().count();
    for (LevelClaim claim : claims) {
      LotCurves curves = LotCurves.of(result, claim, own);
      Optional<LotRules> rules = rules(claim, curves.study(), alpha);
      if (curves.lot().isEmpty() || rules.isEmpty()) {
        remarks.add("Not compared " + claim.description() + curves.reason());
        continue;
      }
      remarks.addAll(curves.remarks());
      List<ErrorCurve> disjoint = disjoint(curves.lot());
      kits = Math.max(kits, disjoint.size());
      levels.add(level(claim, curves.lot(), disjoint, rules.get(), promised));
    }
    if (levels.isEmpty()) {
      return new Outcome.NotChecked("no level could be compared", reduced.issues());
    }
    remarks(remarks, kits, allKits);
    WatchVerdict verdict =
        levels.stream()
            .map(LotCheck.LevelCheck::verdict)
            .max(Comparator.naturalOrder())
            .orElseThrow();
    return new Outcome.Checked(
        new LotCheck(
            SubjectRuns.measured(study),
            kits,
            allKits,
            levels,
            verdict,
            FALSE_ALARM_FRACTION,
            remarks),
        reduced.issues());
  }

  private void remarks(List<String> remarks, int kits, int allKits) {
    if (kits < allKits) {
      remarks.add(
          allKits
              + " "
              + SubjectRuns.measured(study).plural()
              + " share units; mean and spread are judged from "
              + kits
              + " that share none.");
    }
    if (isAloneInKits()) {
      remarks.add(
          "The claim is for "
              + study.claim().subject().key()
              + "s alone and the lot was measured as kits: the mean, the spread and single kits are"
              + " held against the study's kits, and the figure with what their partners add left"
              + " out as far as the study knows it.");
    }
    for (UnitKind kind : UnitKind.values()) {
      if (result.asDecided().scopes().stream()
          .anyMatch(s -> s.kind() == kind && s.lots().size() <= 1)) {
        remarks.add(
            "The study saw one "
                + kind.word()
                + " lot. Whether lots differ is first seen here, and the claim was made for that"
                + " lot only.");
      }
    }
  }

  /** Whether the claim is for units alone while study and lot are measured as kits. */
  private boolean isAloneInKits() {
    return study.claim().subject() != ClaimSubject.KIT && SubjectRuns.partner(study).isEmpty();
  }

  /** The components of kits that the claim does not speak of. */
  private Set<String> partner() {
    if (!isAloneInKits()) {
      return Set.of();
    }
    return study.claim().subject() == ClaimSubject.CELL
        ? Set.of(Role.BOARD.key(), Role.BOARD_LOT.key())
        : Set.of(Role.CELL.key(), Role.CELL_LOT.key());
  }

  /** The curves of kits that share no unit, the first run of each. */
  private static List<ErrorCurve> disjoint(List<ErrorCurve> curves) {
    return TestedErrors.disjoint(curves).stream().map(curves::get).toList();
  }

  private Optional<LotRules> rules(LevelClaim claim, List<ErrorCurve> curves, double alpha) {
    Figure figure = claim.figure().orElseThrow();
    PointLimit worst = figure.points().get(figure.worstPoint());
    MeasuredValues values =
        new StudySpread(study)
            .errors(curves, curves.stream().map(c -> at(c, worst, claim.form())).toList())
            .withoutSharedPartner();
    FactorPlan plan = FactorPlan.of(values);
    return ComponentsFitter.fit(plan.observations(values), Criterion.REML)
            instanceof ComponentsFit fit
        ? Optional.of(
            new LotRules(
                fit,
                plan.finestFirst(),
                partner(),
                alpha,
                claim.form().side() == ClaimForm.Side.BOTH))
        : Optional.empty();
  }

  /** Error at a load in grams of the claim's form, turned round where only low readings count. */
  private static double at(ErrorCurve curve, PointLimit point, ClaimForm form) {
    double sign = form.side() == ClaimForm.Side.BELOW ? -1 : 1;
    return sign * at(curve, point) / form.weight(point.loadKilograms());
  }

  private static double largest(ErrorCurve curve, ClaimForm form) {
    return curve.points().stream()
        .mapToDouble(p -> form.side().counted(p.errorGrams()) / form.weight(p.loadKilograms()))
        .max()
        .orElse(0);
  }

  private static double at(ErrorCurve curve, PointLimit point) {
    return curve.points().stream()
        .filter(
            p -> p.loadKilograms() == point.loadKilograms() && p.direction() == point.direction())
        .findFirst()
        .map(ErrorCurve.Point::errorGrams)
        .orElseThrow();
  }

  private LotCheck.LevelCheck level(
      LevelClaim claim,
      List<ErrorCurve> curves,
      List<ErrorCurve> disjoint,
      LotRules rules,
      Map<String, Double> promised) {
    Figure figure = claim.figure().orElseThrow();
    PointLimit worst = figure.points().get(figure.worstPoint());
    String label = label(claim);
    ClaimForm form = claim.form();
    double grams = Objects.requireNonNullElse(promised.get(label), figure.safestGrams());
    double content = study.claim().content();
    int n = disjoint.size();
    double[] atLoad = disjoint.stream().mapToDouble(c -> at(c, worst, form)).toArray();
    Map<String, Double> largestOfKit =
        curves.stream()
            .collect(
                Collectors.toMap(
                    ErrorCurve::pair, c -> largest(c, form), Math::max, LinkedHashMap::new));
    ErrorCurve furthest =
        curves.stream().max(Comparator.comparingDouble(c -> largest(c, form))).orElseThrow();
    double[] largest = largestOfKit.values().stream().mapToDouble(g -> g).toArray();
    LotRules.Finding found = rules.judge(atLoad, largest, grams, content);
    return new LotCheck.LevelCheck(
        label,
        worst.loadKilograms(),
        worst.direction(),
        grams,
        found.mean(),
        rules.studyMean(),
        found.meanLimit(),
        found.sd(),
        rules.withinSd(),
        found.sdLimit(),
        largest(furthest, form),
        furthest.run(),
        found.beyond(),
        rules.allowedBeyond(largest.length, grams, content),
        found.extreme(),
        found.bestContent(),
        rules.seenShift(n),
        rules.seenSpreadRatio(n),
        found.verdict(),
        found.reasons());
  }
}
