package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Random;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A study of boards alone on a dummy bridge, from its file to limits and later lots. */
class UnitsAloneTest {
  private static final double[] LOADS = {0, 10, 25, 40, 50, 25, 0};
  private static final String DEFINITION =
      """
      format: lotproof-study-1
      title: "Boards alone"
      question: "Which error can we promise for a board alone?"
      seed: 11
      kit:
        cell: "single-point load cell, 50 kg, 2 mV/V"
        board: "bridge converter board, 24 bit"
        capacity: 50 kg
        default-factor: 80000 counts/kg
        converter-scale: 2000000 counts/(mV/V)
      lots:
        boards:
          - lot: B1
            units: [SERIALS]
      design:
        kind: reference-partner
        reference: {cell: DB-1, board: RB-1, dummy-bridge: true}
        loads: [0 kg, 10 kg, 25 kg, 40 kg, 50 kg, 25 kg, 0 kg]
      causes: [bench damage]
      claim:
        content: 0.95
        confidence: 0.95
        rounding: 1 g
        for: board
        levels:
          - level: none
      conditions:
        temperature: {lowest: 19 °C, highest: 25 °C}
        bench-mass-class: F2
      """;

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void measureTwentyBoards() throws IOException {
    study = Files.createDirectory(temp.resolve("boards"));
    StringBuilder serials = new StringBuilder();
    for (int i = 0; i < 20; i++) {
      serials.append(i == 0 ? "" : ", ").append("B1-").append(100 + i);
    }
    Files.writeString(study.resolve("study.yaml"), DEFINITION.replace("SERIALS", serials));
    Path readings = readings("bench.csv", "B1-", 20, 0);
    Ran ran = Ran.lotproof("import", study, readings, "--yes");
    assertThat(ran.err()).doesNotContain("error");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
  }

  private Path readings(String name, String serial, int boards, double gain) throws IOException {
    Random random = new Random(7 + name.length());
    StringBuilder rows =
        new StringBuilder(
            "session,run,step,cell,board,load [kg],output [counts],noise [counts],cell temperature"
                + " [°C]\n");
    for (int i = 0; i < boards; i++) {
      double slope = 80_000 * (1 + gain + 0.0008 * random.nextGaussian());
      double offset = 1000 + 300 * random.nextGaussian();
      for (int k = 0; k < LOADS.length; k++) {
        rows.append(
            String.format(
                Locale.ROOT,
                "S1,%sR%02d,%d,DB-1,%s%d,%.0f,%.1f,%.1f,22.%d%n",
                name.charAt(0),
                i,
                k + 1,
                serial,
                100 + i,
                LOADS[k],
                offset + slope * LOADS[k] + 20 * random.nextGaussian(),
                20 + 10 * random.nextDouble(),
                i % 5));
      }
    }
    return Files.writeString(temp.resolve(name), rows);
  }

  @Test
  void theReportSpeaksOfBoardsAndHasASectionOfTheJig() throws IOException {
    assertThat(Ran.lotproof("claim", study).words())
        .contains("The figure is for boards alone, each on the dummy bridge DB-1.")
        .contains("One board sets the figure");
    Ran claim = Ran.lotproof("claim", study, "--details");
    assertThat(claim.words())
        .containsPattern("of boards of lot \\S+, each on the dummy bridge DB-1")
        .contains("95 % of boards")
        .doesNotContain("% of kits")
        .doesNotContain("tested kits");
    Path to = temp.resolve("out");
    assertThat(Ran.lotproof("report", study, "--to", to).exit()).isEqualTo(Exit.DONE);
    String text = Files.readString(to.resolve("report.txt"));
    assertThat(text).contains("What do boards do on the jig?").doesNotContain("% of kits");
    assertThat(Files.readString(to.resolve("tables/bounds.csv")))
        .containsPattern("(?s)number-measured,number-tested-alone,number-independent.*,20,20,20,");
    assertThat(Files.readString(to.resolve("tables/jig-limits.csv")))
        .contains("Gain, from the factory default factor")
        .contains("Offset")
        .contains("Noise of a sample, rms")
        .contains("Noise-free resolution");
  }

  @Test
  void aDraftThatSpeaksOfKitsOverstates() {
    Ran check =
        Ran.lotproof("claim", study, "--check", "Error of reading ±200 g for 95 % of our scales");
    assertThat(check.words())
        .contains("overstated, what it is for")
        .contains("the figure is for boards alone, each on the dummy bridge DB-1");
    assertThat(check.exit()).isEqualTo(Exit.NO);
  }

  @Test
  void limitsAndLaterLotsSpeakOfBoards() throws IOException {
    assertThat(Ran.lotproof("limits", study, "--figure", "none=400", "--uncertainty", "2").out())
        .contains("Test of every board on the dummy bridge DB-1")
        .containsPattern("any board that\\s+ships")
        .containsPattern("the\\s+stated\\s+uncertainty\\s+of\\s+the\\s+tester\\s+must\\s+hold");
    Path like = readings("like.csv", "N", 5, 0);
    Path other = readings("other.csv", "N", 5, 0.02);
    Ran held = Ran.lotproof("watch", study, like, "--lot", "B2", "--date", "2026-11-02");
    assertThat(held.out()).contains("claim holds").contains("5 boards that share no unit");
    Ran refused = Ran.lotproof("watch", study, other, "--lot", "B3", "--date", "2026-11-03");
    assertThat(refused.out()).contains("hold the lot");
    assertThat(refused.exit()).isEqualTo(Exit.NO);
  }

  /** No board was measured twice, so neither message guarantees anything, for the same reason. */
  @Test
  void claimAndLimitsSayTheSameOfProduction() throws IOException {
    Ran claim = Ran.lotproof("claim", study, "--json");
    Ran limits = Ran.lotproof("limits", study, "--json");
    JsonNode production = MessageSchema.checked(claim.out()).at("/production/levels");
    assertThat(production).isEqualTo(MessageSchema.checked(limits.out()).at("/limits/levels"));
    assertThat(production.at("/0/finished/why"))
        .hasToString("{\"kind\":\"repeatability-not-known\",\"degreesOfFreedom\":0,\"needed\":10}");
    String reason = "does not know how well a test of one board repeats";
    assertThat(Ran.lotproof("limits", study).out().replaceAll("\\s+", " ")).contains(reason);
    assertThat(limits.exit()).isEqualTo(Exit.NO);
  }

  @Test
  void lotsOfBothKindsAreAskedForWhereTheClaimIsForKits() throws IOException {
    Path file = study.resolve("study.yaml");
    Files.writeString(file, Files.readString(file).replace("  for: board\n", ""));
    Ran ran = Ran.lotproof("claim", study);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("cells");
  }
}
