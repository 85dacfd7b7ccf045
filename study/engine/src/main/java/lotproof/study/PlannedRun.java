package lotproof.study;

/**
 * One run of the plan, at its place in the order of the bench.
 *
 * @param day day on the bench, counted from 1
 * @param pass 0 for the check standard; 1, 2 ... as units meet their next partners; the last pass
 *     of a design with repeats holds them
 */
public record PlannedRun(int day, String session, String run, String cell, String board, int pass) {
  public PlannedRun {
    if (day < 1) {
      throw new IllegalArgumentException("day is counted from 1, was " + day);
    }
    if (pass < 0) {
      throw new IllegalArgumentException("pass must be 0 or above, was " + pass);
    }
    Require.text(session, "session");
    Require.text(run, "run");
    Require.text(cell, "cell");
    Require.text(board, "board");
  }

  /** Whether it is a run of the check standard. */
  public boolean isCheck() {
    return pass == 0;
  }
}
