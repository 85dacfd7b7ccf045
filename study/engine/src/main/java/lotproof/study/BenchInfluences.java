package lotproof.study;

import java.util.List;

/**
 * What is known to move readings beside the units, and is to be taken out of the spread: declared
 * before the data, in {@code spread} of study.yaml. Figures of a claim do not use it, since a
 * buyer's kit is read at any temperature and on any day.
 */
public record BenchInfluences(List<Covariate> covariates, List<Block> blocks) {
  /** Nothing is taken out. */
  public static final BenchInfluences NONE = new BenchInfluences(List.of(), List.of());

  /** A quantity that each run carries. */
  public enum Covariate implements Keyed {
    CELL_TEMPERATURE("°C"),
    BOARD_TEMPERATURE("°C"),
    /** Position of the run in the record: a steady drift of the bench. */
    RUN_ORDER("run");

    private final String unit;

    Covariate(String unit) {
      this.unit = unit;
    }

    /** The name shown to people. */
    public String title() {
      return key().replace('-', ' ');
    }

    /** Its unit of measure. */
    public String unit() {
      return unit;
    }
  }

  /** A way to cut the study into stretches. */
  public enum Block implements Keyed {
    SESSION,
    DAY
  }

  public BenchInfluences {
    covariates = Require.distinct(covariates, "covariates");
    blocks = Require.distinct(blocks, "blocks");
  }

  /** Whether nothing is taken out. */
  public boolean isEmpty() {
    return covariates.isEmpty() && blocks.isEmpty();
  }
}
