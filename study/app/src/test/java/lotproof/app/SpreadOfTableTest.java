package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SpreadOfTableTest {
  @TempDir private Path temp;

  private Path table(String content) throws IOException {
    return Files.writeString(temp.resolve("results.csv"), content);
  }

  /** Two lots of two cells, each measured twice: balanced, so the answer is known by hand. */
  private Path nested() throws IOException {
    return table(
        """
        serial,lot,gain
        a1,A,10
        a1,A,12
        a2,A,14
        a2,A,16
        b1,B,30
        b1,B,32
        b2,B,34
        b2,B,36
        """);
  }

  @Test
  void aBalancedTableGivesTheComponentsOfItsMeanSquares() throws IOException {
    Ran ran =
        Ran.lotproof(
            "spread",
            nested(),
            "--value",
            "gain",
            "--cell",
            "serial",
            "--cell-lot",
            "lot",
            "--unit",
            "mV/V",
            "--json");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    JsonNode estimated = MessageSchema.checked(ran.out()).at("/spreads/0/outcome");
    // mean squares: within 2, cells 16, lots 800; components 2, (16 - 2)/2 = 7, (800 - 16)/4 = 196
    assertThat(estimated.at("/mean").asDouble()).isCloseTo(23, within(1e-9));
    assertThat(estimated.at("/components/0/variance").asDouble()).isCloseTo(196, within(1e-3));
    assertThat(estimated.at("/components/1/variance").asDouble()).isCloseTo(7, within(1e-4));
    assertThat(estimated.at("/components/2/variance").asDouble()).isCloseTo(2, within(1e-5));
  }

  @Test
  void theTableIsShownInWords() throws IOException {
    Ran ran =
        Ran.lotproof("spread", nested(), "--value", "gain", "--cell", "serial", "--unit", "mV/V");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("results.csv").contains("8 values").contains("Cells");
  }

  @Test
  void aMissingColumnNamesTheNearest() throws IOException {
    Ran ran = Ran.lotproof("spread", nested(), "--value", "gian");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("error: results.csv, line 1, column gian").contains("\"gain\"");
  }

  @Test
  void textAmongTheNumbersIsNamedWithItsLine() throws IOException {
    Ran ran = Ran.lotproof("spread", table("gain\tx\n1\t1\nabout 2\t1\n"), "--value", "gain");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("line 3, column gain").contains("about 2");
  }

  @Test
  void aFileOfOneColumnIsAsManyUnits() throws IOException {
    String numbers = "4.812\n-3.107\n0.555\n7.301\n-1.948\n2.26\n-0.71\n3.3\n";
    for (String header : List.of("", "error\n", "# a remark\nerror\n")) {
      Ran ran = Ran.lotproof("spread", table(header + numbers), "--json");
      assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
      JsonNode spread = MessageSchema.checked(ran.out()).at("/spreads/0");
      assertThat(spread.at("/values/title").asText())
          .isEqualTo(header.isEmpty() ? "value" : "error");
      assertThat(spread.at("/distributionFree/testedKits").asInt()).isEqualTo(8);
      assertThat(spread.at("/outcome/mean").asDouble()).isCloseTo(1.557875, within(1e-9));
    }
    Ran named = Ran.lotproof("spread", table("error\n" + numbers), "--value", "error");
    assertThat(named.exit()).isEqualTo(Exit.DONE);
    String commas = numbers.replace('.', ',');
    Ran asked = Ran.lotproof("spread", table(commas));
    assertThat(asked.err()).contains("--value; if the commas are decimal marks of one column, add");
    Ran told = Ran.lotproof("spread", table(commas), "--decimal", "comma", "--json");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    assertThat(MessageSchema.checked(told.out()).at("/spreads/0/outcome/mean").asDouble())
        .isCloseTo(1.557875, within(1e-9));
    Ran two = Ran.lotproof("spread", table("a,b\n1,2\n"));
    assertThat(two.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(two.err()).contains("--value");
  }

  @Test
  void coarseValuesAreSaid() throws IOException {
    String rows = "0\n0\n0\n1\n0\n0\n0\n1\n0\n0\n";
    Ran ran = Ran.lotproof("spread", table("bad\n" + rows.repeat(5)));
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.out().replaceAll("\\s+", " "))
        .contains("Values come in steps of more than a quarter of their standard deviation");
  }

  @Test
  void rowsOfALotWithoutSerialsAreUnits() throws IOException {
    Path file = table("lot,gain\nA,1\nA,2\nA,3.5\nB,7.5\nB,9.25\n");
    Ran ran = Ran.lotproof("spread", file, "--value", "gain", "--cell-lot", "lot", "--json");
    JsonNode lots = MessageSchema.checked(ran.out()).at("/spreads/0/lots");
    assertThat(lots.findValuesAsText("units")).containsExactly("3", "2");
    assertThat(lots.at("/1/standardDeviation").asDouble()).isCloseTo(1.2374368671, within(1e-9));
  }

  private Path pasted(int times) throws IOException {
    String rows = "C1,B1,4.812\nC2,B2,-3.107\nC3,B3,0.555\nC4,B4,7.301\nC5,B5,-1.948\nC6,B6,2.26\n";
    return table("cell,board,error\n" + rows.repeat(times) + "C1,B1,4.95\nC2,B2,-3.3\nC3,B3,0.4\n");
  }

  @Test
  void rowsThatWerePastedAgainAreAskedUntilAccepted() throws IOException {
    List<Object> words =
        List.of("spread", pasted(4), "--value", "error", "--cell", "cell", "--board", "board");
    Ran asked = Ran.lotproof(words.toArray());
    assertThat(asked.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(asked.err()).contains("repeat others").contains("--accept DUPLICATE_READING");
    List<Object> accepted = new ArrayList<>(words);
    accepted.addAll(List.of("--accept", "DUPLICATE_READING"));
    Ran taken = Ran.lotproof(accepted.toArray());
    assertThat(taken.exit()).isEqualTo(Exit.DONE);
    assertThat(taken.err()).contains("warning: results.csv").contains("repeat others");
    words = new ArrayList<>(words);
    words.set(1, pasted(1));
    assertThat(Ran.lotproof(words.toArray()).err()).doesNotContain("repeat");
  }

  @Test
  void aPilotWithPastedRowsIsAskedToo() throws IOException {
    Path study = Demo.copyInto(temp);
    Ran asked = Ran.lotproof("rehearse", study, "--pilot", pasted(4), "--times", "10");
    assertThat(asked.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(asked.err()).contains("repeat others").contains("--pilot-accept DUPLICATE_READING");
  }

  @Test
  void anEmptyTableIsUnusable() throws IOException {
    Ran ran = Ran.lotproof("spread", table("gain,x\n"), "--value", "gain");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("no row");
  }

  @Test
  void oneValueHasNoSpreadAndSaysWhy() throws IOException {
    Ran ran = Ran.lotproof("spread", table("gain,x\n5,1\n"), "--value", "gain");
    assertThat(ran.exit()).isEqualTo(Exit.NO);
    assertThat(ran.err()).contains("no spread: ").doesNotContain("internal error");
  }

  @Test
  void equalValuesDoNotBreakIt() throws IOException {
    Ran ran = Ran.lotproof("spread", table("gain,x\n5,1\n5,2\n5,3\n5,4\n"), "--value", "gain");
    assertThat(ran.exit()).isIn(Exit.DONE, Exit.NO);
    assertThat(ran.err()).doesNotContain("internal error");
  }

  @Test
  void theColumnOfNumbersHasToBeNamed() throws IOException {
    Ran ran = Ran.lotproof("spread", nested());
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("--value");
  }

  @Test
  void aContentOfNinetyFiveIsRefusedWithItsRange() throws IOException {
    Ran ran = Ran.lotproof("spread", nested(), "--value", "gain", "--content", "95");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("content").contains("0.5 and 0.9999");
  }

  @Test
  void limitsGiveCapability() throws IOException {
    Ran ran =
        Ran.lotproof(
            "spread", nested(), "--value", "gain", "--lower", "0", "--upper", "50", "--json");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(MessageSchema.checked(ran.out()).at("/spreads/0/outcome/capability").isNull())
        .isFalse();
  }

  /** Every serial once on each day; the second day reads 3 more, exactly. */
  private Path withDays() throws IOException {
    return table(
        """
        serial,day,temp,gain
        a,1,20,10
        a,2,21,13.1
        b,1,22,14
        b,2,20,16.9
        c,1,21,19
        c,2,22,22.0
        """);
  }

  @Test
  void aBlockIsTakenOutAndShown() throws IOException {
    Ran ran =
        Ran.lotproof(
            "spread",
            withDays(),
            "--value",
            "gain",
            "--cell",
            "serial",
            "--block",
            "day",
            "--json");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    JsonNode effect = MessageSchema.checked(ran.out()).at("/spreads/0/outcome/influences/0");
    assertThat(effect.at("/influence").asText()).isEqualTo("day");
    assertThat(effect.at("/per").asText()).isEqualTo("2 against 1");
    // balanced: the mean of the differences 3.1, 2.9 and 3.0, on 6 - 3 - 1 degrees of freedom
    assertThat(effect.at("/estimate").asDouble()).isCloseTo(3, within(1e-9));
    assertThat(effect.at("/degreesOfFreedom").asDouble()).isCloseTo(2, within(1e-4));
    Ran words =
        Ran.lotproof(
            "spread", withDays(), "--value", "gain", "--cell", "serial", "--covariate", "temp");
    assertThat(words.out()).contains("What else moves readings");
  }

  /** Eight cells in turn while the bench wanders and the temperature rises and falls once. */
  @Test
  void anIntervalThatIsWiderThanTheModelsSaysWhy() throws IOException {
    StringBuilder rows = new StringBuilder("serial,temp,gain\n");
    Random random = new Random(3);
    double wander = 0;
    for (int i = 0; i < 80; i++) {
      wander = 0.8 * wander + 0.3 * random.nextGaussian();
      rows.append(
          String.format(
              Locale.ROOT, "c%d,%.3f,%.4f\n", i % 8, 20 + Math.sin(i / 13.0), i % 8 + wander));
    }
    Path file = table(rows.toString());
    Ran words =
        Ran.lotproof("spread", file, "--value", "gain", "--cell", "serial", "--covariate", "temp");
    assertThat(words.words())
        .contains("gain: Successive values are alike beyond what the model explains")
        .contains("times that of independent readings");
    Ran json =
        Ran.lotproof(
            "spread", file, "--value", "gain", "--cell", "serial", "--covariate", "temp", "--json");
    JsonNode effect = MessageSchema.checked(json.out()).at("/spreads/0/outcome/influences/0");
    assertThat(effect.at("/doubt").asText()).isEqualTo("memory");
    assertThat(effect.at("/widening").asDouble()).isGreaterThan(2);
  }

  @Test
  void aCovariateThatIsNoNumberIsNamedWithItsLine() throws IOException {
    Ran ran =
        Ran.lotproof(
            "spread", table("gain,temp\n1,20\n2,warm\n"), "--value", "gain", "--covariate", "temp");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("line 3, column temp").contains("warm");
  }

  @Test
  void aNumberThatCanBeReadInTwoWaysIsAskedAsAnImportAsksIt() throws IOException {
    Path file = table("serial;gain\na;1,234\na;1,236\nb;1,250\nb;1,251\n");
    Ran open = Ran.lotproof("spread", file, "--value", "gain", "--cell", "serial");
    assertThat(open.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(open.err()).contains("line 2, column gain").contains("say --decimal comma or point");
    Ran told =
        Ran.lotproof(
            "spread", file, "--value", "gain", "--cell", "serial", "--decimal", "comma", "--json");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    assertThat(MessageSchema.checked(told.out()).at("/spreads/0/outcome/mean").asDouble())
        .isCloseTo(1.24275, within(1e-9));
  }

  @Test
  void influencesOfAStudyStandInItsFile() throws IOException {
    Ran ran = Ran.lotproof("spread", temp, "--block", "day");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("study.yaml");
  }
}
