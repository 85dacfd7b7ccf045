package lotproof.review;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.reduce.LoadRun;
import lotproof.study.Decision;

/**
 * Runs after the decisions: corrections applied, exclusions taken out and listed.
 *
 * @param corrected all runs, with the corrections applied and nothing excluded
 * @param kept the runs that figures with the exclusions rest on
 * @param excluded what was taken out, each with the decision that did it
 */
public record DecidedRuns(List<LoadRun> corrected, List<LoadRun> kept, List<Excluded> excluded) {

  /**
   * A run that was taken out.
   *
   * @param run the run
   * @param decision why
   */
  public record Excluded(LoadRun run, Decision decision) {}

  public DecidedRuns {
    corrected = List.copyOf(corrected);
    kept = List.copyOf(kept);
    excluded = List.copyOf(excluded);
  }

  /** Applies the decisions in force to the runs. */
  public static DecidedRuns of(List<LoadRun> runs, List<Decision> decisions) {
    List<Decision> inForce = inForce(decisions);
    List<LoadRun> corrected = runs.stream().map(run -> corrected(run, inForce)).toList();
    List<LoadRun> kept = new ArrayList<>();
    List<Excluded> excluded = new ArrayList<>();
    for (LoadRun run : corrected) {
      Optional<Decision> exclusion = exclusion(run, inForce);
      if (exclusion.isPresent()) {
        excluded.add(new Excluded(run, exclusion.get()));
      } else {
        kept.add(run);
      }
    }
    return new DecidedRuns(corrected, kept, excluded);
  }

  /** Decisions that no later line withdraws; withdrawals themselves are not among them. */
  public static List<Decision> inForce(List<Decision> decisions) {
    Set<String> withdrawn = new HashSet<>();
    for (Decision decision : decisions) {
      if (decision.action() == Decision.Action.WITHDRAWN) {
        decision.value().ifPresent(withdrawn::add);
      }
    }
    return decisions.stream()
        .filter(d -> d.action() != Decision.Action.WITHDRAWN && !withdrawn.contains(d.id()))
        .toList();
  }

  private static LoadRun corrected(LoadRun run, List<Decision> decisions) {
    LoadRun result = run;
    for (Decision decision : decisions) {
      boolean concerns =
          decision.action() == Decision.Action.CORRECTED && decision.serial().equals(run.name());
      // A correction of the source has been applied where the readings come from.
      boolean ofUnit = !decision.field().equals(Optional.of("source"));
      if (concerns && ofUnit && decision.value().isPresent()) {
        String serial = decision.value().get();
        boolean cell = decision.field().equals(Optional.of(Decision.Target.CELL.word()));
        result = cell ? result.withCell(serial) : result.withBoard(serial);
      }
    }
    return result;
  }

  private static Optional<Decision> exclusion(LoadRun run, List<Decision> decisions) {
    return decisions.stream()
        .filter(d -> d.action() == Decision.Action.EXCLUDED && concerns(d, run))
        .findFirst();
  }

  static boolean concerns(Decision decision, LoadRun run) {
    return switch (decision.target()) {
      case CELL -> decision.serial().equals(run.cell());
      case BOARD -> decision.serial().equals(run.board());
      case RUN -> decision.serial().equals(run.name());
    };
  }
}
