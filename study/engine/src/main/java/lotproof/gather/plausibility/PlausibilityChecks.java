package lotproof.gather.plausibility;

import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.folder.StudyContents;
import lotproof.statistics.summary.Summary;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * What looks wrong about readings before they enter the record. Every door asks the same: import of
 * tables and captures, typing, and the check of a later lot.
 *
 * <p>Readings are held against the kit of study.yaml and against their own run, so that a wrong
 * unit never becomes what is expected. What no kit can show is a question, an issue of severity
 * error that a person accepts by its code; a defective unit passes, at most with a warning, because
 * the study has to see it. Thresholds: docs/method.md, "What is asked at the door".
 */
public final class PlausibilityChecks {
  private PlausibilityChecks() {}

  /** Issues of readings that are to come into a study: what they are, and how they fit the plan. */
  public static List<DataIssue> check(StudyContents contents, List<Reading> readings) {
    Findings findings = new Findings();
    List<RunFacts> known = others(contents.readings(), readings);
    List<RunFacts> fresh = RunFacts.of(readings, contents.readings());
    new RunChecks(contents.study(), known, fresh, findings).check();
    new PlanChecks(contents.study(), findings).check(fresh);
    findings.all().addAll(SwappedPairs.check(known, fresh));
    return findings.all();
  }

  /**
   * Issues of readings as such, without the plan, which knows nothing of a later lot.
   *
   * @param known readings of the record
   */
  public static List<DataIssue> ofReadings(
      Study study, List<Reading> known, List<Reading> readings) {
    Findings findings = new Findings();
    List<RunFacts> fresh = RunFacts.of(readings, known);
    new RunChecks(study, others(known, readings), fresh, findings).check();
    return findings.all();
  }

  /** What a question says, without the option that answers it. */
  public static String question(DataIssue issue) {
    return Findings.withoutOption(issue);
  }

  private static List<RunFacts> others(List<Reading> known, List<Reading> readings) {
    Set<String> names = new HashSet<>();
    readings.forEach(r -> names.add(r.run()));
    return RunFacts.of(known.stream().filter(r -> !names.contains(r.run())).toList());
  }

  /** The median of at least so many values. */
  static Optional<Double> median(double[] values, int atLeast) {
    return values.length >= atLeast ? Optional.of(Summary.median(values)) : Optional.empty();
  }
}
