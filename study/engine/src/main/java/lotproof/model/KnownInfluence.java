package lotproof.model;

import java.util.List;
import lotproof.statistics.components.Observations.FixedColumn;

/** Something beside the units that moves values and is known for each of them. */
public sealed interface KnownInfluence {
  /** Name shown to people. */
  String name();

  /** Its columns in a model; none where it was the same in all runs or is not known. */
  List<Column> columns();

  /**
   * A column of a model.
   *
   * @param per for what its change is
   */
  record Column(FixedColumn column, String per) {}

  /** The same influence on some of the runs. */
  KnownInfluence select(List<Integer> kept);

  /**
   * A quantity that moves values in proportion.
   *
   * @param unit its unit of measure; empty when it is not known
   * @param values one finite value for each run
   */
  record Covariate(String name, String unit, List<Double> values) implements KnownInfluence {
    public Covariate {
      values = List.copyOf(values);
      for (double value : values) {
        if (!Double.isFinite(value)) {
          throw new IllegalArgumentException(name + " must be finite, was " + value);
        }
      }
    }

    @Override
    public List<Column> columns() {
      if (values.stream().distinct().count() < 2) {
        return List.of();
      }
      double[] column = values.stream().mapToDouble(v -> v).toArray();
      return List.of(
          new Column(
              new FixedColumn(name, column), unit.isEmpty() ? "for 1 more" : "for 1 " + unit));
    }

    @Override
    public Covariate select(List<Integer> kept) {
      return new Covariate(name, unit, kept.stream().map(values::get).toList());
    }
  }

  /** Stretches of the study that may differ from one another. */
  record Block(String name, List<String> labels) implements KnownInfluence {
    public Block {
      labels = List.copyOf(labels);
    }

    /** A 0/1 column for each stretch after the first. */
    @Override
    public List<Column> columns() {
      List<String> levels = labels.stream().distinct().sorted().toList();
      return levels.stream().skip(1).map(level -> column(level, levels.get(0))).toList();
    }

    private Column column(String level, String first) {
      double[] column = labels.stream().mapToDouble(l -> l.equals(level) ? 1 : 0).toArray();
      return new Column(new FixedColumn(name + " " + level, column), level + " against " + first);
    }

    @Override
    public Block select(List<Integer> kept) {
      return new Block(name, kept.stream().map(labels::get).toList());
    }
  }

  /**
   * An influence that was asked for and is not known for every run.
   *
   * @param runs for how many it is not known
   */
  record NotRecorded(String name, int runs) implements KnownInfluence {
    @Override
    public List<Column> columns() {
      return List.of();
    }

    @Override
    public NotRecorded select(List<Integer> kept) {
      return this;
    }
  }
}
