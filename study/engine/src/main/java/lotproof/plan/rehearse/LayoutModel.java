package lotproof.plan.rehearse;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Meeting;
import lotproof.statistics.components.RandomFactor;
import lotproof.study.AssumedSpread;
import lotproof.study.UnitKind;

/**
 * The mixed model that the analysis would use on a layout, with assumed variances.
 *
 * <p>Factors are chosen as lotproof.spread chooses them from data; a test holds the two against
 * each other. What a layout cannot tell apart falls into the next coarser or finer component, and
 * {@link #missing} says so. With one lot of a kind, how lots differ is not observed: its offset
 * belongs to the mean, and the claim is about that lot.
 */
final class LayoutModel {
  static final String CELL_LOT = "cell lot";
  static final String BOARD_LOT = "board lot";
  static final String CELL = "cell";
  static final String BOARD = "board";
  static final String KIT = "kit";
  static final String PAIR = "pair";

  /** As in the analysis: fewer repeats say next to nothing of pairing apart from bench. */
  static final int REPEATS_FOR_PAIRING = 10;

  private final Layout layout;
  private final AssumedSpread assumed;
  private final boolean withLots;
  private final List<RandomFactor> factors = new ArrayList<>();
  private final List<Double> variances = new ArrayList<>();
  private final List<String> missing = new ArrayList<>();
  private double residual;

  LayoutModel(Layout layout, AssumedSpread assumed, boolean withLots) {
    this.layout = layout;
    this.assumed = assumed;
    this.withLots = withLots;
    build();
  }

  private void build() {
    int runs = layout.meetings().size();
    int pairs = layout.pairs();
    boolean kits = pairs == layout.used(UnitKind.CELL) && pairs == layout.used(UnitKind.BOARD);
    addLots(UnitKind.CELL, CELL_LOT, assumed.cellLotVariance());
    addLots(UnitKind.BOARD, BOARD_LOT, assumed.boardLotVariance());
    residual = assumed.repeatVariance();
    double kit = assumed.cellVariance() + assumed.boardVariance() + assumed.pairingVariance();
    if (kits && runs > pairs) {
      add(KIT, labels(PAIR), kit);
      missing.add("cells apart from boards");
      missing.add("pairing apart from cells and boards");
    } else if (kits) {
      residual += kit;
      missing.add("cells apart from boards");
      missing.add("units apart from the bench's repeatability");
    } else {
      add(CELL, labels(CELL), assumed.cellVariance());
      add(BOARD, labels(BOARD), assumed.boardVariance());
      if (runs - pairs >= REPEATS_FOR_PAIRING && pairs > 2) {
        add(PAIR, labels(PAIR), assumed.pairingVariance());
      } else {
        residual += assumed.pairingVariance();
        missing.add("pairing apart from the bench's repeatability");
      }
    }
  }

  private void addLots(UnitKind kind, String name, double variance) {
    int lots = (int) labels(name).stream().distinct().count();
    int units = layout.used(kind);
    if (lots == 1) {
      missing.add("how lots of " + kind.word() + "s differ (one lot)");
    } else if (lots == units) {
      missing.add(kind.word() + " lots apart from " + kind.word() + "s (one unit a lot)");
    } else if (withLots) {
      add(name, labels(name), variance);
    }
  }

  private void add(String name, List<String> labels, double variance) {
    factors.add(RandomFactor.of(name, labels));
    variances.add(variance);
  }

  private List<String> labels(String name) {
    int[] cellLot = layout.units().lotOf(UnitKind.CELL);
    int[] boardLot = layout.units().lotOf(UnitKind.BOARD);
    List<String> labels = new ArrayList<>();
    for (Meeting m : layout.meetings()) {
      labels.add(
          switch (name) {
            case CELL_LOT -> String.valueOf(cellLot[m.cell()]);
            case BOARD_LOT -> String.valueOf(boardLot[m.board()]);
            case CELL -> String.valueOf(m.cell());
            case BOARD -> String.valueOf(m.board());
            default -> m.cell() + "/" + m.board();
          });
    }
    return labels;
  }

  /** Factors in the order of the model, the residual not among them. */
  List<RandomFactor> factors() {
    return factors;
  }

  /** Names of the factors, then the residual. */
  List<String> names() {
    List<String> names = new ArrayList<>(factors.stream().map(RandomFactor::name).toList());
    names.add(RandomFactor.RESIDUAL);
    return names;
  }

  /** Assumed variances in the order of {@link #names}, g². */
  double[] variances() {
    double[] all = new double[variances.size() + 1];
    for (int k = 0; k < variances.size(); k++) {
      all[k] = variances.get(k);
    }
    all[variances.size()] = residual;
    return all;
  }

  /** What the residual holds, in words. */
  String residualWords() {
    List<String> names = names();
    if (names.contains(PAIR) || names.contains(KIT)) {
      return "repeat";
    }
    return names.contains(CELL) ? "pairing and repeat" : "kit, repeat included";
  }

  /** What the layout cannot estimate, in words. */
  List<String> missing() {
    return List.copyOf(missing);
  }

  /** Fewest lots of a kind that has lots to differ; empty when there is one lot of each. */
  OptionalDouble fewestLots() {
    return factors.stream()
        .filter(factor -> factor.name().equals(CELL_LOT) || factor.name().equals(BOARD_LOT))
        .mapToDouble(RandomFactor::levelCount)
        .min();
  }
}
