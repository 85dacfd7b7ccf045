package lotproof.claim;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.review.CheckStandardResult;
import lotproof.review.DecidedRuns;

/**
 * A run of the record with what was computed from it and whether the figure rests on it.
 *
 * @param run the run, with the decided corrections of its serials
 * @param reduced its characteristics; absent when the run could not be reduced
 */
public record RecordedRun(LoadRun run, State state, Optional<ReducedRun> reduced) {

  /** Whether a run counts. */
  public enum State {
    COUNTS("counts"),
    TAKEN_OUT("taken out"),
    CHECK_STANDARD("check standard"),
    NOT_REDUCED("cannot be reduced");

    private final String word;

    State(String word) {
      this.word = word;
    }

    /** The state in a word or two. */
    public String word() {
      return word;
    }
  }

  /** All runs of a result, in the order of its record. */
  public static List<RecordedRun> of(StudyResult result) {
    List<LoadRun> corrected = DecidedRuns.corrected(result.runs(), result.decisions());
    LoadRunReduction reduction =
        new LoadRunReduction(result.study().kit(), result.study().referenceLine());
    Map<String, ReducedRun> reduced = new HashMap<>();
    reduction.reduce(corrected).runs().forEach(run -> reduced.put(run.run().name(), run));
    var takenOut =
        result.excluded().stream()
            .map(excluded -> excluded.run().name())
            .collect(Collectors.toSet());
    var checks =
        result.checkStandard().stream()
            .flatMap(check -> check.runs().stream())
            .map(CheckStandardResult.Run::name)
            .collect(Collectors.toSet());
    List<RecordedRun> runs = new ArrayList<>();
    for (LoadRun run : corrected) {
      State state =
          !reduced.containsKey(run.name())
              ? State.NOT_REDUCED
              : checks.contains(run.name())
                  ? State.CHECK_STANDARD
                  : takenOut.contains(run.name()) ? State.TAKEN_OUT : State.COUNTS;
      runs.add(new RecordedRun(run, state, Optional.ofNullable(reduced.get(run.name()))));
    }
    return runs;
  }
}
