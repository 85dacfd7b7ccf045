package lotproof.app.bench;

import java.util.List;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.plan.design.SideSheets;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What {@code plan} is told and never asks for. */
final class PlanOptions {
  @Option(
      names = "--serials",
      paramLabel = "RULE",
      description =
          "unique (default): a serial names one unit; per-lot: serials start again in every lot,"
              + " and units are named LOT/SERIAL")
  SerialRule serials = SerialRule.UNIQUE;

  @Option(
      names = "--buyer-masses",
      paramLabel = "CLASS",
      description = "class of the buyer's calibration masses (default M1)")
  String buyerMasses = "M1";

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

  @Option(names = "--most-hours", paramLabel = "H", description = "available bench hours")
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
          "a side test with its steps in kg and what it covers, such as"
              + " \"off-centre=0,20,20,20,20,20: loads up to 100 mm off the centre\"; effects:"
              + " off-centre, creep, drift; once for each")
  List<String> sideTests = List.of();

  @Option(names = "--side-kits", paramLabel = "N", description = "kits per side test (default 10)")
  int sideKits = SideSheets.KITS;

  @Option(names = "--seed", description = "decides everything random (default 1)")
  long seed = 1;
}
