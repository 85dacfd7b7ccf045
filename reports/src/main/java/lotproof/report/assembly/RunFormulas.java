package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.reduce.LoadRun;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.ClaimForm;
import lotproof.study.Study;

/** Formulas of the steps from readings to characteristics and to errors of reading. */
final class RunFormulas {
  private static final String READINGS = StudySection.READINGS;
  private static final String FACTOR = Characteristic.FACTOR.key();
  private static final Range CAPACITY = StudySection.number("rated-capacity");
  private static final Range SCALE = StudySection.number("converter-scale");

  /** With more runs than this the steps from readings to units are numbers, not formulas. */
  private static final int MOST_RUNS = 3000;

  /** A formula over more readings or stretches of rows would be too long for a spreadsheet. */
  private static final int MOST_PARTS = 100;

  private final Study.ReferenceLine line;
  private final boolean live;

  /** Row of the first reading of each run. */
  private final Map<String, Integer> firstReading = new HashMap<>();

  RunFormulas(StudyResult result) {
    this.line = result.study().referenceLine();
    this.live = result.runs().size() <= MOST_RUNS;
    int row = 0;
    for (LoadRun run : result.runs()) {
      firstReading.put(run.name(), row);
      row += run.readings().size();
    }
  }

  /** A function of some rows of a table; none where there are no rows or too many stretches. */
  Optional<Formula> over(String function, String table, String column, List<Rows> rows) {
    return !live || rows.isEmpty() || rows.size() > MOST_PARTS
        ? Optional.empty()
        : Optional.of(Formula.of(function + "({})", new Range(table, column, rows)));
  }

  /** A characteristic of a run from its readings. */
  Optional<Formula> characteristic(LoadRun run, Characteristic characteristic) {
    if (!live || run.readings().size() > MOST_PARTS) {
      return Optional.empty();
    }
    return switch (characteristic) {
      case FACTOR -> Optional.of(slope(run));
      case SENSITIVITY -> Optional.of(Formula.of("{}*{}/{}", FACTOR, CAPACITY, SCALE));
      case ZERO -> Optional.of(Formula.of("{}/{}", output(run, 0), SCALE));
      case NON_LINEARITY -> Optional.of(ofCapacity(deviations(run)));
      case HYSTERESIS ->
          Optional.of(differences(run)).filter(d -> !d.isEmpty()).map(this::ofCapacity);
      case ZERO_RETURN ->
          Optional.of(
              Formula.of(
                  "1000*({}-{})/{}",
                  output(run, run.readings().size() - 1),
                  output(run, 0),
                  FACTOR));
      case NOISE -> {
        Range noise = range(run, "noise", run.readings().size() - 1);
        yield Optional.of(Formula.of("1000*SQRT(SUMSQ({})/COUNT({}))/{}", noise, noise, FACTOR));
      }
      default -> Optional.empty();
    };
  }

  private Range output(LoadRun run, int index) {
    return Range.cell(READINGS, "output", first(run) + index);
  }

  private Range load(LoadRun run, int index) {
    return Range.cell(READINGS, "load", first(run) + index);
  }

  private int first(LoadRun run) {
    return Objects.requireNonNull(firstReading.get(run.name()));
  }

  /** Readings of a run up to one of them. */
  private Range range(LoadRun run, String column, int last) {
    return new Range(READINGS, column, List.of(new Rows(first(run), first(run) + last)));
  }

  private Range rising(LoadRun run, String column) {
    return range(run, column, run.peak());
  }

  private Formula slope(LoadRun run) {
    return line == Study.ReferenceLine.LEAST_SQUARES
        ? Formula.of("SLOPE({},{})", rising(run, "output"), rising(run, "load"))
        : Formula.of(
            "({}-{})/({}-{})",
            output(run, run.peak()),
            output(run, 0),
            load(run, run.peak()),
            load(run, 0));
  }

  private List<Formula> deviations(LoadRun run) {
    Object start =
        line == Study.ReferenceLine.LEAST_SQUARES
            ? Formula.of(
                "AVERAGE({})-{}*AVERAGE({})", rising(run, "output"), FACTOR, rising(run, "load"))
            : output(run, 0);
    List<Formula> deviations = new ArrayList<>();
    for (int i = 0; i <= run.peak(); i++) {
      deviations.add(Formula.of("{}-({}+{}*{})", output(run, i), start, FACTOR, load(run, i)));
    }
    return deviations;
  }

  /** Falling minus rising outputs at the same loads, other masses allowed for. */
  private List<Formula> differences(LoadRun run) {
    List<Formula> differences = new ArrayList<>();
    for (int i = run.peak() + 1; i < run.readings().size(); i++) {
      double kilograms = run.loadsKilograms().get(i);
      int at = run.rising(kilograms).orElse(-1);
      if (kilograms > 0 && at >= 0) {
        Formula counts = Formula.of("{}-{}", output(run, i), output(run, at));
        boolean sameMass = run.massKilograms(i) == run.massKilograms(at);
        differences.add(
            sameMass
                ? counts
                : Formula.of("{}-{}*({}-{})", counts, FACTOR, load(run, i), load(run, at)));
      }
    }
    return differences;
  }

  private Formula ofCapacity(List<Formula> counts) {
    return Formula.of("100*{}/({}*{})", Formula.furthest(counts), FACTOR, CAPACITY);
  }

  /**
   * Error of reading at a step. None at the masses of the calibration, where the error is zero by
   * what it means, and where the claim corrects for temperature.
   */
  Optional<Formula> error(LevelClaim claim, LoadRun run, int step) {
    CalibrationLevel level = claim.level();
    List<Integer> masses =
        level.pointsKilograms().stream().map(mass -> run.rising(mass).orElse(-1)).toList();
    boolean fixed = masses.contains(step) || (step == 0 && !masses.isEmpty());
    if (!live || fixed || masses.contains(-1) || claim.correction().isPresent()) {
      return Optional.empty();
    }
    Formula net = Formula.of("{}-{}", output(run, step), output(run, 0));
    Formula indicated =
        masses.isEmpty()
            ? Formula.of("{}/{}", net, StudySection.number("default-factor"))
            : interpolated(net, run, masses, 0);
    return Optional.of(Formula.of("1000*({}-{})", indicated, load(run, step)));
  }

  /** On the buyer's calibration line, piece by piece. */
  private Formula interpolated(Formula net, LoadRun run, List<Integer> masses, int piece) {
    Formula upper = Formula.of("{}-{}", output(run, masses.get(piece)), output(run, 0));
    Range mass = load(run, masses.get(piece));
    Formula here;
    if (piece == 0) {
      here = Formula.of("{}*({}/{})", net, mass, upper);
    } else {
      Formula lower = Formula.of("{}-{}", output(run, masses.get(piece - 1)), output(run, 0));
      Range from = load(run, masses.get(piece - 1));
      here = Formula.of("{}+({}-{})*(({}-{})/({}-{}))", from, net, lower, mass, from, upper, lower);
    }
    return piece == masses.size() - 1
        ? here
        : Formula.of(
            "IF({}>{},{},{})", net, upper, interpolated(net, run, masses, piece + 1), here);
  }

  /**
   * Largest error of a run that counts in the claim, from those in some columns.
   *
   * @param weights the weight of the form in each of them
   */
  Optional<Formula> largest(ClaimForm form, Map<String, Double> weights) {
    String counts =
        switch (form.side()) {
          case BOTH -> "ABS({}/{})";
          case ABOVE -> "{}/{}";
          case BELOW -> "-{}/{}";
        };
    List<Object> counted = new ArrayList<>(List.of(0));
    weights.forEach((column, weight) -> counted.add(Formula.of(counts, column, weight)));
    return live ? Optional.of(Formula.call("MAX", counted)) : Optional.empty();
  }
}
