package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What figures assume, on the command line. */
class AssumptionCommandsTest {
  @TempDir private Path temp;

  private static void edit(Path study, String from, String to) throws IOException {
    Path file = study.resolve("study.yaml");
    String text = Files.readString(file);
    assertThat(text).contains(from);
    Files.writeString(file, text.replace(from, to));
  }

  @Test
  void theDemoTellsOfItsMissingRun() {
    Ran claim = Ran.lotproof("claim", Demo.FOLDER, "--details");
    assertThat(claim.words())
        .contains("120 runs planned, 119 measured, 115 counted, 1 missing")
        .contains("1 run of the plan is missing without a cause")
        .contains("any such cell with any such board")
        .doesNotContain("paired by chance");
    assertThat(claim.err()).contains("warning: readings.csv").contains("planned");
    Ran json = Ran.lotproof("claim", Demo.FOLDER, "--json");
    assertThat(json.words())
        .contains(
            "\"kind\" : \"runs-missing\", \"effect\" : \"shown\", \"runs\" : 1, \"units\" : 0")
        .contains("\"plannedRuns\" : 120");
  }

  @Test
  void pairingIsAConditionUnlessItIsStated() throws IOException {
    Path study = Demo.copyInto(temp);
    edit(study, "  pairing: random\n", "");
    assertThat(Ran.lotproof("claim", study, "--details").words())
        .contains("Valid only if cells and boards were paired by chance, not matched");
    assertThat(Ran.lotproof("claim", study, "--json").words())
        .contains("\"kind\" : \"pairing-not-stated\", \"effect\" : \"condition\"");
    edit(study, "  kind: rotation\n", "  kind: rotation\n  pairing: matched\n");
    assertThat(Ran.lotproof("claim", study, "--details").words())
        .contains("kits whose board was matched to its cell as in this study")
        .doesNotContain("any such cell with any such board");
    assertThat(Ran.lotproof("limits", study, "--uncertainty", "1").words())
        .contains("those of kits matched in the same way")
        .contains("Boards were matched to their cells, so limits under which any cell may meet");
    assertThat(Ran.lotproof("claim", study, "--check", "±800 g for any cell and any board").words())
        .contains("not stated, matched kits")
        .contains("overstated, matched kits");
    edit(study, "pairing: matched", "pairing: fitted");
    Ran refused = Ran.lotproof("claim", study);
    assertThat(refused.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(refused.err()).contains("pairing").contains("random").contains("matched");
  }

  @Test
  void withTooMuchMissingThereIsNoFigure() throws IOException {
    Path study = Demo.copyInto(temp);
    Path record = study.resolve("readings.csv");
    List<String> kept = new ArrayList<>();
    Set<String> runs = new LinkedHashSet<>();
    for (String line : Files.readAllLines(record)) {
      String run = line.split(",", -1)[2];
      if (line.startsWith("#") || run.equals("run")) {
        kept.add(line);
        continue;
      }
      runs.add(run);
      if (runs.size() > 20) {
        kept.add(line);
      }
    }
    Files.write(record, kept);
    Ran claim = Ran.lotproof("claim", study);
    assertThat(claim.exit()).isEqualTo(Exit.NO);
    assertThat(claim.words())
        .contains("Not enough of the plan was measured: 120 runs planned,")
        .contains("without a cause");
    assertThat(Ran.lotproof("claim", study, "--json").words())
        .contains("\"kind\" : \"runs-missing\", \"effect\" : \"no-figure\"");
  }
}
