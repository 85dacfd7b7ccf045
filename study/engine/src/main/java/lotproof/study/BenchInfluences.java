package lotproof.study;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * What is known to move readings beside the units, and is to be taken out of the spread: declared
 * before the data, in {@code spread} of study.yaml. Figures of a claim do not use it, since a
 * buyer's kit is read at any temperature and on any day.
 *
 * @param covariates quantities that move readings in proportion
 * @param blocks stretches of the study that may differ from one another
 */
public record BenchInfluences(List<Covariate> covariates, List<Block> blocks) {
  /** Nothing is taken out. */
  public static final BenchInfluences NONE = new BenchInfluences(List.of(), List.of());

  /** A quantity that each run carries. */
  public enum Covariate {
    CELL_TEMPERATURE("cell-temperature", "cell temperature", "°C"),
    BOARD_TEMPERATURE("board-temperature", "board temperature", "°C"),
    /** Position of the run in the record: a steady drift of the bench. */
    RUN_ORDER("run-order", "run order", "run");

    private final String key;
    private final String title;
    private final String unit;

    Covariate(String key, String title, String unit) {
      this.key = key;
      this.title = title;
      this.unit = unit;
    }

    /** The name used in study.yaml. */
    public String key() {
      return key;
    }

    /** The name shown to people. */
    public String title() {
      return title;
    }

    /** Its unit of measure. */
    public String unit() {
      return unit;
    }

    /** The covariate with this key, if there is one. */
    public static Optional<Covariate> ofKey(String key) {
      return Arrays.stream(values()).filter(c -> c.key.equals(key)).findFirst();
    }
  }

  /** A way to cut the study into stretches. */
  public enum Block {
    SESSION("session"),
    DAY("day");

    private final String key;

    Block(String key) {
      this.key = key;
    }

    /** The name used in study.yaml. */
    public String key() {
      return key;
    }

    /** The block with this key, if there is one. */
    public static Optional<Block> ofKey(String key) {
      return Arrays.stream(values()).filter(b -> b.key.equals(key)).findFirst();
    }
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
