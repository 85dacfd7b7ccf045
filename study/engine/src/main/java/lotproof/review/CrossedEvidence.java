package lotproof.review;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.components.BestLinearPredictors;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.ComponentsFit;
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

  CrossedEvidence(List<ReducedRun> runs, MeasuredValues values, ComponentsFit fit) {
    this.runs = runs;
    this.values = values;
    this.mean = fit.mean();
    this.cellEffects = bySerial(Role.CELL, fit);
    this.boardEffects = bySerial(Role.BOARD, fit);
    this.residuals = BestLinearPredictors.residuals(fit).values();
    double[] noise =
        runs.stream()
            .flatMapToDouble(run -> run.value(Characteristic.NOISE).stream())
            .sorted()
            .toArray();
    this.medianNoise = noise.length == 0 ? 0 : noise[noise.length / 2];
  }

  private Map<String, Double> bySerial(Role role, ComponentsFit fit) {
    Map<String, Double> bySerial = new LinkedHashMap<>();
    List<String> serials = values.labelsOf(role).orElseThrow().stream().distinct().toList();
    for (FactorEffects effects : BestLinearPredictors.predict(fit)) {
      if (effects.component().equals(role.component())) {
        double[] sizes = effects.effects();
        IntStream.range(0, sizes.length).forEach(i -> bySerial.put(serials.get(i), sizes[i]));
      }
    }
    return bySerial;
  }

  /** Predicted effects of the cells or boards; none where the model does not tell them apart. */
  Map<String, Double> effects(Target target) {
    return target == Target.CELL ? cellEffects : boardEffects;
  }

  /** What the cell and board effects leave over of each run. */
  double[] residuals() {
    return residuals.clone();
  }

  /** Values of these runs with their units. */
  List<Finding.Evidence> values(List<Integer> rows) {
    return rows.stream().map(i -> Finding.Evidence.of(run(i), values.values().get(i))).toList();
  }

  private List<Integer> rows(IntPredicate wanted) {
    return IntStream.range(0, runs.size()).filter(wanted).boxed().toList();
  }

  /** The runs of a cell or board, or the run itself. */
  List<Integer> rowsOf(Target target, String serial) {
    return rows(
        i ->
            serial.equals(
                switch (target) {
                  case CELL -> run(i).cell();
                  case BOARD -> run(i).board();
                  case RUN -> run(i).name();
                }));
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
    return rows(
        i ->
            !rows.contains(i)
                && (cells.contains(run(i).cell()) || boards.contains(run(i).board())));
  }

  /** What is odd about a cell or board that stands out. */
  Finding.Verdict ofUnit(Target target, List<Integer> rows, double effect) {
    Map<String, Double> offBy =
        rows.stream()
            .collect(
                Collectors.groupingBy(
                    i -> partner(target, i),
                    LinkedHashMap::new,
                    Collectors.averagingDouble(i -> withoutPartner(target, i))));
    long sharing = offBy.values().stream().filter(d -> shares(d, effect)).count();
    boolean itself = offBy.size() > 1 && sharing == offBy.size();
    Finding.Odd odd =
        itself
            ? (target == Target.CELL ? Finding.Odd.CELL : Finding.Odd.BOARD)
            : offBy.size() > 1 && sharing == 1 ? Finding.Odd.PAIR : Finding.Odd.OPEN;
    return new Finding.Verdict(
        odd,
        OptionalDouble.empty(),
        offBy,
        itself
            ? partnersOf(target, rows).stream()
                .mapToDouble(i -> Math.abs(withoutPartner(target, i)))
                .max()
            : OptionalDouble.empty());
  }

  /** What is odd about a run that stands out after cell and board are taken into account. */
  Finding.Verdict ofRun(int row) {
    List<Integer> others = rows(i -> i != row && run(i).pair().equals(run(row).pair()));
    if (!others.isEmpty()) {
      boolean shared = others.stream().allMatch(i -> shares(residuals[i], residuals[row]));
      return ofRun(row, shared ? Finding.Odd.PAIR : Finding.Odd.RUN, others);
    }
    // of a pair that was measured once the other runs of its cell and of its board speak
    List<Integer> cell = opposite(row, LoadRun::cell);
    List<Integer> board = opposite(row, LoadRun::board);
    if (cell.isEmpty() == board.isEmpty()) {
      return ofRun(row, Finding.Odd.OPEN, List.of());
    }
    return cell.isEmpty()
        ? ofRun(row, Finding.Odd.BOARD, board)
        : ofRun(row, Finding.Odd.CELL, cell);
  }

  private Finding.Verdict ofRun(int row, Finding.Odd odd, List<Integer> speaking) {
    Map<String, Double> shown = new LinkedHashMap<>();
    speaking.forEach(i -> shown.put(run(i).name(), residuals[i]));
    return new Finding.Verdict(
        odd, OptionalDouble.of(residuals[row]), shown, OptionalDouble.empty());
  }

  /** The runs of the same unit that are off by about as much in the other direction. */
  private List<Integer> opposite(int row, Function<LoadRun, String> unit) {
    return rows(
        i ->
            i != row
                && unit.apply(run(i)).equals(unit.apply(run(row)))
                && shares(-residuals[i], residuals[row]));
  }

  /** What else the bench recorded about these runs. */
  List<Finding.Sign> signs(List<Integer> rows) {
    List<Finding.Sign> signs = new ArrayList<>();
    for (int row : rows) {
      String name = run(row).name();
      run(row).readings().stream()
          .map(reading -> reading.beside().remark())
          .filter(remark -> !remark.isBlank() && !isUntroubledCapture(remark))
          .distinct()
          .forEach(remark -> signs.add(new Finding.Sign(name, remark, OptionalDouble.empty())));
      double noise = runs.get(row).value(Characteristic.NOISE).orElse(0);
      if (medianNoise > 0 && noise > UNUSUAL_NOISE_RATIO * medianNoise) {
        signs.add(new Finding.Sign(name, "", OptionalDouble.of(noise / medianNoise)));
      }
    }
    return signs;
  }

  LoadRun run(int row) {
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

  /** Whether a remark says nothing but that the reading comes from a capture. */
  private static boolean isUntroubledCapture(String remark) {
    return CaptureNote.in(remark)
        .map(note -> remark.equals(new CaptureNote(note.samples(), "", "").after("")))
        .orElse(false);
  }
}
