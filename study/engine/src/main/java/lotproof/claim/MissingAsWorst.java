package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.TemperatureEffect;
import lotproof.claim.premise.SubjectRuns;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.UnitPair;
import lotproof.study.CalibrationLevel;
import lotproof.study.Study;

/**
 * The figure if the runs that are missing were like the worst ones: each missing run gets the error
 * curve of one of the runs with the largest errors, one after the other, and the whole is fitted
 * anew. A construction of this program.
 */
final class MissingAsWorst {
  private final Study study;
  private final List<LoadRun> runs;
  private final Premises premises;
  private final SideAllowances sides;

  MissingAsWorst(Study study, List<LoadRun> runs, Premises premises, SideAllowances sides) {
    this.study = study;
    this.runs = runs;
    this.premises = premises;
    this.sides = sides;
  }

  /** The missing pairs; where whole kits count, those of units that no other kit has. */
  private List<UnitPair> missing() {
    List<UnitPair> all = premises.coverage().missingPairs(runs);
    if (!premises.isMatched()) {
      return all;
    }
    Set<String> met = new HashSet<>();
    runs.forEach(run -> met.addAll(List.of(run.cell(), run.board())));
    List<UnitPair> own = new ArrayList<>();
    for (UnitPair missing : all) {
      if (!met.contains(missing.cell()) && !met.contains(missing.board())) {
        own.add(missing);
        met.addAll(List.of(missing.cell(), missing.board()));
      }
    }
    return own;
  }

  /** The smallest supported figure before rounding; empty where there is none. */
  OptionalDouble boundGrams(
      CalibrationLevel level,
      List<ErrorCurve> curves,
      Optional<TemperatureEffect.Estimated> correction,
      double driftGrams) {
    List<ErrorCurve> own = SubjectRuns.of(study, curves);
    if (own.isEmpty()) {
      return OptionalDouble.empty();
    }
    List<Double> largest = ErrorsInClaimForm.of(own, study.claim().form()).largest();
    List<ErrorCurve> worstFirst =
        IntStream.range(0, own.size())
            .boxed()
            .sorted(Comparator.comparingDouble((Integer i) -> -largest.get(i)))
            .map(own::get)
            .toList();
    List<ErrorCurve> filled = new ArrayList<>(curves);
    List<LoadRun> made = new ArrayList<>(runs);
    int count = 0;
    for (UnitPair missing : missing()) {
      ErrorCurve worst = worstFirst.get(count % worstFirst.size());
      count++;
      // no name of a recorded run has a line break
      String name = "missing\n" + count;
      filled.add(new ErrorCurve(name, missing.cell(), missing.board(), worst.points()));
      LoadRun like =
          runs.stream().filter(run -> run.name().equals(worst.run())).findFirst().orElseThrow();
      made.add(new LoadRun(name, missing.cell(), missing.board(), like.readings()));
    }
    return new FigureCalculator(study, made, sides).figure(level, filled, correction, driftGrams)
            instanceof FigureCalculator.Computed.Found found
        ? OptionalDouble.of(found.outcome().limitGrams())
        : OptionalDouble.empty();
  }
}
