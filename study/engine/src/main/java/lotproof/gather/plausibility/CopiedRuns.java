package lotproof.gather.plausibility;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.statistics.outliers.ModifiedZ;
import lotproof.study.DataIssue.Code;
import lotproof.study.Kit;
import lotproof.study.Reading;

/**
 * Runs that repeat another run's outputs digit by digit, under another name. They are asked when
 * chance would give fewer than one such run in ten thousand records, or when the times are the
 * same, too.
 *
 * <p>Two values rounded to q agree with a chance of at most q / (2 sqrt(pi) s), s the standard
 * deviation of each. For the steps of two runs s is the scatter of repeats: 1.4826 times the median
 * distance of differences between runs of one pair from their own median, over the square root of
 * two, and at least three millionths of what the capacity gives, less than any bench is known to
 * reach. Different kits differ in zero and span as well. The chance of a run is multiplied by the
 * number of runs compared. An output of 0 may be a tare and says nothing. Construction.
 */
final class CopiedRuns {
  private static final double SMALLEST_SCATTER = 3e-6;
  private static final double NEGLIGIBLE = 1e-4;
  private static final double AGREE = 2 * Math.sqrt(Math.PI);
  private static final double ROBUST = 1.4826;
  private static final int FEWEST_DIFFERENCES = 8;
  private static final int FEWEST_KITS = 5;
  private static final int MOST_DECIMALS = 3;
  private static final int MOST_ZEROS = 4;

  private final PlausibilityChecks found;
  private final List<Run> fresh;
  private final List<Run> all;

  /** Runs by their first output that says something. */
  private final Map<Double, List<Run>> byOutput = new HashMap<>();

  CopiedRuns(PlausibilityChecks found, List<Run> known, List<Run> fresh) {
    this.found = found;
    this.fresh = fresh;
    this.all = Stream.concat(known.stream(), fresh.stream()).toList();
  }

  void check() {
    record Copy(Run run, Run original) {}
    List<Copy> copies = new ArrayList<>();
    known().forEach(this::add);
    for (Run run : fresh) {
      first(run)
          .flatMap(
              output ->
                  byOutput.getOrDefault(output, List.of()).stream()
                      .filter(other -> isCopy(run, other))
                      .findFirst())
          .ifPresent(original -> copies.add(new Copy(run, original)));
      add(run);
    }
    if (!copies.isEmpty()) {
      Chances chances = chances();
      copies.forEach(copy -> ask(copy.run, copy.original, chances));
    }
  }

  private List<Run> known() {
    return all.subList(0, all.size() - fresh.size());
  }

  private void add(Run run) {
    first(run)
        .ifPresent(output -> byOutput.computeIfAbsent(output, o -> new ArrayList<>()).add(run));
  }

  private static Optional<Double> first(Run run) {
    return run.readings().stream().map(Reading::outputCounts).filter(o -> o != 0).findFirst();
  }

  /** Whether the shorter of two runs is the beginning of the other. */
  private static boolean isCopy(Run one, Run other) {
    return IntStream.range(0, common(one, other))
        .allMatch(
            i -> one.readings().get(i).outputCounts() == other.readings().get(i).outputCounts());
  }

  private static int common(Run one, Run other) {
    return Math.min(one.readings().size(), other.readings().size());
  }

  private void ask(Run run, Run original, Chances chances) {
    boolean sameTimes = sameTimes(run, original);
    double expected = chances.expected(run, original);
    if (!sameTimes && !(expected < NEGLIGIBLE)) {
      return;
    }
    Reading source = original.first();
    String message =
        String.format(
            Locale.ROOT,
            "run %s repeats run %s (%s): %s digit by digit%s; is it the same measurement under"
                + " another name? A repeat is measured anew",
            run.name(),
            original.name(),
            source.source().place(),
            common(run, original) == 1 ? "its output" : "all " + common(run, original) + " outputs",
            sameTimes
                ? " and all times"
                : expected < 1e-12
                    ? ", which chance does not give"
                    : String.format(
                        Locale.ROOT,
                        ", which chance gives in less than 1 of 10^%.0f records",
                        Math.floor(-Math.log10(expected))));
    found.ask(Code.RUN_COPIED, run.first(), ReadingColumn.OUTPUT, message);
  }

  /** Whether both have a time at each step, not all alike, and the same. */
  private static boolean sameTimes(Run one, Run other) {
    List<LocalDateTime> times = times(one);
    return one.readings().size() == other.readings().size()
        && times.size() == one.readings().size()
        && times.stream().distinct().count() > 1
        && times.equals(times(other));
  }

  private static List<LocalDateTime> times(Run run) {
    return run.readings().stream().flatMap(r -> r.time().stream()).toList();
  }

  private Chances chances() {
    Kit kit = found.kit();
    double[] outputs =
        all.stream()
            .flatMap(run -> run.readings().stream())
            .mapToDouble(Reading::outputCounts)
            .toArray();
    Map<List<String>, List<Run>> byPair =
        all.stream().collect(Collectors.groupingBy(r -> List.of(r.cell(), r.board())));
    List<Double> differences = new ArrayList<>();
    for (List<Run> repeats : byPair.values()) {
      for (int i = 1; i < repeats.size(); i++) {
        if (!isCopy(repeats.get(i - 1), repeats.get(i))) {
          addDifferences(repeats.get(i - 1), repeats.get(i), differences);
        }
      }
    }
    double scatter =
        differences.size() < FEWEST_DIFFERENCES
            ? 0
            : ROBUST * PlausibilityChecks.median(differences) / Math.sqrt(2);
    double smallest =
        SMALLEST_SCATTER * kit.capacityKilograms() * kit.defaultFactorCountsPerKilogram();
    List<Run> kits = byPair.values().stream().map(runs -> runs.get(0)).toList();
    return new Chances(
        resolution(outputs, kit.countsPerMillivoltPerVolt()),
        Math.max(smallest, scatter),
        spread(kits, run -> run.zero().orElse(0.0)),
        spread(kits, run -> run.slope() * kit.capacityKilograms()),
        byPair.values().stream().mapToDouble(runs -> runs.size() * (runs.size() - 1) / 2.0).sum(),
        (double) fresh.size() * all.size());
  }

  /** Distances of the differences of two runs from their median: a moved zero takes no part. */
  private static void addDifferences(Run one, Run other, List<Double> distances) {
    List<Double> differences =
        IntStream.range(0, common(one, other))
            .mapToObj(
                i -> one.readings().get(i).outputCounts() - other.readings().get(i).outputCounts())
            .toList();
    double middle = PlausibilityChecks.median(differences);
    differences.forEach(difference -> distances.add(Math.abs(difference - middle)));
  }

  private static double spread(List<Run> kits, ToDoubleFunction<Run> value) {
    double[] values = kits.stream().mapToDouble(value).distinct().toArray();
    if (values.length < FEWEST_KITS) {
      return 0;
    }
    return ModifiedZ.of(values).map(z -> ROBUST * z.mad()).orElse(0.0);
  }

  /**
   * The coarsest step of which all outputs are multiples: a power of ten of counts or of mV/V, and
   * at least a thousandth of a count.
   */
  private static double resolution(double[] outputs, double countsPerMillivoltPerVolt) {
    double coarsest = Math.pow(10, -MOST_DECIMALS);
    for (double unit : new double[] {1, countsPerMillivoltPerVolt}) {
      for (int zeros = -9; zeros <= MOST_ZEROS; zeros++) {
        double step = unit * Math.pow(10, zeros);
        boolean fits = step > coarsest;
        for (int i = 0; fits && i < outputs.length; i++) {
          double steps = outputs[i] / step;
          fits = Math.abs(steps - Math.rint(steps)) <= 1e-6 + 1e-12 * Math.abs(steps);
        }
        coarsest = fits ? step : coarsest;
      }
    }
    return coarsest;
  }

  /**
   * What chance gives.
   *
   * @param resolution step of the outputs in counts
   * @param scatter standard deviation of a repeated reading
   * @param zeros standard deviation of the zeros of kits; 0 where it is not known
   * @param spans standard deviation of their spans; 0 where it is not known
   * @param repeats how many pairs of runs there are of one kit
   * @param compared how many pairs of runs are compared
   */
  private record Chances(
      double resolution,
      double scatter,
      double zeros,
      double spans,
      double repeats,
      double compared) {
    /** How many such copies chance gives in a record, at most. */
    double expected(Run one, Run other) {
      long steps =
          one.readings().stream()
              .limit(common(one, other))
              .filter(r -> r.outputCounts() != 0)
              .count();
      boolean sameKit = one.cell().equals(other.cell()) && one.board().equals(other.board());
      double readings = Math.pow(agree(scatter), (double) steps);
      double kits = steps < 2 ? 1 : agree(zeros) * agree(spans);
      return sameKit ? repeats * readings : compared * Math.min(readings, kits);
    }

    private double agree(double sd) {
      return sd > 0 ? Math.min(1, resolution / (AGREE * sd)) : 1;
    }
  }
}
