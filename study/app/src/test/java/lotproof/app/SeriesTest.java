package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Random;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Long captures that a study keeps beside its readings, and what the report makes of them. */
class SeriesTest {
  private static final long SEED = 20261128;
  private static final double COUNTS_PER_GRAM = 1_600_000;
  private static final String CELL = UglyStudy.CELLS.get(0);
  private static final String BOARD = UglyStudy.BOARDS.get(0);

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void aStudyWithReadings() {
    study = UglyStudy.into(temp);
  }

  private static long[] samples(int count) {
    Random random = new Random(SEED);
    return random
        .longs(count, 0, 40)
        .map(noise -> 8_000_000_000_000L + 1_000_000 * noise)
        .toArray();
  }

  private Path capture(String name, String header, int count) throws IOException {
    StringBuilder text = new StringBuilder(header);
    long[] samples = samples(count);
    for (int i = 0; i < samples.length; i++) {
      text.append(header.isEmpty() ? "" : 20L * i + ",").append(samples[i]).append('\n');
    }
    return Files.writeString(temp.resolve(name), text);
  }

  private Ran keep(Path file, String... more) {
    return keepOf(file, CELL, "2500 kg", more);
  }

  private Ran keepOf(Path file, String cell, String load, String... more) {
    String[] fixed = {"--series", "--cell", cell, "--board", BOARD, "--load", load, "--yes"};
    Object[] all = new Object[3 + fixed.length + more.length];
    all[0] = "import";
    all[1] = study;
    all[2] = file;
    System.arraycopy(fixed, 0, all, 3, fixed.length);
    System.arraycopy(more, 0, all, 3 + fixed.length, more.length);
    return Ran.lotproof(all);
  }

  private Path report() {
    Path to = temp.resolve("report");
    Ran ran = Ran.lotproof("report", study, "--to", to);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    return to;
  }

  @Test
  void aSeriesBecomesACurveInEveryFormAndMovesNothing() throws IOException {
    Path without = report();
    String claims = Files.readString(without.resolve("claim.txt"));
    assertThat(without.resolve("charts/stability-1.svg")).doesNotExist();
    assertThat(Files.readString(without.resolve("report.html")))
        .contains("The study keeps no long capture")
        .contains("--series");

    Ran ran = keep(capture("rest.csv", "time [ms],counts\n", 1200));

    assertThat(ran.exit()).as(ran.err() + ran.out()).isEqualTo(Exit.DONE);
    assertThat(ran.words()).contains("1200").contains("imported").contains("gives no reading");
    assertThat(Files.readString(study.resolve("series.csv")).lines()).hasSize(2);
    Path report = report();
    assertThat(Files.readString(report.resolve("claim.txt"))).isEqualTo(claims);
    for (String name :
        new String[] {
          "charts/stability-1.svg",
          "charts/stability-1.png",
          "tables/stability-1-data.csv",
          "tables/series.csv"
        }) {
      assertThat(report.resolve(name)).exists();
    }
    assertThat(Files.readString(report.resolve("report.html")))
        .contains("How long averaging helps")
        .contains("Averaging time [s]")
        .contains("Allan deviation");
    JsonNode known =
        new ObjectMapper().readTree(report.resolve("result.json").toFile()).at("/series/0");
    assertThat(known.at("/samples").asInt()).isEqualTo(1200);
    assertThat(known.at("/secondsPerSample").asDouble()).isCloseTo(0.02, within(1e-12));
    assertThat(known.at("/curve/points/0/deviation").asDouble())
        .as("sqrt(mean of squared differences of neighbours / 2)")
        .isCloseTo(ofNeighbours(samples(1200)), within(1e-3));
    String first = Files.readAllLines(report.resolve("tables/stability-1-data.csv")).get(1);
    assertThat(Double.parseDouble(first.substring(first.lastIndexOf(',') + 1)))
        .isCloseTo(ofNeighbours(samples(1200)) / COUNTS_PER_GRAM, within(1e-9));
    assertThat(Ran.lotproof("report", study, "--verify", report).exit()).isEqualTo(Exit.DONE);
  }

  /** IEEE 1139, the two-sample deviation at the shortest time, of white noise or any other. */
  private static double ofNeighbours(long[] samples) {
    double sum = 0;
    for (int i = 1; i < samples.length; i++) {
      sum += Math.pow((double) (samples[i] - samples[i - 1]), 2);
    }
    return Math.sqrt(sum / (samples.length - 1) / 2);
  }

  @Test
  void theHashOfTheRecordCoversTheSeriesAndAChangedFileIsRefused() throws Exception {
    Path before = report();
    keep(capture("rest.csv", "time [ms],counts\n", 300));
    assertThat(Ran.lotproof("report", study, "--verify", before).out())
        .contains("the study folder has changed");
    JsonNode origin = new ObjectMapper().readTree(report().resolve("origin.json").toFile());
    assertThat(origin.at("/recordHash").asText())
        .isEqualTo(hash("study.yaml", "readings.csv", "series.csv"));
    String line = Files.readAllLines(study.resolve("series.csv")).get(1);
    Path kept = study.resolve("captures/" + line.substring(line.lastIndexOf(',') + 1) + ".csv");
    Files.writeString(kept, Files.readString(kept).replaceFirst(",8", ",9"));
    Ran ran = Ran.lotproof("report", study, "--to", temp.resolve("no"));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("the file was changed");
  }

  private String hash(String... names) throws IOException, NoSuchAlgorithmException {
    MessageDigest digest = MessageDigest.getInstance("SHA-256");
    for (String name : names) {
      digest.update(Files.readAllBytes(study.resolve(name)));
    }
    return HexFormat.of().formatHex(digest.digest());
  }

  @Test
  void whatCannotBeKeptIsRefusedAndNothingIsWritten() throws IOException {
    Path file = capture("rest.csv", "time [ms],counts\n", 300);
    assertThat(keepOf(file, "CELL-1", "2500 kg").err()).contains("is no cell of the study");
    assertThat(keepOf(file, "CELL-1", "2500 kg", "--dry-run").exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(keepOf(file, CELL, "6000 kg").err()).contains("above the capacity of 5000 kg");
    assertThat(keepOf(file, CELL, "2500").err()).contains("needs a unit");
    assertThat(keepOf(file, CELL, "-1 kg").err()).contains("is no load");
    assertThat(keepOf(file, CELL, "1 kg", "--run", "R1").err()).contains("gives no reading");
    assertThat(keep(capture("short.csv", "time [ms],counts\n", 60)).err()).contains("ten minutes");
    Path bare = capture("bare.txt", "", 300);
    assertThat(keep(bare).err()).contains("--rate");
    assertThat(Ran.lotproof("import", study, file, "--series").err()).contains("--cell");
    assertThat(study.resolve("series.csv")).doesNotExist();

    assertThat(keep(bare, "--rate", "50").exit()).isEqualTo(Exit.DONE);
    Ran again = keep(bare, "--rate", "50");
    assertThat(again.exit()).isEqualTo(Exit.DONE);
    assertThat(again.out()).contains("already imported");
    assertThat(Files.readString(study.resolve("series.csv"))).contains("rate 50");
    assertThat(Files.readString(report().resolve("tables/series.csv"))).contains(",50,");
    assertThat(Ran.lotproof("noise", study).out()).contains("bare.txt").contains("50.00");
  }

  @Test
  void aLineThatTheProgramWouldNotHaveWrittenIsDamage() throws IOException {
    Files.writeString(
        study.resolve("series.csv"),
        "cell,board,load [kg],read as,source file,source hash\n"
            + CELL
            + ","
            + BOARD
            + ",heavy,,rest.csv,00\n",
        StandardCharsets.UTF_8);
    Ran ran = Ran.lotproof("status", study);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("series.csv, line 2").contains("\"heavy\" is not a number");
  }

  @Test
  void ofCapturesBehindReadingsTheLongestSpeaksAndOfManySeriesTheFirst() throws IOException {
    for (int i = 0; i < 2; i++) {
      Ran ran =
          Ran.lotproof(
              "import",
              study,
              capture("step-" + i + ".txt", "", 300 + 100 * i),
              "--run",
              "R9" + i,
              "--step",
              "1",
              "--cell",
              CELL,
              "--board",
              BOARD,
              "--load",
              "0 kg",
              "--rate",
              "50",
              "--accept",
              "SLOPE_DOUBTFUL",
              "--yes");
      assertThat(ran.exit()).as(ran.err() + ran.out()).isEqualTo(Exit.DONE);
    }
    assertThat(Files.readAllLines(report().resolve("tables/series.csv")))
        .hasSize(2)
        .last()
        .asString()
        .contains(",0,400,")
        .contains(",50,")
        .endsWith("step-1.txt");

    for (int i = 0; i < 5; i++) {
      keep(capture("rest-" + i + ".txt", "", 200 + i), "--rate", "50");
    }
    assertThat(Files.readAllLines(report().resolve("tables/series.csv")))
        .hasSize(6)
        .element(5)
        .asString()
        .contains("not read: a report reads 4 series");
    assertThat(report().resolve("charts/stability-4.svg")).exists();
    assertThat(report().resolve("charts/stability-5.svg")).doesNotExist();
  }
}
