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
  TITLE("--title", "TEXT", "Study", "Hive scale"),
  CELLS("--cells", "LOT=UNITS", null, "A=A-001..A-025, or A=25"),
  BOARDS("--boards", "LOT=UNITS", null, "X=X1,X2,X3, or X=25"),
  CHECK("--check", "CELL/BOARD", "", "K0/B0"),
  CELL_WORDS("--cell-words", "TEXT", "load cell"),
  BOARD_WORDS("--board-words", "TEXT", "converter board"),
  CAPACITY("--capacity", "MASS", null, "50 kg"),
  FACTOR("--default-factor", "FACTOR", null, "83886.08 counts/kg"),
  SCALE("--converter-scale", "SCALE", null, "2097152 counts/(mV/V)"),
  LOADS("--loads", "KG,KG...", "", "0,10,20,50,20,10,0"),
  TEMPERATURE("--temperature", "LOW..HIGH", null, "18..26"),
  BENCH_MASSES("--bench-masses", "CLASS", null, "F2, a class of OIML R 111"),
  LEVEL("--level", "none|KG,KG", "none", "none, 20, or 20,50; several: none; 20; 20,50"),
  WANTED("--wanted", "G", "", "50; for several levels 500; 50; 25"),
  CONTENT("--content", "F", "0.95"),
  CONFIDENCE("--confidence", "F", "0.95"),
  MOUNT("--mount", "MIN", "8"),
  RUN("--run", "MIN", "12"),
  WARM_UP("--warm-up", "MIN", "30"),
  HOURS_A_DAY("--hours-a-day", "H", "7"),
  MEAN("--mean", "G", "0"),
  CELL_SD("--cell-sd", "G|PERCENT", null, "3 g at this level, or ±10 % of a data sheet"),
  BOARD_SD("--board-sd", "G|PERCENT", null, "2 g at this level, or ±0.5 % of a data sheet"),
  COMBINED_ERROR("--combined-error", "PERCENT", "", "±0.05 %"),
  PAIRING_SD("--pairing-sd", "G", "0"),
  REPEAT_SD("--repeat-sd", "G", null, "1 g"),
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

  /** What a person may answer. */
  final String example;

  PlanSetting(String name, String label, String otherwise) {
    this(name, label, otherwise, otherwise);
  }

  PlanSetting(String name, String label, @Nullable String otherwise, String example) {
    this.name = name;
    this.label = label;
    this.otherwise = otherwise;
    this.example = example;
  }

  /** Its option; a list of texts where it is given once for each lot. */
  OptionSpec.Builder option() {
    OptionSpec.Builder option = OptionSpec.builder(name).order(FIRST).paramLabel(label);
    return this == CELLS || this == BOARDS
        ? option.type(List.class).auxiliaryTypes(String.class)
        : option.type(String.class);
  }
}
