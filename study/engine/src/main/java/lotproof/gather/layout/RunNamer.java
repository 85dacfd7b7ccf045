package lotproof.gather.layout;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import lotproof.study.DataIssue.Code;

/**
 * Names for runs that a file leaves without one: session, cell and board. A pair that comes again
 * needs a name from a person, because it could be a repeat or the rest of the run.
 */
final class RunNamer {
  private final ReadingContext context;
  private final boolean oneRunALine;
  private final int plannedSteps;
  private final Map<String, Integer> steps = new HashMap<>();
  private final Set<String> done = new HashSet<>();
  private String current = "";
  private int currentLine;
  private boolean told;

  RunNamer(ReadingContext context, boolean oneRunALine) {
    this.context = context;
    this.oneRunALine = oneRunALine;
    this.plannedSteps = context.study().design().loadsKilograms().size();
  }

  /** Whether it had to name runs. */
  boolean namedRuns() {
    return !current.isEmpty();
  }

  /** Whether it could not tell one run from another, and said so. */
  boolean isUnsure() {
    return told;
  }

  /** Whether it had to count steps. */
  boolean countedSteps() {
    return !steps.isEmpty();
  }

  /** The name of the run, given its other names. */
  String run(String session, String cell, String board, int line) {
    String name = (session.isEmpty() ? "" : session + "/") + cell + "/" + board;
    boolean next = !name.equals(current) || (oneRunALine && line != currentLine);
    if (next && !done.add(name)) {
      again(cell.isEmpty() ? "a pair" : "cell " + cell + " with board " + board, line);
    }
    current = name;
    currentLine = line;
    return name;
  }

  /** The step within the run. */
  int step(String run) {
    int step = steps.merge(run, 1, Integer::sum);
    if (step == plannedSteps + 1 && plannedSteps > 0 && namedRuns()) {
      again("a pair", currentLine);
    }
    return step;
  }

  private void again(String who, int line) {
    if (!told) {
      told = true;
      context.error(
          Code.AMBIGUOUS,
          line,
          "run",
          who
              + " has more readings than one run, and the file names no runs; give it a column"
              + " \"run\"");
    }
  }
}
