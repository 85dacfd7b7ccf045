package lotproof.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.MatchedKits;
import lotproof.claim.premise.Assumption.PairingNotStated;
import lotproof.claim.premise.Assumption.PartnersGoTogether;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.claim.premise.PartnerTest;
import lotproof.claim.premise.PlanCoverage;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.UnitPair;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;
import org.jspecify.annotations.Nullable;

/**
 * What one set of runs says of the assumptions behind all its figures.
 *
 * @param pairing what is known of how cells and boards were paired
 * @param lots lots that cannot be told from time
 * @param drift what the check standard says of it; absent where nothing but runs is known
 * @param shape whether the shape of the errors is looked at
 */
record Premises(
    PlanCoverage coverage,
    List<Assumption> pairing,
    List<LotsAndDays> lots,
    @Nullable LotDrift drift,
    boolean shape) {
  /** Of runs of which nothing else is known: all that there were, nothing assumed. */
  static Premises ofRuns(int runs) {
    return new Premises(PlanCoverage.ofRuns(runs), List.of(), List.of(), null, false);
  }

  /** What is known of how cells and boards were paired; nothing where it does not matter. */
  static List<Assumption> pairing(Study study, List<ReducedRun> runs) {
    List<LoadRun> loadRuns = runs.stream().map(ReducedRun::run).toList();
    int cells = (int) loadRuns.stream().map(LoadRun::cell).distinct().count();
    int boards = (int) loadRuns.stream().map(LoadRun::board).distinct().count();
    int pairs = (int) loadRuns.stream().map(LoadRun::pair).distinct().count();
    boolean onPartners = study.design().kind() == Design.Kind.REFERENCE_PARTNER;
    if (onPartners || cells < 2 || boards < 2 || pairs == cells * boards) {
      return List.of();
    }
    Design.Pairing stated = study.design().pairing();
    if (stated == Design.Pairing.MATCHED) {
      boolean ofKits = study.claim().subject() == ClaimRequest.Subject.KIT;
      return List.of(
          new MatchedKits(
              ofKits ? Effect.RESTRICTION : Effect.NO_FIGURE,
              PartnerTest.firstPartners(study.design(), loadRuns).size()));
    }
    boolean testable = PartnerTest.isTestable(study, runs);
    Optional<PartnersGoTogether> sign = testable ? PartnerTest.of(study, runs) : Optional.empty();
    if (sign.isPresent()) {
      return List.of(sign.get());
    }
    return stated == Design.Pairing.RANDOM
        ? List.of()
        : List.of(new PairingNotStated(Effect.CONDITION, pairs, testable));
  }

  /** Whether figures are for kits whose boards were matched. */
  boolean isMatched() {
    return pairing.stream().anyMatch(found -> found instanceof MatchedKits);
  }

  /** The runs that figures rest on: of matched kits those alone, else all. */
  List<ReducedRun> pairedAs(Study study, List<ReducedRun> runs) {
    return isMatched() ? PartnerTest.ofFirstPartners(study.design(), runs) : runs;
  }

  /** The missing pairs; where whole kits count, those of units that no other kit has. */
  List<UnitPair> missingPairs(List<LoadRun> runs) {
    Set<String> met = new HashSet<>();
    runs.forEach(run -> met.addAll(List.of(run.cell(), run.board())));
    List<UnitPair> own = new ArrayList<>();
    for (UnitPair pair : coverage.missingPairs(runs)) {
      List<String> units = List.of(pair.cell(), pair.board());
      if (!isMatched() || Collections.disjoint(met, units)) {
        own.add(pair);
        met.addAll(units);
      }
    }
    return own;
  }

  /** What holds for all levels alike: pairing, and what of the plan is missing. */
  List<Assumption> general() {
    List<Assumption> general = new ArrayList<>(pairing);
    if (!coverage.complete()) {
      boolean tooMuch = coverage.missingFraction() > PlanCoverage.MOST_MISSING;
      general.add(
          new RunsMissing(
              tooMuch ? Effect.NO_FIGURE : Effect.SHOWN,
              coverage.missingRunCount(),
              coverage.missingUnits().size(),
              coverage.missingFraction(),
              OptionalDouble.empty()));
    }
    return general;
  }
}
