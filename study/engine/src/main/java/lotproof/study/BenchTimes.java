package lotproof.study;

import lotproof.statistics.Checks;

/**
 * What the bench takes.
 *
 * @param minutesPerMount to join, mount and exercise a cell with its board before a run, 0 or above
 * @param minutesPerRun to go through the loads once, above 0
 * @param minutesPerWarmUp before the first run of a session, 0 or above
 * @param hoursPerDay on the bench, above 0 and at most 24
 */
public record BenchTimes(
    double minutesPerMount, double minutesPerRun, double minutesPerWarmUp, double hoursPerDay) {
  /** Runs of the check standard in each session: first, middle and last. */
  public static final int CHECKS_PER_SESSION = 3;

  /** From this many hours on, a day has two sessions with a break between. */
  private static final double HOURS_OF_TWO_SESSIONS = 5;

  public BenchTimes {
    Checks.notNegative(minutesPerMount, "minutes per mount");
    Checks.positive(minutesPerRun, "minutes per run");
    Checks.notNegative(minutesPerWarmUp, "minutes per warm-up");
    Checks.positive(hoursPerDay, "hours a day");
    if (!(hoursPerDay <= 24)) {
      throw new IllegalArgumentException("hours a day must be at most 24, was " + hoursPerDay);
    }
    if (runsPerSession(minutesPerMount + minutesPerRun, minutesPerWarmUp, hoursPerDay) < 1) {
      throw new IllegalArgumentException(
          "a session of "
              + 60 * hoursPerDay / sessions(hoursPerDay)
              + " minutes is too short for the warm-up, three runs of the check standard and one"
              + " run of the study; allow more hours a day");
    }
  }

  /** Minutes from the start of one run to the start of the next. */
  public double minutesPerMountedRun() {
    return minutesPerMount + minutesPerRun;
  }

  /** Sessions of a day. */
  public int sessionsPerDay() {
    return sessions(hoursPerDay);
  }

  /** Runs of the study's units that fit between the checks of one session, at least 1. */
  public int runsPerSession() {
    return runsPerSession(minutesPerMountedRun(), minutesPerWarmUp, hoursPerDay);
  }

  /** Sessions that this many runs of the study's units need. */
  public int sessionsFor(int runs) {
    return (runs + runsPerSession() - 1) / runsPerSession();
  }

  /** Bench hours for this many runs of the study's units, warm-ups and checks included. */
  public double hoursFor(int runs) {
    int sessions = sessionsFor(runs);
    double mounted = (runs + CHECKS_PER_SESSION * sessions) * minutesPerMountedRun();
    return (sessions * minutesPerWarmUp + mounted) / 60;
  }

  private static int sessions(double hoursPerDay) {
    return hoursPerDay >= HOURS_OF_TWO_SESSIONS ? 2 : 1;
  }

  private static int runsPerSession(double perRun, double warmUp, double hoursPerDay) {
    double minutes = 60 * hoursPerDay / sessions(hoursPerDay) - warmUp;
    return (int) Math.floor(minutes / perRun + 1e-9) - CHECKS_PER_SESSION;
  }
}
