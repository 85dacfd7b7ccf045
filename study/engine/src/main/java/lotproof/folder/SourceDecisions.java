package lotproof.folder;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.study.Decision;
import lotproof.study.Reading;

/** A person's choice between two files, as lines of decisions.csv: one for each run. */
final class SourceDecisions {
  private SourceDecisions() {}

  static List<Decision> of(
      Collection<String> runs, ReceivedFile file, StudyContents contents, SourceDecision choice) {
    Set<String> names = new HashSet<>();
    contents.decisions().forEach(d -> names.add(d.id()));
    Map<String, Decision> holding = Sources.inForce(contents.decisions());
    Map<String, String> first = new HashMap<>();
    for (Reading reading : contents.readings()) {
      // The run can hold readings of several files already; the first that counts stands for them.
      first.putIfAbsent(reading.run(), reading.source().sha256());
    }
    List<Decision> lines = new ArrayList<>();
    for (String run : runs) {
      Decision earlier = holding.get(run);
      if (earlier != null) {
        lines.add(withdrawal(name(names), earlier, choice));
      }
      boolean supersedes = choice.choice() == SourceDecision.Choice.SUPERSEDE;
      String before =
          earlier == null
              ? first.getOrDefault(run, file.sha256())
              : earlier.value().orElse(file.sha256());
      lines.add(
          new Decision(
              name(names),
              choice.time(),
              choice.who(),
              supersedes ? Decision.Action.CORRECTED : Decision.Action.STAYS_IN,
              Decision.Target.RUN,
              run,
              Optional.of(Sources.FIELD),
              Optional.of(supersedes ? file.sha256() : before),
              supersedes ? "corrected file" : "first file stands",
              choice.why(),
              0));
    }
    return lines;
  }

  private static Decision withdrawal(String name, Decision earlier, SourceDecision choice) {
    return new Decision(
        name,
        choice.time(),
        choice.who(),
        Decision.Action.WITHDRAWN,
        Decision.Target.RUN,
        earlier.serial(),
        Optional.empty(),
        Optional.of(earlier.id()),
        "",
        choice.why(),
        0);
  }

  private static String name(Set<String> taken) {
    String free =
        Stream.iterate(1, n -> n + 1)
            .map(n -> "D" + n)
            .filter(n -> !taken.contains(n))
            .findFirst()
            .orElseThrow();
    taken.add(free);
    return free;
  }
}
