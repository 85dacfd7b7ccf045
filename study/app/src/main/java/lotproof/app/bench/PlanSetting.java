package lotproof.app.bench;

import java.util.List;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.OptionSpec;

/**
 * Something that a plan must know. An option gives it, or a person who is asked, or the default.
 *
 * @param option name of the option
 * @param label what stands for its value in help
 * @param words what it is, in help and in the question
 * @param otherwise the default; null where there is none, empty where it may be left out
 */
record PlanSetting(String option, String label, String words, @Nullable String otherwise) {
  /** Above other options in help, whose order is -1. */
  private static final int FIRST = -2;

  static final PlanSetting TITLE =
      new PlanSetting("--title", "TEXT", "short name of the study", "Study");
  static final PlanSetting CELL_WORDS =
      new PlanSetting("--cell-words", "TEXT", "the cell in a few words", "load cell");
  static final PlanSetting BOARD_WORDS =
      new PlanSetting("--board-words", "TEXT", "the board in a few words", "converter board");
  static final PlanSetting CAPACITY =
      new PlanSetting("--capacity", "MASS", "rated capacity, such as \"50 kg\"", null);
  static final PlanSetting FACTOR =
      new PlanSetting(
          "--default-factor",
          "FACTOR",
          "factory default factor, such as \"83886.08 counts/kg\"",
          null);
  static final PlanSetting SCALE =
      new PlanSetting(
          "--converter-scale",
          "SCALE",
          "nominal scale of the converter, such as \"2097152 counts/(mV/V)\"",
          null);
  static final PlanSetting CELLS =
      new PlanSetting(
          "--cells",
          "LOT=UNITS",
          "a lot of cells with its serials, A=A-001..A-010 or A=7,9,12, or with their number, A=10;"
              + " once for each lot",
          null);
  static final PlanSetting BOARDS =
      new PlanSetting("--boards", "LOT=UNITS", "a lot of boards, likewise", null);
  static final PlanSetting CHECK =
      new PlanSetting(
          "--check",
          "CELL/BOARD",
          "the check standard: a pair that belongs to no lot and is kept mounted",
          "");
  static final PlanSetting LOADS =
      new PlanSetting(
          "--loads",
          "KG,KG...",
          "loads of a run in kg, in order (default: quarters of the capacity, up and down)",
          "");
  static final PlanSetting LEVEL =
      new PlanSetting(
          "--level",
          "none|KG,KG",
          "what the buyer does before reading: none, or calibration masses in kg",
          "none");
  static final PlanSetting WANTED =
      new PlanSetting("--wanted", "G", "the figure to be printed, ± grams", "");
  static final PlanSetting CONTENT =
      new PlanSetting("--content", "F", "fraction of kits that the figure holds for", "0.95");
  static final PlanSetting CONFIDENCE =
      new PlanSetting("--confidence", "F", "confidence of the claim", "0.95");
  static final PlanSetting TEMPERATURE =
      new PlanSetting(
          "--temperature", "LOW..HIGH", "temperatures of the claim in °C, such as 18..26", null);
  static final PlanSetting BENCH_MASSES =
      new PlanSetting(
          "--bench-masses", "CLASS", "class of the bench's masses by OIML R 111, such as F2", null);
  static final PlanSetting MOUNT =
      new PlanSetting("--mount", "MIN", "minutes to mount and exercise a pair", "8");
  static final PlanSetting RUN =
      new PlanSetting("--run", "MIN", "minutes for the loads of a run", "12");
  static final PlanSetting WARM_UP =
      new PlanSetting("--warm-up", "MIN", "minutes of warm-up a session", "30");
  static final PlanSetting HOURS_A_DAY =
      new PlanSetting("--hours-a-day", "H", "hours on the bench a day", "7");

  /** In the order of help. */
  static final List<PlanSetting> ALL =
      List.of(
          TITLE,
          CELLS,
          BOARDS,
          CHECK,
          CELL_WORDS,
          BOARD_WORDS,
          CAPACITY,
          FACTOR,
          SCALE,
          LOADS,
          TEMPERATURE,
          BENCH_MASSES,
          WANTED,
          LEVEL,
          CONTENT,
          CONFIDENCE,
          MOUNT,
          RUN,
          WARM_UP,
          HOURS_A_DAY);

  /** Its option; a list of texts where it is given once for each lot. */
  OptionSpec spec() {
    String help =
        words + (otherwise == null || otherwise.isEmpty() ? "" : " (default " + otherwise + ")");
    OptionSpec.Builder spec =
        OptionSpec.builder(option).order(FIRST).paramLabel(label).description(help);
    return label.equals(CELLS.label)
        ? spec.type(List.class).auxiliaryTypes(String.class).build()
        : spec.type(String.class).build();
  }

  /** The question that asks for it. */
  String question() {
    return Character.toUpperCase(words.charAt(0))
        + words.substring(1).replaceAll(" \\(default.*", "");
  }
}
