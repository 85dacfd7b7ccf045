package lotproof.claim.evidence;

import java.util.List;
import lotproof.claim.premise.Assumption;
import lotproof.study.DataIssue;

/** Why the study supports no figure at a level. */
public sealed interface Refusal {

  /** A reason that needs no numbers. */
  record Plain(Cause cause) implements Refusal {}

  /** Reasons that need no numbers. */
  enum Cause {
    NO_CALIBRATION_LOADS,
    ONE_RUN,
    /** OIML R 111 has no limit of error for the named masses. */
    NO_MASS_LIMIT,
    /** All errors are zero. */
    NO_ERROR,
    FEW_RUNS_ON_PARTNER,
    /** The claim is for units of one kind, and runs do not tell cells from boards. */
    CELLS_AND_BOARDS_MIXED,
    NO_PARTNERS_NAMED,
    /** Temperature goes with the units. */
    TEMPERATURE_OF_UNITS,
    /** Too few pairs were measured at two temperatures. */
    FEW_CHANGES_OF_TEMPERATURE
  }

  /** Readings so far from all others that a fit would show nothing else. */
  record FarReadings(List<DataIssue> issues) implements Refusal {
    public FarReadings {
      issues = List.copyOf(issues);
    }
  }

  /** A temperature correction is claimed and a run has no temperature. */
  record NoTemperature(String run) implements Refusal {}

  /** A temperature correction is claimed and all runs were at nearly one temperature. */
  record SmallTemperatureRange(double seenKelvin, double neededKelvin) implements Refusal {}

  /** Something that a figure assumes does not hold. */
  record Assumed(Assumption assumption) implements Refusal {}

  /** On reference partners: too few runs of the reference pair, or too few units. */
  record NotJoined(int referenceRuns) implements Refusal {}

  /** The components cannot be estimated. */
  record NotEstimable(String reason) implements Refusal {}
}
