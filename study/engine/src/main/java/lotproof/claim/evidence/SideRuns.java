package lotproof.claim.evidence;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lotproof.reduce.LoadRun;
import lotproof.review.DecidedRuns;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Study;

/**
 * Runs of side tests after the decisions. A unit that a screen takes out of the load runs is out of
 * the side tests too.
 *
 * @param corrected all of them, with the corrections applied
 * @param kept those that count
 * @param excluded those that were taken out, each with the decision
 */
public record SideRuns(
    List<LoadRun> corrected, List<LoadRun> kept, List<DecidedRuns.Excluded> excluded) {

  public static SideRuns of(
      Study study, List<LoadRun> recorded, List<Decision> decisions, DecidedRuns ofLoadRuns) {
    List<Decision> withoutScreens =
        decisions.stream().filter(d -> d.action() != Action.SCREENED).toList();
    DecidedRuns own = DecidedRuns.of(recorded, withoutScreens, study.causes(), runs -> List.of());
    Map<String, Decision> screened = new HashMap<>();
    for (DecidedRuns.Excluded out : ofLoadRuns.excluded()) {
      if (out.decision().action() == Action.SCREENED) {
        boolean cell = out.decision().target() == Target.CELL;
        screened.put(cell ? out.run().cell() : out.run().board(), out.decision());
      }
    }
    List<DecidedRuns.Excluded> byScreen =
        own.kept().stream()
            .flatMap(
                run ->
                    Stream.of(run.cell(), run.board())
                        .filter(screened::containsKey)
                        .findFirst()
                        .map(
                            serial ->
                                new DecidedRuns.Excluded(
                                    run, java.util.Objects.requireNonNull(screened.get(serial))))
                        .stream())
            .toList();
    List<LoadRun> kept =
        own.kept().stream()
            .filter(run -> !screened.containsKey(run.cell()) && !screened.containsKey(run.board()))
            .toList();
    return new SideRuns(
        own.corrected(), kept, Stream.concat(own.excluded().stream(), byScreen.stream()).toList());
  }
}
