package lotproof.app;

import java.util.List;
import lotproof.plan.design.SideSheets;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What {@code plan} is told about the kit, the units, the claim and the bench. */
final class PlanOptions {
  @Option(names = "--title", paramLabel = "TEXT", description = "short name of the study")
  @Nullable String title;

  @Option(
      names = "--cells",
      paramLabel = "LOT=UNITS",
      description =
          "a lot of cells with its serials, A=A-001..A-010 or A=7,9,12, or with their number, A=10;"
              + " once for each lot")
  List<String> cells = List.of();

  @Option(names = "--boards", paramLabel = "LOT=UNITS", description = "a lot of boards, likewise")
  List<String> boards = List.of();

  @Option(
      names = "--serials",
      paramLabel = "RULE",
      description =
          "unique (default): a serial names one unit; per-lot: serials start again in every lot, and"
              + " units are named LOT/SERIAL")
  SerialRule serials = SerialRule.UNIQUE;

  @Option(
      names = "--check",
      paramLabel = "CELL/BOARD",
      description = "the check standard: a pair that belongs to no lot and is kept mounted")
  @Nullable String check;

  @Option(names = "--cell-words", paramLabel = "TEXT", description = "the cell in a few words")
  @Nullable String cellWords;

  @Option(names = "--board-words", paramLabel = "TEXT", description = "the board in a few words")
  @Nullable String boardWords;

  @Option(names = "--capacity", paramLabel = "MASS", description = "rated capacity, \"50 kg\"")
  @Nullable String capacity;

  @Option(
      names = "--default-factor",
      paramLabel = "FACTOR",
      description = "factory default factor, \"83886.08 counts/kg\"")
  @Nullable String factor;

  @Option(
      names = "--converter-scale",
      paramLabel = "SCALE",
      description = "nominal scale of the converter, \"2097152 counts/(mV/V)\"")
  @Nullable String scale;

  @Option(
      names = "--loads",
      paramLabel = "KG,KG...",
      description = "loads of a run in order (default: quarters of the capacity, up and down)")
  @Nullable String loads;

  @Option(
      names = "--temperature",
      paramLabel = "LOW..HIGH",
      description = "temperatures of the claim in °C, 18..26")
  @Nullable String temperature;

  @Option(
      names = "--bench-masses",
      paramLabel = "CLASS",
      description = "class of the bench's masses by OIML R 111")
  @Nullable String benchMasses;

  @Option(names = "--wanted", paramLabel = "G", description = "the figure to be printed, in grams")
  @Nullable String wanted;

  @Option(
      names = "--level",
      paramLabel = "none|KG,KG",
      description = "what the buyer has done: none, or calibration masses in kg (default none)")
  @Nullable String level;

  @Option(
      names = "--buyer-masses",
      paramLabel = "CLASS",
      description = "class of the buyer's calibration masses (default M1)")
  String buyerMasses = "M1";

  @Option(names = "--content", paramLabel = "F", description = "fraction of kits (default 0.95)")
  @Nullable String content;

  @Option(names = "--confidence", paramLabel = "F", description = "confidence (default 0.95)")
  @Nullable String confidence;

  @Option(
      names = "--rounding",
      paramLabel = "G",
      description = "step to which figures are rounded outward (default 1)")
  double rounding = 1;

  @Option(
      names = "--cause",
      paramLabel = "TEXT",
      description =
          "a cause for which something may be left out; once for each (default: bench damage,"
              + " production screen, wrong wiring)")
  List<String> causes = List.of("bench damage", "production screen", "wrong wiring");

  @Option(
      names = "--mount",
      paramLabel = "MIN",
      description = "minutes to mount and exercise a pair (default 8)")
  @Nullable String mount;

  @Option(
      names = "--run",
      paramLabel = "MIN",
      description = "minutes for the loads of a run (default 12)")
  @Nullable String run;

  @Option(
      names = "--warm-up",
      paramLabel = "MIN",
      description = "minutes of warm-up a session (default 30)")
  @Nullable String warmUp;

  @Option(
      names = "--hours-a-day",
      paramLabel = "H",
      description = "hours on the bench a day (default 7)")
  @Nullable String hoursADay;

  @Option(names = "--most-hours", paramLabel = "H", description = "bench hours that can be had")
  @Nullable Double mostHours;

  @Option(
      names = "--design",
      paramLabel = "KEY",
      description = "plan this design instead of the recommended one")
  @Nullable String design;

  @Option(
      names = "--reference",
      paramLabel = "CELL/BOARD",
      description =
          "the reference partners of --design reference-partner: a cell and a board that belong to"
              + " no lot")
  @Nullable String reference;

  @Option(names = "--dummy-bridge", description = "the reference cell is a dummy bridge")
  boolean dummyBridge;

  @Option(
      names = "--side-test",
      paramLabel = "EFFECT=KG,KG,...:COVERS",
      description =
          "a side test with its steps in kg and what it covers, such as \"off-centre=0,20,20,20,20,20:"
              + " loads up to 100 mm off the centre\"; effects: off-centre, creep, drift; once for each")
  List<String> sideTests = List.of();

  @Option(
      names = "--side-kits",
      paramLabel = "N",
      description = "kits that each side test takes (default 10)")
  int sideKits = SideSheets.KITS;

  @Option(names = "--seed", description = "decides everything random (default 1)")
  long seed = 1;
}
