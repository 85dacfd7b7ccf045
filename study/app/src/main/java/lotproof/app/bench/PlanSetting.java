package lotproof.app.bench;

import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.OptionSpec;

/**
 * Something that a plan must know. An option gives it, or a person who is asked, or the default.
 */
enum PlanSetting {
  TITLE("--title", "TEXT", "Study"),
  CELLS("--cells", "LOT=UNITS", null),
  BOARDS("--boards", "LOT=UNITS", null),
  CHECK("--check", "CELL/BOARD", ""),
  CELL_WORDS("--cell-words", "TEXT", "load cell"),
  BOARD_WORDS("--board-words", "TEXT", "converter board"),
  CAPACITY("--capacity", "MASS", null),
  FACTOR("--default-factor", "FACTOR", null),
  SCALE("--converter-scale", "SCALE", null),
  LOADS("--loads", "KG,KG...", ""),
  TEMPERATURE("--temperature", "LOW..HIGH", null),
  BENCH_MASSES("--bench-masses", "CLASS", null),
  WANTED("--wanted", "G", ""),
  LEVEL("--level", "none|KG,KG", "none"),
  CONTENT("--content", "F", "0.95"),
  CONFIDENCE("--confidence", "F", "0.95"),
  MOUNT("--mount", "MIN", "8"),
  RUN("--run", "MIN", "12"),
  WARM_UP("--warm-up", "MIN", "30"),
  HOURS_A_DAY("--hours-a-day", "H", "7"),
  MEAN("--mean", "G", "0"),
  CELL_SD("--cell-sd", "G|PERCENT", null),
  BOARD_SD("--board-sd", "G|PERCENT", null),
  COMBINED_ERROR("--combined-error", "PERCENT", ""),
  PAIRING_SD("--pairing-sd", "G", "0"),
  REPEAT_SD("--repeat-sd", "G", null),
  CELL_LOT_SHARE("--cell-lot-share", "F", "0.25"),
  BOARD_LOT_SHARE("--board-lot-share", "F", "0.25");

  /** What is taken to be true of the spread. */
  static final Set<PlanSetting> SPREAD = EnumSet.range(MEAN, BOARD_LOT_SHARE);

  /** Everything else. */
  static final Set<PlanSetting> STUDY = EnumSet.complementOf(EnumSet.copyOf(SPREAD));

  /** Above other options in help, whose order is -1. */
  private static final int FIRST = -2;

  /** The name of its option. */
  final String name;

  /** The default; null where there is none, empty where it may be left out. */
  final @Nullable String otherwise;

  private final String label;

  PlanSetting(String name, String label, @Nullable String otherwise) {
    this.name = name;
    this.label = label;
    this.otherwise = otherwise;
  }

  /** Its option; a list of texts where it is given once for each lot. */
  OptionSpec.Builder option() {
    OptionSpec.Builder option = OptionSpec.builder(name).order(FIRST).paramLabel(label);
    return this == CELLS || this == BOARDS
        ? option.type(List.class).auxiliaryTypes(String.class)
        : option.type(String.class);
  }
}
