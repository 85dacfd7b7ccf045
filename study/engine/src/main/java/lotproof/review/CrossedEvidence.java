package lotproof.review;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.study.CaptureNote;
import lotproof.study.Characteristic;
import lotproof.study.Decision.Target;

/**
 * What the runs of partners say about a unit or run that stands out.
 *
 * <p>A unit is odd itself if it stands out in the same direction, by at least half its predicted
 * effect, with each of at least two partners. If it does so with one partner only, that pair is
 * odd. A run is odd alone if the other runs of its pair do not share its remainder, and the pair is
 * odd if they do. A rule of reading, no test: it says where to look.
 */
final class CrossedEvidence {
  /** Share of the predicted effect that counts as standing out too. */
  private static final double SHARED = 0.5;

  private static final double UNUSUAL_NOISE_RATIO = 3;

  private final List<ReducedRun> runs;
  private final MeasuredValues values;
  private final double mean;
  private final Map<String, Double> cellEffects;
  private final Map<String, Double> boardEffects;
  private final double[] residuals;
  private final double medianNoise;

  CrossedEvidence(
      List<ReducedRun> runs,
      MeasuredValues values,
      double mean,
      List<FactorEffects> effects,
      double[] residuals) {
    this.runs = runs;
    this.values = values;
    this.mean = mean;
    this.cellEffects = bySerial(values, Role.CELL, effects);
    this.boardEffects = bySerial(values, Role.BOARD, effects);
    this.residuals = residuals.clone();
    double[] noise =
        runs.stream()
            .flatMapToDouble(run -> run.value(Characteristic.NOISE).stream())
            .sorted()
            .toArray();
    this.medianNoise = noise.length == 0 ? 0 : noise[noise.length / 2];
  }

  private static Map<String, Double> bySerial(
      MeasuredValues values, Role role, List<FactorEffects> all) {
    Map<String, Double> bySerial = new HashMap<>();
    List<String> serials = values.labelsOf(role).orElseThrow().stream().distinct().toList();
    for (FactorEffects effects : all) {
      if (effects.factor().equals(role.key())) {
        double[] sizes = effects.effects();
        IntStream.range(0, sizes.length).forEach(i -> bySerial.put(serials.get(i), sizes[i]));
      }
    }
    return bySerial;
  }

  /** Values of these runs with their units. */
  List<Finding.Evidence> values(List<Integer> rows) {
    return rows.stream()
        .map(
            i ->
                new Finding.Evidence(
                    run(i).name(), run(i).cell(), run(i).board(), values.values().get(i)))
        .toList();
  }

  /** Other runs of the partners: of the boards a cell met, of the cells a board met, of both. */
  List<Integer> partnersOf(Target target, List<Integer> rows) {
    Set<String> cells = new HashSet<>();
    Set<String> boards = new HashSet<>();
    for (int row : rows) {
      if (target != Target.CELL) {
        cells.add(run(row).cell());
      }
      if (target != Target.BOARD) {
        boards.add(run(row).board());
      }
    }
    return IntStream.range(0, runs.size())
        .filter(i -> !rows.contains(i))
        .filter(i -> cells.contains(run(i).cell()) || boards.contains(run(i).board()))
        .boxed()
        .toList();
  }

  /** What is odd about a cell or board that stands out. */
  Finding.Verdict ofUnit(Target target, List<Integer> rows, double effect) {
    Map<String, Double> offBy = new LinkedHashMap<>();
    rows.stream()
        .collect(
            Collectors.groupingBy(
                i -> partner(target, i),
                LinkedHashMap::new,
                Collectors.averagingDouble(i -> withoutPartner(target, i))))
        .forEach(offBy::put);
    String unit = target.key();
    String others = target == Target.CELL ? "board" : "cell";
    String shown =
        offBy.entrySet().stream()
            .map(e -> size(e.getValue()) + " with " + others + " " + e.getKey())
            .collect(Collectors.joining(", "));
    Finding.Odd itself = target == Target.CELL ? Finding.Odd.CELL : Finding.Odd.BOARD;
    if (offBy.size() < 2) {
      return new Finding.Verdict(
          Finding.Odd.OPEN,
          "off by "
              + shown
              + "; it met one "
              + others
              + " only, so the "
              + unit
              + " and the pair cannot be told apart: measure it with another "
              + others);
    }
    long sharing = offBy.values().stream().filter(d -> shares(d, effect)).count();
    if (sharing == offBy.size()) {
      String partners = largestOfPartners(target, rows);
      return new Finding.Verdict(
          itself, "off by " + shown + ": the same with each " + others + partners);
    }
    return new Finding.Verdict(
        sharing == 1 ? Finding.Odd.PAIR : Finding.Odd.OPEN,
        "off by " + shown + ": not the same with each " + others);
  }

  private String largestOfPartners(Target target, List<Integer> rows) {
    double largest =
        partnersOf(target, rows).stream()
            .mapToDouble(i -> Math.abs(withoutPartner(target, i)))
            .max()
            .orElse(Double.NaN);
    return largest >= 0
        ? String.format(
            Locale.ROOT,
            ", while other %ss on the same %ss are off by at most %.3g",
            target.key(),
            target == Target.CELL ? "board" : "cell",
            largest)
        : "";
  }

  /** What is odd about a run that stands out after cell and board are taken into account. */
  Finding.Verdict ofRun(int row) {
    List<Integer> others =
        IntStream.range(0, runs.size())
            .filter(i -> i != row && run(i).pair().equals(run(row).pair()))
            .boxed()
            .toList();
    if (others.isEmpty()) {
      return ofSingleRun(row);
    }
    String shown =
        others.stream()
            .map(i -> size(residuals[i]) + " in " + run(i).name())
            .collect(Collectors.joining(", "));
    boolean shared = others.stream().allMatch(i -> shares(residuals[i], residuals[row]));
    return new Finding.Verdict(
        shared ? Finding.Odd.PAIR : Finding.Odd.RUN,
        "after cell and board "
            + size(residuals[row])
            + " is left over, and "
            + shown
            + " of the same pair");
  }

  /** A run of a pair that was measured once: the other runs of its cell and of its board speak. */
  private Finding.Verdict ofSingleRun(int row) {
    String left = "after cell and board " + size(residuals[row]) + " is left over";
    Optional<String> cell = opposite(row, LoadRun::cell);
    Optional<String> board = opposite(row, LoadRun::board);
    if (cell.isPresent() != board.isPresent()) {
      String unit = cell.isPresent() ? "cell " + run(row).cell() : "board " + run(row).board();
      return new Finding.Verdict(
          cell.isPresent() ? Finding.Odd.CELL : Finding.Odd.BOARD,
          left
              + ", and "
              + cell.or(() -> board).orElse("")
              + " of the same "
              + (cell.isPresent() ? "cell" : "board")
              + ": "
              + unit
              + " differs between its runs; it changed, or a serial is wrong");
    }
    return new Finding.Verdict(
        Finding.Odd.OPEN,
        left
            + "; the pair was measured once, so the pair and the run cannot be told apart: measure"
            + " it again");
  }

  /** The runs of the same unit that are off by about as much in the other direction. */
  private Optional<String> opposite(int row, Function<LoadRun, String> unit) {
    String shown =
        IntStream.range(0, runs.size())
            .filter(i -> i != row && unit.apply(run(i)).equals(unit.apply(run(row))))
            .filter(i -> shares(-residuals[i], residuals[row]))
            .mapToObj(i -> size(residuals[i]) + " in " + run(i).name())
            .collect(Collectors.joining(", "));
    return shown.isEmpty() ? Optional.empty() : Optional.of(shown);
  }

  /** What else the bench recorded about these runs. */
  List<String> signs(List<Integer> rows) {
    List<String> signs = new ArrayList<>();
    for (int row : rows) {
      run(row).readings().stream()
          .map(reading -> reading.beside().remark())
          .filter(remark -> !remark.isBlank() && !isUntroubledCapture(remark))
          .distinct()
          .forEach(remark -> signs.add(run(row).name() + ": remark \"" + remark + "\""));
      double noise = runs.get(row).value(Characteristic.NOISE).orElse(0);
      if (medianNoise > 0 && noise > UNUSUAL_NOISE_RATIO * medianNoise) {
        signs.add(
            String.format(
                Locale.ROOT,
                "%s: noise %.1f times the median of all runs",
                run(row).name(),
                noise / medianNoise));
      }
    }
    return List.copyOf(signs);
  }

  private LoadRun run(int row) {
    return runs.get(row).run();
  }

  private String partner(Target target, int row) {
    return target == Target.CELL ? run(row).board() : run(row).cell();
  }

  /** Distance from the mean of all, the partner's predicted effect taken off. */
  private double withoutPartner(Target target, int row) {
    Map<String, Double> partners = target == Target.CELL ? boardEffects : cellEffects;
    return values.values().get(row) - mean - partners.getOrDefault(partner(target, row), 0.0);
  }

  private static boolean shares(double one, double effect) {
    return Math.signum(one) == Math.signum(effect) && Math.abs(one) >= SHARED * Math.abs(effect);
  }

  private static String size(double value) {
    return String.format(Locale.ROOT, "%+.3g", value);
  }

  /** Whether a remark says nothing but that the reading comes from a capture. */
  private static boolean isUntroubledCapture(String remark) {
    return CaptureNote.in(remark)
        .map(note -> remark.equals(new CaptureNote(note.samples(), "", "").after("")))
        .orElse(false);
  }
}
