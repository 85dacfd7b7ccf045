package lotproof.claim.premise;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import lotproof.reduce.LoadRun;
import lotproof.study.DataIssue;
import lotproof.study.Design;
import lotproof.study.Study;

/** What the plan asked for and the record does not hold. */
public final class PlannedRuns {
  private PlannedRuns() {}

  public static List<DataIssue> missing(Study study, List<LoadRun> runs) {
    Map<String, Long> measured =
        runs.stream().collect(Collectors.groupingBy(LoadRun::pair, Collectors.counting()));
    List<DataIssue> issues = new ArrayList<>();
    for (Design.PlannedPair pair : study.design().pairs()) {
      String name = pair.name();
      long have = measured.getOrDefault(name, 0L);
      if (have < pair.runs()) {
        issues.add(
            warning(
                "readings.csv",
                0,
                name,
                "planned " + pair.runs() + " run(s) of this pair, found " + have));
      }
    }
    issues.addAll(otherLoads(study, runs));
    return issues;
  }

  /** Runs whose loads are not those that they were planned with. */
  public static List<DataIssue> otherLoads(Study study, List<LoadRun> runs) {
    List<DataIssue> issues = new ArrayList<>();
    for (LoadRun run : runs) {
      List<Double> planned = study.design().loadsOf(run.name());
      if (!run.loadsKilograms().equals(planned)) {
        issues.add(
            warning(
                "readings.csv",
                run.readings().get(0).recordLine(),
                run.pair(),
                "run "
                    + run.name()
                    + " has the loads "
                    + run.loadsKilograms()
                    + " kg instead of the planned "
                    + planned
                    + " kg; it enters no figure"));
      }
    }
    return issues;
  }

  private static DataIssue warning(String file, int line, String unit, String message) {
    return new DataIssue(
        DataIssue.Severity.WARNING, DataIssue.Code.RUN_INCOMPLETE, file, line, "", unit, message);
  }
}
