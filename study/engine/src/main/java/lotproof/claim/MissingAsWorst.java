package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.premise.SubjectRuns;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.reduce.UnitPair;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.Study;

/**
 * The figure if the runs that are missing were like the worst ones: each missing run gets the error
 * curve of one of the runs with the largest errors, one after the other, and the whole is fitted
 * anew. A construction of this program.
 */
record MissingAsWorst(FigureCalculator calculator, Premises premises) {
  /** The missing pairs; where whole kits count, those of units that no other kit has. */
  private List<UnitPair> missing() {
    List<UnitPair> all = premises.coverage().missingPairs(calculator.runs());
    if (!premises.isMatched()) {
      return all;
    }
    Set<String> met = new HashSet<>();
    calculator.runs().forEach(run -> met.addAll(List.of(run.cell(), run.board())));
    List<UnitPair> own = new ArrayList<>();
    for (UnitPair pair : all) {
      if (!met.contains(pair.cell()) && !met.contains(pair.board())) {
        own.add(pair);
        met.addAll(List.of(pair.cell(), pair.board()));
      }
    }
    return own;
  }

  /** The smallest supported figure before rounding; empty where there is none. */
  OptionalDouble boundGrams(CalibrationLevel level, LevelCurves.Found curves, double driftGrams) {
    Study study = calculator.study();
    ClaimForm form = study.claim().form();
    List<ErrorCurve> worstFirst =
        SubjectRuns.of(study, curves.judged()).stream()
            .sorted(Comparator.comparingDouble((ErrorCurve c) -> -c.largestGrams(form)))
            .toList();
    if (worstFirst.isEmpty()) {
      return OptionalDouble.empty();
    }
    List<ErrorCurve> filled = new ArrayList<>(curves.judged());
    List<LoadRun> made = new ArrayList<>(calculator.runs());
    int count = 0;
    for (UnitPair pair : missing()) {
      ErrorCurve worst = worstFirst.get(count % worstFirst.size());
      count++;
      // no name of a recorded run has a line break
      String name = "missing\n" + count;
      filled.add(new ErrorCurve(name, pair.cell(), pair.board(), worst.points()));
      LoadRun like =
          made.stream().filter(run -> run.name().equals(worst.run())).findFirst().orElseThrow();
      made.add(new LoadRun(name, pair.cell(), pair.board(), like.readings()));
    }
    return new FigureCalculator(study, made, calculator.sides())
                .figure(level, filled, curves.correction(), driftGrams)
            instanceof FigureCalculator.Computed.Found found
        ? OptionalDouble.of(found.outcome().limitGrams())
        : OptionalDouble.empty();
  }
}
