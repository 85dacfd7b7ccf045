package lotproof.app.bench;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.app.cli.UnitTable.SerialRule;
import lotproof.plan.design.SideSheets;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What {@code plan} is told and never asks for. */
final class PlanOptions {
  @Option(names = "--serials", paramLabel = "RULE")
  SerialRule serials = SerialRule.UNIQUE;

  @Option(names = "--buyer-masses", paramLabel = "CLASS")
  String buyerMasses = "M1";

  @Option(names = "--rounding", paramLabel = "G")
  double rounding = 1;

  @Option(names = "--cause", paramLabel = "TEXT")
  List<String> causes = List.of("bench damage", "production screen", "wrong wiring");

  @Option(names = "--most-hours", paramLabel = "H")
  OptionalDouble mostHours = OptionalDouble.empty();

  @Option(names = "--design", paramLabel = "KEY")
  @Nullable String design;

  @Option(names = "--reference", paramLabel = "CELL/BOARD")
  @Nullable String reference;

  @Option(names = "--dummy-bridge")
  boolean dummyBridge;

  @Option(names = "--side-test", paramLabel = "EFFECT=KG,KG,...:COVERS")
  List<String> sideTests = List.of();

  @Option(names = "--side-kits", paramLabel = "N")
  int sideKits = SideSheets.KITS;

  @Option(names = "--seed")
  long seed = 1;
}
