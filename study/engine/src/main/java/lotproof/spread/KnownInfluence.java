package lotproof.spread;

import java.util.List;

/** Something beside the units that moves values and is known for each of them. */
public sealed interface KnownInfluence {
  /** Name shown to people. */
  String name();

  /** The same influence on some of the runs. */
  KnownInfluence select(List<Integer> kept);

  /**
   * A quantity that moves values in proportion.
   *
   * @param name name shown to people
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
    public Covariate select(List<Integer> kept) {
      return new Covariate(name, unit, kept.stream().map(values::get).toList());
    }
  }

  /**
   * Stretches of the study that may differ from one another.
   *
   * @param name name shown to people
   * @param labels the stretch of each run
   */
  record Block(String name, List<String> labels) implements KnownInfluence {
    public Block {
      labels = List.copyOf(labels);
    }

    @Override
    public Block select(List<Integer> kept) {
      return new Block(name, kept.stream().map(labels::get).toList());
    }
  }

  /**
   * An influence that was asked for and is not known for every run.
   *
   * @param name name shown to people
   * @param reason why it cannot be used, in a sentence
   */
  record NotRecorded(String name, String reason) implements KnownInfluence {
    @Override
    public NotRecorded select(List<Integer> kept) {
      return this;
    }
  }
}
