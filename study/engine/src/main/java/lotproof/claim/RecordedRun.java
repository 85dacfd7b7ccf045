package lotproof.claim;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
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
    Map<String, State> states = new HashMap<>();
    result.excluded().forEach(out -> states.put(out.run().name(), State.TAKEN_OUT));
    result
        .checkStandard()
        .ifPresent(
            check -> check.runs().forEach(run -> states.put(run.name(), State.CHECK_STANDARD)));
    return corrected.stream()
        .map(
            run ->
                new RecordedRun(
                    run,
                    reduced.containsKey(run.name())
                        ? states.getOrDefault(run.name(), State.COUNTS)
                        : State.NOT_REDUCED,
                    Optional.ofNullable(reduced.get(run.name()))))
        .toList();
  }
}
