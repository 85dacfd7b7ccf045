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
  TITLE("--title", "TEXT", "short name of the study", "Study"),
  CELLS(
      "--cells",
      "LOT=UNITS",
      "a lot of cells with its serials, A=A-001..A-010 or A=7,9,12, or with their number, A=10;"
          + " once for each lot",
      null),
  BOARDS("--boards", "LOT=UNITS", "a lot of boards, likewise", null),
  CHECK(
      "--check",
      "CELL/BOARD",
      "the check standard: a pair that belongs to no lot and is kept mounted",
      ""),
  CELL_WORDS("--cell-words", "TEXT", "the cell in a few words", "load cell"),
  BOARD_WORDS("--board-words", "TEXT", "the board in a few words", "converter board"),
  CAPACITY("--capacity", "MASS", "rated capacity, such as \"50 kg\"", null),
  FACTOR(
      "--default-factor", "FACTOR", "factory default factor, such as \"83886.08 counts/kg\"", null),
  SCALE(
      "--converter-scale",
      "SCALE",
      "nominal scale of the converter, such as \"2097152 counts/(mV/V)\"",
      null),
  LOADS(
      "--loads",
      "KG,KG...",
      "loads of a run in kg, in order (default: quarters of the capacity, up and down)",
      ""),
  TEMPERATURE(
      "--temperature", "LOW..HIGH", "temperatures of the claim in °C, such as 18..26", null),
  BENCH_MASSES(
      "--bench-masses", "CLASS", "class of the bench's masses by OIML R 111, such as F2", null),
  WANTED("--wanted", "G", "the figure to be printed, ± grams", ""),
  LEVEL(
      "--level",
      "none|KG,KG",
      "what the buyer does before reading: none, or calibration masses in kg",
      "none"),
  CONTENT("--content", "F", "fraction of kits that the figure holds for", "0.95"),
  CONFIDENCE("--confidence", "F", "confidence of the claim", "0.95"),
  MOUNT("--mount", "MIN", "minutes to mount and exercise a pair", "8"),
  RUN("--run", "MIN", "minutes for the loads of a run", "12"),
  WARM_UP("--warm-up", "MIN", "minutes of warm-up a session", "30"),
  HOURS_A_DAY("--hours-a-day", "H", "hours on the bench a day", "7"),
  MEAN("--mean", "G", "mean error of all kits at the worst load, grams", "0"),
  CELL_SD("--cell-sd", "G", "spread between cells at the worst load, grams", null),
  BOARD_SD("--board-sd", "G", "spread between boards, grams", null),
  PAIRING_SD("--pairing-sd", "G", "spread of pairing, grams", "0"),
  REPEAT_SD("--repeat-sd", "G", "spread from one run of a pair to the next, grams", null),
  CELL_LOT_SHARE(
      "--cell-lot-share", "F", "part of the cells' variance that is between lots, 0..1", "0.25"),
  BOARD_LOT_SHARE(
      "--board-lot-share", "F", "part of the boards' variance that is between lots, 0..1", "0.25");

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
  private final String words;

  PlanSetting(String name, String label, String words, @Nullable String otherwise) {
    this.name = name;
    this.label = label;
    this.words = words;
    this.otherwise = otherwise;
  }

  /** Its option; a list of texts where it is given once for each lot. */
  OptionSpec.Builder option() {
    String known = otherwise == null || otherwise.isEmpty() ? "" : " (default " + otherwise + ")";
    OptionSpec.Builder option =
        OptionSpec.builder(name).order(FIRST).paramLabel(label).description(words + known);
    return this == CELLS || this == BOARDS
        ? option.type(List.class).auxiliaryTypes(String.class)
        : option.type(String.class);
  }

  /** The question that asks for it. */
  String question() {
    String plain = words.replaceAll(" \\(default.*", "");
    return Character.toUpperCase(plain.charAt(0)) + plain.substring(1);
  }
}
