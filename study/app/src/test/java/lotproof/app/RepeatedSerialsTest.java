package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Serials that start again in every lot are never merged in silence. */
class RepeatedSerialsTest {
  @TempDir private Path temp;

  /**
   * Two lots of two cells, each measured twice; the second lot's serials are those of the first.
   */
  private static final String NESTED =
      """
      serial,lot,gain
      1,A,10
      1,A,12
      2,A,14
      2,A,16
      1,B,30
      1,B,32
      2,B,34
      2,B,36
      """;

  private Path file(String name, String content) throws IOException {
    return Files.writeString(temp.resolve(name), content);
  }

  @ParameterizedTest
  @CsvSource({"--cell,--cell-lot", "--board,--board-lot"})
  void aSerialInTwoLotsIsAQuestion(String unit, String lot) throws IOException {
    Ran ran =
        Ran.lotproof(
            "spread",
            file("results.csv", NESTED),
            "--value",
            "gain",
            unit,
            "serial",
            lot,
            "lot",
            "--unit",
            "g");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("results.csv, line 6, column serial, unit 1")
        .contains("lot A (line 2)")
        .contains("lot B (line 6)")
        .contains("1 more serial")
        .contains("--serials per-lot");
    assertThat(ran.out()).isEmpty();
  }

  @Test
  void perLotMakesThemUnitsOfTheirOwn() throws IOException {
    JsonNode outcome =
        spread("spread", file("results.csv", NESTED), "--value", "gain", "--serials", "per-lot");
    // mean squares: within 2, cells 16, lots 800; components 2, (16 - 2)/2 = 7, (800 - 16)/4 = 196
    assertThat(outcome.at("/components/0/variance").asDouble()).isCloseTo(196, within(1e-3));
    assertThat(outcome.at("/components/1/variance").asDouble()).isCloseTo(7, within(1e-4));
    assertThat(outcome.at("/components/2/variance").asDouble()).isCloseTo(2, within(1e-5));
  }

  private static JsonNode spread(Object... args) throws IOException {
    Object[] all = java.util.Arrays.copyOf(args, args.length + 5);
    System.arraycopy(
        new Object[] {"--cell", "serial", "--cell-lot", "lot", "--json"}, 0, all, args.length, 5);
    Ran ran = Ran.lotproof(all);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    return MessageSchema.checked(ran.out()).at("/spreads/0/outcome");
  }

  @Test
  void perLotNeedsLots() throws IOException {
    Ran ran =
        Ran.lotproof(
            "spread",
            file("results.csv", NESTED),
            "--value",
            "gain",
            "--cell",
            "serial",
            "--serials",
            "per-lot");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("--serials per-lot needs a column of lots");
  }

  @Test
  void aPilotIsAskedLikewise() throws IOException {
    StringBuilder pilot = new StringBuilder("cell,board,cell lot,error\n");
    Random random = new Random(7);
    for (String lot : new String[] {"A", "B", "C"}) {
      for (int unit = 1; unit <= 6; unit++) {
        for (int repeat = 0; repeat < 2; repeat++) {
          pilot.append(unit).append(",b").append(lot).append((unit + repeat) % 6).append(',');
          pilot.append(lot).append(',').append(random.nextGaussian()).append('\n');
        }
      }
    }
    Path file = file("pilot.csv", pilot.toString());
    Ran asked =
        plan("--serials", "per-lot", "--pilot", file, "--pilot-columns", "cell,board,cell lot");
    assertThat(asked.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(asked.err()).contains("pilot.csv, line").contains("--pilot-serials per-lot");
    Ran told =
        plan(
            "--serials",
            "per-lot",
            "--pilot",
            file,
            "--pilot-columns",
            "cell,board,cell lot",
            "--pilot-serials",
            "per-lot");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
  }

  private static Ran plan(Object... more) {
    List<Object> all = new ArrayList<>(List.of("plan", "--cells", "A=1..6", "--cells", "B=1..6"));
    all.addAll(List.of("--boards", "K=6", "--boards", "L=6", "--capacity", "50 kg"));
    all.addAll(List.of("--default-factor", "83886.08 counts/kg", "--temperature", "18..26"));
    all.addAll(List.of("--converter-scale", "2097152 counts/(mV/V)", "--bench-masses", "F2"));
    all.addAll(List.of("--title", "Test scale"));
    all.addAll(List.of(more));
    return Ran.lotproof(all.toArray());
  }

  @Test
  void aPlanNamesUnitsByTheirLots() throws IOException {
    Ran asked = plan("--cell-sd", "240", "--board-sd", "90", "--repeat-sd", "10");
    assertThat(asked.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(asked.err()).contains("cell 1 stands in lot A and in lot B").contains("per-lot");
    Path folder = temp.resolve("planned");
    Ran told =
        plan(
            folder,
            "--cell-sd",
            "240",
            "--board-sd",
            "90",
            "--repeat-sd",
            "10",
            "--serials",
            "per-lot");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(folder.resolve("study.yaml"))).contains("A/1").contains("B/1");
    assertThat(Ran.lotproof("status", folder).exit()).isEqualTo(Exit.DONE);
  }

  /** A small study whose serials start again: two lots of three cells, one of three boards. */
  private Path study(String rule) throws IOException {
    Path folder = Files.createDirectories(temp.resolve("study"));
    Files.writeString(
        folder.resolve("study.yaml"),
        """
        format: lotproof-study-1
        title: "Hive scale"
        question: "Which figure?"
        seed: 1
        causes: [bench damage]
        %s
        kit:
          cell: "load cell"
          board: "board"
          capacity: 50 kg
          default-factor: 83886.08 counts/kg
          converter-scale: 2097152 counts/(mV/V)
        lots:
          cells:
            - {lot: A, units: ["1", "2", "3"]}
            - {lot: B, units: ["1", "2", "4"]}
          boards:
            - {lot: K, units: [k1, k2, k3]}
        design:
          kind: rotation
          loads: [0 kg, 50 kg]
          pairs:
            - {cell: A/1, board: k1}
            - {cell: "4", board: k2}
        claim:
          content: 0.9
          confidence: 0.9
          rounding: 1 g
          levels:
            - level: none
        conditions:
          temperature: {lowest: 19 °C, highest: 25 °C}
          bench-mass-class: F2
        """
            .formatted(rule));
    return folder;
  }

  private static String run(String name, String cell, String board) {
    return name
        + ",1,"
        + cell
        + ","
        + board
        + ",0,100\n"
        + name
        + ",2,"
        + cell
        + ","
        + board
        + ",50,4194404\n";
  }

  @Test
  void aStudyAsksWhetherSerialsStartAgain() throws IOException {
    Ran ran = Ran.lotproof("status", study("reduction: {}"));
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("study.yaml, line 16")
        .contains("serial \"1\"")
        .contains("serials: per-lot");
  }

  @Test
  void unitsOfAStudyAreNamedByTheirLots() throws IOException {
    Path study = study("serials: per-lot");
    Path file =
        file(
            "bench.csv",
            "run,step,cell,cell lot,board,load [kg],output [counts]\n"
                + run("R1", "1,A", "k1")
                + run("R2", "1,B", "k2")
                + run("R3", "4,", "k3")
                + run("R4", "A/2,", "k3"));
    Ran ran = Ran.lotproof("import", study, file);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv")))
        .contains(",R1,1,A/1,K/k1,")
        .contains(",R2,1,B/1,K/k2,")
        .contains(",R3,1,B/4,K/k3,")
        .contains(",R4,1,A/2,K/k3,");
    assertThat(Ran.lotproof("status", study, "--details").out()).contains("A/3").contains("B/1");
  }

  @Test
  void aSerialOfTwoLotsNeedsItsLot() throws IOException {
    Path study = study("serials: per-lot");
    Path file =
        file("bench.csv", "run,step,cell,board,load [kg],output [counts]\n" + run("R1", "1", "k1"));
    Ran ran = Ran.lotproof("import", study, file);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("bench.csv, line 2, column cell")
        .contains("A/1 or B/1")
        .contains("\"cell lot\"");
    assertThat(Files.exists(study.resolve("readings.csv"))).isFalse();
  }

  @Test
  void aLotThatContradictsTheStudyIsAsked() throws IOException {
    Path study = Demo.emptyInto(temp);
    Path file =
        file(
            "bench.csv",
            "run,step,cell,cell lot,board,load [kg],output [counts]\n"
                + run("R1", "C1-0363,C2", "B1-0262"));
    Ran ran = Ran.lotproof("import", study, file);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("bench.csv, line 2, column cell")
        .contains("\"C1-0363\" is of lot C1 in study.yaml, and of lot C2 here");
  }

  @Test
  void aLaterLotMayStartItsSerialsAgain() throws IOException {
    Path study = Demo.copyInto(temp);
    Path file = laterLot(study);
    Ran asked =
        Ran.lotproof("watch", study, file, "--lot", "C9", "--date", "2026-11-02", "--dry-run");
    assertThat(asked.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(asked.err()).contains("is a cell of the study").contains("--serials per-lot");
    Ran told =
        Ran.lotproof(
            "watch",
            study,
            file,
            "--lot",
            "C9",
            "--date",
            "2026-11-02",
            "--dry-run",
            "--serials",
            "per-lot");
    assertThat(told.exit()).as(told.err()).isNotEqualTo(Exit.UNUSABLE);
    assertThat(told.out()).contains("Lot C9: ");
  }

  /** Eight disjoint pairs of the study, given out as a later lot with serials of its own. */
  private Path laterLot(Path study) throws IOException {
    StringBuilder text = new StringBuilder();
    int kits = 0;
    String last = "";
    java.util.Set<String> used = new java.util.HashSet<>();
    for (String line : Files.readAllLines(study.resolve("readings.csv"))) {
      String[] fields = line.split(",", -1);
      String[] measured = java.util.Arrays.copyOf(fields, 12);
      if (text.length() == 0) {
        text.append(String.join(",", measured)).append('\n');
        continue;
      }
      boolean fresh = !fields[2].equals(last);
      boolean check = fields[4].startsWith("C0");
      if (fresh && (check || kits == 8 || used.contains(fields[4]) || used.contains(fields[5]))) {
        continue;
      }
      if (fresh) {
        kits++;
        last = fields[2];
        used.add(fields[4]);
        used.add(fields[5]);
      }
      text.append(String.join(",", measured)).append('\n');
    }
    return file("later.csv", text.toString());
  }

  @Test
  void copiesOfSerialsAreAskedInAFewTables() throws IOException {
    assertCopiesAreAsked(5);
  }

  @Test
  @Tag("guarantee")
  void copiesOfSerialsAreAskedInEveryTable() throws IOException {
    assertCopiesAreAsked(200);
  }

  /** Tables whose serials start again are never merged; tables whose serials differ ask nothing. */
  private void assertCopiesAreAsked(int tables) throws IOException {
    int merged = 0;
    int cried = 0;
    for (int seed = 1; seed <= tables; seed++) {
      merged += askedFor(seed, true) ? 0 : 1;
      cried += askedFor(seed, false) ? 1 : 0;
    }
    assertThat(merged).as("merged in silence, of %d (seeds 1 to %d)", tables, tables).isZero();
    assertThat(cried).as("asked without need, of %d (seeds 1 to %d)", tables, tables).isZero();
  }

  private boolean askedFor(int seed, boolean copied) throws IOException {
    Random random = new Random(seed);
    int lots = 2 + random.nextInt(5);
    int units = 3 + random.nextInt(8);
    boolean boards = random.nextBoolean();
    StringBuilder text = new StringBuilder("serial,lot,gain\n");
    for (int lot = 1; lot <= lots; lot++) {
      double ofLot = random.nextGaussian();
      for (int unit = 1; unit <= units; unit++) {
        double ofUnit = ofLot + random.nextGaussian();
        String serial = (copied ? "" : "L" + lot + "-") + unit;
        for (int repeat = 0; repeat < 2; repeat++) {
          double gain = 100 + ofUnit + 0.3 * random.nextGaussian();
          text.append(serial).append(",L").append(lot).append(',').append(gain).append('\n');
        }
      }
    }
    Ran ran =
        Ran.lotproof(
            "spread",
            file("results-" + seed + copied + ".csv", text.toString()),
            "--value",
            "gain",
            boards ? "--board" : "--cell",
            "serial",
            boards ? "--board-lot" : "--cell-lot",
            "lot");
    boolean asked = ran.err().contains("--serials per-lot");
    assertThat(ran.exit()).as("seed %d: %s", seed, ran.err()).isEqualTo(asked ? 2 : 0);
    return asked;
  }
}
