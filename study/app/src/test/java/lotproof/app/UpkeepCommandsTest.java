package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Decisions, production limits and later lots from the command line. */
class UpkeepCommandsTest {
  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void copyTheDemo() {
    study = Demo.copyInto(temp);
  }

  private String decisions() throws IOException {
    return Files.readString(study.resolve("decisions.csv"));
  }

  private Ran review(Object... more) {
    Object[] all = new Object[more.length + 2];
    all[0] = "review";
    all[1] = study;
    System.arraycopy(more, 0, all, 2, more.length);
    return Ran.lotproof(all);
  }

  @Test
  void whatADecisionNeedsIsAskedForByName() throws IOException {
    String before = decisions();
    assertThat(review("--decide", "excluded").err()).contains("missing option: --who");
    assertThat(review("--decide", "excluded", "--who", "M", "--when", "2026-11-20").err())
        .contains("either --unit or --run");
    assertThat(
            review("--decide", "gone", "--unit", "C3-0169", "--who", "M", "--when", "2026-11-20")
                .err())
        .contains("write one of: excluded, stays in, corrected, re-measured, screened");
    assertThat(
            review("--decide", "excluded", "--unit", "C3-169", "--who", "M", "--when", "2026")
                .err())
        .contains("did you mean \"C3-0169\"?");
    assertThat(review("--undo", "D9", "--who", "M", "--when", "2026-11-20", "--cause", "x").err())
        .contains("there is no decision \"D9\"");
    assertThat(review("--who", "M").err()).contains("--who belongs to --decide or --undo");
    assertThat(decisions()).isEqualTo(before);
  }

  @Test
  void aContradictionIsRefusedAndNothingIsLost() throws IOException {
    String before = decisions();
    Ran ran =
        review(
            "--decide",
            "excluded",
            "--unit",
            "C2-0343",
            "--cause",
            "bench damage",
            "--who",
            "M",
            "--when",
            "2026-11-20");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("D3 above already decides about cell C2-0343");
    assertThat(decisions()).isEqualTo(before);
  }

  @Test
  void aUnitIsShownWithItsEvidenceAndWhatWasDecided() {
    Ran ran = review("--about", "C3-0169");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.words())
        .contains("cell C3-0169", "Sensitivity 0.0225 mV/V, worse", "the same with each board")
        .contains("D5", "stays in", "holds");
    assertThat(ran.out().lines()).as("one screen").hasSizeLessThan(24);
    assertThat(review("--about", "nobody").out())
        .contains("nobody does not stand out", "No decision is about nobody");
  }

  @Test
  @Tag("slow")
  void anUndoIsANewLineAndTheMoveIsExplained() throws IOException {
    String before = decisions();
    Ran ran =
        review(
            "--undo",
            "D3",
            "--cause",
            "photo shows another cell",
            "--who",
            "Mara",
            "--when",
            "2026-11-20",
            "--json");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    JsonNode message = MessageSchema.checked(ran.out());
    assertThat(message.at("/decision/id").asText()).isEqualTo("D6");
    assertThat(message.at("/changes")).hasSize(3);
    assertThat(message.at("/changes/2/after/figureGrams").asDouble())
        .isGreaterThan(message.at("/changes/2/before/figureGrams").asDouble());
    assertThat(decisions())
        .isEqualTo(
            before + "D6,2026-11-20,Mara,withdrawn,cell,C2-0343,,D3,photo shows another cell,\n");
  }

  @Test
  @Tag("slow")
  void aUnitThatCouldShipLeadsToTheSplitClaim() throws IOException {
    String before = decisions();
    Ran ran =
        review(
            "--decide",
            "excluded",
            "--unit",
            "C1-0363",
            "--cause",
            "looks bad",
            "--who",
            "M",
            "--when",
            "2026-11-20");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.out())
        .contains("A unit that could ship stays in the claim")
        .contains("split brings nothing for");
    assertThat(ran.err()).contains("\"looks bad\" is no cause that was agreed");
    assertThat(decisions()).isEqualTo(before);
    MessageSchema.checked(review("--split", "C1-0363", "--json").out());
  }

  @Test
  void limitsRefuseWhatTheStudyDoesNotKnow() {
    assertThat(Ran.lotproof("limits", study, "--figure", "ten-point=4").err())
        .contains("no calibration level \"ten-point\"");
    assertThat(Ran.lotproof("limits", study, "--test-loads", "17").err())
        .contains("no reading at 17.0 kg");
    assertThat(Ran.lotproof("limits", study, "--uncertainty", "-1").err())
        .contains("uncertainty of the tester (g) must be above 0 and finite, was -1");
    assertThat(Ran.lotproof("limits", study, "--conformity", "95").err())
        .contains("conformity must lie between 0 and 1 (0.95 means 95 %), was 95");
  }

  @Test
  @Tag("slow")
  void limitsSayTheLimitAndWriteTables() throws IOException {
    Path to = temp.resolve("limits");
    Ran ran = Ran.lotproof("limits", study, "--to", to);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("ships only when it reads within").contains("no safety limits");
    assertThat(Files.readString(to.resolve("tables/pair-limits.csv"))).contains("one-point");
    Ran json = Ran.lotproof("limits", study, "--figure", "one-point=3.5", "--json");
    assertThat(json.exit()).isEqualTo(Exit.NO);
    JsonNode message = MessageSchema.checked(json.out());
    assertThat(message.at("/limits/levels/1/finished/kind").asText()).isEqualTo("cannot-protect");
  }

  /** Kits of the first lot under serials of their own. */
  private Path lot(String name, double gain) throws IOException {
    List<String> lines = Files.readAllLines(study.resolve("readings.csv"));
    String rows =
        lines.stream()
            .skip(1)
            .filter(line -> line.matches("S0[1-4],.*,C1-[0-9]+,.*"))
            .map(line -> later(line.split(",", -1), gain))
            .collect(Collectors.joining("\n"));
    String header =
        "session,time,run,step,cell,board,load [kg],output [counts],noise [counts],"
            + "cell temperature [°C],board temperature [°C]\n";
    return Files.writeString(temp.resolve(name), header + rows + "\n");
  }

  private static String later(String[] f, double gain) {
    return String.join(
        ",",
        f[0],
        f[1],
        f[2],
        f[3],
        "N" + f[4],
        "N" + f[5],
        f[6],
        Double.toString(gain * Double.parseDouble(f[7])),
        f[8],
        f[9],
        f[10]);
  }

  /** A lot's file with its loads as another column writes them. */
  private Path withLoads(Path lot, String header, double factor) throws IOException {
    StringBuilder changed = new StringBuilder();
    for (String line : Files.readAllLines(lot)) {
      String[] f = line.split(",", -1);
      f[6] =
          f[6].startsWith("load")
              ? header
              : String.format(java.util.Locale.ROOT, "%.5f", factor * Double.parseDouble(f[6]));
      changed.append(String.join(",", f)).append('\n');
    }
    return Files.writeString(temp.resolve("loads.csv"), changed.toString());
  }

  @Test
  void watchKnowsPlannedLoadsInAnyUnitAndNamesOthers() throws IOException {
    Path kilograms = lot("later.csv", 1);
    Path pounds = withLoads(kilograms, "load [lb]", 1 / 0.45359237);
    Ran same =
        Ran.lotproof("watch", study, kilograms, "--lot", "C6", "--date", "2027-02-01", "--dry-run");
    Ran ran =
        Ran.lotproof("watch", study, pounds, "--lot", "C6", "--date", "2027-02-01", "--dry-run");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(same.exit());
    assertThat(ran.out()).doesNotContain("other loads");
    Path other = withLoads(kilograms, "load [kg]", 1.01);
    Ran none =
        Ran.lotproof("watch", study, other, "--lot", "C6", "--date", "2027-02-01", "--dry-run");
    assertThat(none.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(none.err())
        .contains("loads.csv, line 3, column load [kg]")
        .contains("is planned with 5 kg");
    Ran told =
        Ran.lotproof(
            "watch",
            study,
            withLoads(kilograms, "Last", 1),
            "--lot",
            "C6",
            "--date",
            "2027-02-01",
            "--dry-run",
            "--column",
            "Last=load [kg]");
    assertThat(told.exit()).as(told.err()).isEqualTo(same.exit());
  }

  @Test
  void watchRefusesWhatItCannotUse() throws IOException {
    Path file = lot("later.csv", 1);
    assertThat(Ran.lotproof("watch", study, file, "--lot", "C6").err())
        .contains("missing option: --date");
    assertThat(Ran.lotproof("watch", study, file, "--lot", "C6", "--date", "2026-13-01").err())
        .contains("is no date; write 2026-03-05");
    assertThat(Ran.lotproof("watch", study, "--lot", "C6").err()).contains("FILE is missing");
    assertThat(Ran.lotproof("watch", study, "--issue", "--date", "2026-11-01").err())
        .contains("missing option: --who");
    Path own = temp.resolve("own.csv");
    Files.writeString(own, Files.readString(file).replace("NC1-", "C1-"));
    Ran ran = Ran.lotproof("watch", study, own, "--lot", "C6", "--date", "2026-11-01");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("own.csv, line 2, column cell").contains("of the study");
    assertThat(Ran.lotproof("watch", study, "--to", temp.resolve("charts")).out())
        .contains("No later lot was checked")
        .contains("nothing was drawn");
    assertThat(study.resolve("watch.csv")).doesNotExist();
  }

  @Test
  @Tag("slow")
  void watchKeepsItsHistoryAndHoldsABadLot() throws IOException {
    assertThat(
            Ran.lotproof("watch", study, "--issue", "--who", "Mara", "--date", "2026-10-01").exit())
        .isEqualTo(Exit.DONE);
    Path good = lot("good.csv", 1);
    Ran held = Ran.lotproof("watch", study, good, "--lot", "C6", "--date", "2026-11-02", "--json");
    assertThat(held.exit()).isEqualTo(Exit.DONE);
    JsonNode message = MessageSchema.checked(held.out());
    assertThat(message.at("/checked/0/verdict").asText()).isEqualTo("claim holds");
    assertThat(message.at("/history")).hasSize(3);
    assertThat(message.at("/versions")).hasSize(3);
    String history = Files.readString(study.resolve("watch.csv"));

    Ran earlier = Ran.lotproof("watch", study, good, "--lot", "C9", "--date", "2026-10-31");
    assertThat(earlier.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(earlier.err()).contains("2026-10-31 is before check W1 of 2026-11-02");
    Ran again = Ran.lotproof("watch", study, good, "--lot", "C6", "--date", "2026-11-02");
    assertThat(again.out()).contains("the history is as it was");
    assertThat(Files.readString(study.resolve("watch.csv"))).isEqualTo(history);

    Ran bad =
        Ran.lotproof("watch", study, lot("bad.csv", 1.03), "--lot", "C7", "--date", "2026-11-03");
    assertThat(bad.exit()).isEqualTo(Exit.NO);
    assertThat(bad.out()).contains("Lot C7: hold the lot.").contains("Found: none:");
    assertThat(Files.readString(study.resolve("watch.csv"))).startsWith(history);
    Path charts = temp.resolve("charts");
    assertThat(Ran.lotproof("watch", study, "--to", charts).out())
        .contains("W2")
        .contains("V1")
        .contains("6 charts are in");
    assertThat(charts.resolve("later-lots-1-none-mean.svg")).isNotEmptyFile();
    assertThat(charts.resolve("later-lots-3-two-point-20-50-kg-largest.png")).isNotEmptyFile();
  }
}
