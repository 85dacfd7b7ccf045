package lotproof.folder;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.Reading;
import org.jspecify.annotations.Nullable;

/**
 * Which reading counts where the record holds several of one step of a run from different files:
 * the one of the file that a decision names, or else the first.
 *
 * @param effective one reading for each step of each run, in file order
 * @param beside the others, kept and not used
 * @param issues a warning for each run about which nobody has decided
 */
record Sources(List<Reading> effective, List<Reading> beside, List<DataIssue> issues) {
  /** The field of a run that such a decision is about; its value is the hash of a file. */
  static final String FIELD = "source";

  /** Resolves the record; what stands twice from one and the same file is left for the checks. */
  static Sources of(List<Reading> record, List<Decision> decisions) {
    Map<String, Decision> decided = inForce(decisions);
    Map<Reading.Step, Reading> chosen = new HashMap<>(2 * record.size());
    for (Reading reading : record) {
      chosen.merge(
          reading.stepOfRun(),
          reading,
          (first, next) -> isDecided(next, decided.get(next.run())) ? next : first);
    }
    List<Reading> effective = new ArrayList<>();
    List<Reading> beside = new ArrayList<>();
    List<DataIssue> issues = new ArrayList<>();
    Set<String> told = new HashSet<>();
    for (Reading reading : record) {
      Reading counts = chosen.getOrDefault(reading.stepOfRun(), reading);
      if (fromSameFile(counts, reading)) {
        effective.add(reading);
      } else {
        beside.add(reading);
        if (!decided.containsKey(reading.run()) && told.add(reading.run())) {
          issues.add(undecided(counts, reading));
        }
      }
    }
    return new Sources(effective, beside, issues);
  }

  private static boolean fromSameFile(Reading one, Reading other) {
    return one.source().sha256().equals(other.source().sha256())
        && one.source().sheet().equals(other.source().sheet());
  }

  private static boolean isDecided(Reading reading, @Nullable Decision decision) {
    return decision != null && decision.value().equals(Optional.of(reading.source().sha256()));
  }

  private static DataIssue undecided(Reading counts, Reading beside) {
    return DataIssue.warning(
        Code.READING_DIFFERS,
        RecordFiles.READINGS.name(),
        beside.recordLine(),
        ("run %s, step %s stands here with other values than in line %s; nobody has decided which"
                + " file is right, and the first one is used (import %s again with --supersede or"
                + " --keep-first)")
            .formatted(beside.run(), beside.step(), counts.recordLine(), beside.source().file()));
  }

  /** For each run the decision in force about its source. */
  static Map<String, Decision> inForce(List<Decision> decisions) {
    Map<String, Decision> holding = new HashMap<>();
    for (Decision decision : decisions) {
      if (decision.action() == Decision.Action.WITHDRAWN) {
        holding.values().removeIf(d -> d.id().equals(decision.value().orElse("")));
      } else if (isAboutSource(decision)) {
        holding.put(decision.serial(), decision);
      }
    }
    return holding;
  }

  static boolean isAboutSource(Decision decision) {
    return decision.target() == Decision.Target.RUN
        && decision.field().filter(FIELD::equals).isPresent();
  }
}
