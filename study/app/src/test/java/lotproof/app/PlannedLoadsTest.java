package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Masses that are not written just as the plan writes its loads: the step counts as planned, the
 * error is against the mass itself, and what stands for no planned load is said at the door.
 */
class PlannedLoadsTest {
  private static final BigDecimal POUND = new BigDecimal("0.45359237");
  private static final double COUNTS_PER_KILOGRAM = 85899;

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void newStudy() throws IOException {
    study = Files.createDirectories(temp.resolve("study"));
    Files.writeString(
        study.resolve("study.yaml"),
        String.join(
            "\n",
            "format: lotproof-study-1",
            "title: Hive scale",
            "question: How far off?",
            "seed: 1",
            "kit: {cell: c, board: b, capacity: 50 kg, default-factor: 85899 counts/kg,"
                + " converter-scale: 2147483.648 counts/(mV/V)}",
            "lots:",
            "  cells: [{lot: CA, units: " + serials("C") + "}]",
            "  boards: [{lot: BA, units: " + serials("B") + "}]",
            "check-standard: {cell: C-CHK, board: B-CHK}",
            "design:",
            "  kind: disjoint-pairs",
            "  loads: [0 kg, 20 kg, 50 kg, 20 kg, 0 kg]",
            "  side-tests:",
            "    - {effect: creep, runs: CR-, loads: [0 kg, 50 kg, 50 kg], covers: loads for 1 h}",
            "causes: [bench damage]",
            "claim:",
            "  content: 0.8",
            "  confidence: 0.9",
            "  rounding: 0.001 g",
            "  levels:",
            "    - {level: none}",
            "    - {level: one-point, at: 20 kg, mass-class: M1}",
            "conditions: {temperature: {lowest: 18 °C, highest: 26 °C}, bench-mass-class: M1}",
            ""));
  }

  private static List<String> serials(String kind) {
    List<String> all = new ArrayList<>();
    for (int i = 1; i <= 12; i++) {
      all.add(kind + String.format(Locale.ROOT, "%02d", i));
    }
    return all;
  }

  /**
   * One run of each pair with invented spread.
   *
   * @param header of the column with the loads
   * @param written how a load of the plan is written
   * @param kilograms the mass that is meant by it
   */
  private Path bench(String header, UnaryOperator<String> written, UnaryOperator<String> kilograms)
      throws IOException {
    StringBuilder csv =
        new StringBuilder("session,run,step,cell,board," + header + ",output [counts]\n");
    List<String> loads = List.of("0", "20", "50", "20", "0");
    for (int i = 1; i <= 12; i++) {
      double factor = COUNTS_PER_KILOGRAM * (1 + 0.002 * Math.sin(7 * i));
      for (int step = 1; step <= loads.size(); step++) {
        String load = loads.get(step - 1);
        double mass = Double.parseDouble(kilograms.apply(load));
        double bow = 0.3 * mass * (50 - mass) / 625 * Math.cos(3 * i);
        csv.append(
            String.format(
                Locale.ROOT,
                "S1,R%02d,%d,C%02d,B%02d,%s,%.2f%n",
                i,
                step,
                i,
                i,
                written.apply(load),
                1200.5 + factor * mass + bow * 86 + (step > 3 ? 40 * Math.sin(i) : 0)));
      }
    }
    return Files.writeString(temp.resolve("bench.csv"), csv.toString());
  }

  private JsonNode levels() throws IOException {
    Ran claim = Ran.lotproof("claim", study, "--json");
    assertThat(claim.exit()).as(claim.err()).isIn(Exit.DONE, Exit.NO);
    return MessageSchema.checked(claim.out()).at("/asDecided");
  }

  private void imported(Path file) {
    Ran ran = Ran.lotproof("import", study, file, "--yes");
    assertThat(ran.exit()).as(ran.err() + ran.out()).isEqualTo(Exit.DONE);
  }

  private static double figure(JsonNode levels, int level) {
    JsonNode figure = levels.at("/" + level + "/outcome/limitGrams");
    assertThat(figure.isNumber()).as(levels.toPrettyString()).isTrue();
    return figure.asDouble();
  }

  @Test
  void aFileInPoundsEntersTheFigureAsOneInKilograms() throws IOException {
    imported(bench("load [kg]", load -> load, load -> load));
    JsonNode kilograms = levels();
    newStudyInstead();
    imported(
        bench(
            "load [lb]",
            load ->
                new BigDecimal(load)
                    .divide(POUND, new MathContext(6))
                    .stripTrailingZeros()
                    .toPlainString(),
            load ->
                new BigDecimal(load).divide(POUND, new MathContext(6)).multiply(POUND).toString()));
    JsonNode pounds = levels();
    for (int level = 0; level < 2; level++) {
      // six digits of a load of 50 kg are within 0.05 g
      assertThat(figure(pounds, level)).isCloseTo(figure(kilograms, level), within(0.2));
    }
  }

  private void newStudyInstead() throws IOException {
    Files.delete(study.resolve("readings.csv"));
  }

  @Test
  void trueMassesCountAsPlannedAndErrorsAreAgainstThem() throws IOException {
    imported(bench("load [kg]", load -> load, load -> load));
    JsonNode nominal = levels();
    newStudyInstead();
    // masses that are heavier than their names by 30 parts in a million: 0.6 g and 1.5 g
    UnaryOperator<String> heavier =
        load -> new BigDecimal(load).multiply(new BigDecimal("1.00003")).toPlainString();
    imported(bench("load [kg]", heavier, heavier));
    JsonNode named = levels();
    newStudyInstead();
    imported(bench("load [kg]", load -> load, heavier));
    JsonNode ignored = levels();
    // with the true mass written down the kits are as good as they are; without it 1.5 g worse
    assertThat(figure(named, 0)).isCloseTo(figure(nominal, 0), within(0.1));
    assertThat(Math.abs(figure(ignored, 0) - figure(nominal, 0))).isGreaterThan(0.5);
    assertThat(figure(named, 1)).isCloseTo(figure(nominal, 1), within(0.05));
    assertThat(Files.readString(study.resolve("readings.csv"))).contains(",20,");
  }

  @Test
  void theRecordKeepsTheTrueMassAndTheImportSaysWhatItCountsAs() throws IOException {
    Path file = bench("load [kg]", load -> load.equals("20") ? "20.0002" : load, load -> load);
    Ran ran = Ran.lotproof("import", study, file, "--yes");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("20.0002 kg as 20 kg");
    assertThat(Files.readString(study.resolve("readings.csv"))).contains(",20.0002,");
    assertThat(Ran.lotproof("status", study).out()).doesNotContain("R01");
    assertThat(Ran.lotproof("claim", study).out()).contains("20 kg").doesNotContain("20.0002");
  }

  @ParameterizedTest
  @ValueSource(strings = {"20.021", "19.979", "2", "25", "50"})
  void aLoadThatWasNotPlannedIsRefusedWithItsPlace(String other) throws IOException {
    Path file = bench("load [kg]", load -> load.equals("20") ? other : load, load -> load);
    Ran ran = Ran.lotproof("import", study, file, "--yes");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("bench.csv, line 3, column load [kg]")
        .contains("run R01 has " + other + " kg at step 2, and step 2 is planned with 20 kg")
        .contains("The planned loads are 0, 20, 50, 20, 0 kg")
        .contains("enters no figure")
        .contains("--accept LOAD_NOT_PLANNED");
    assertThat(study.resolve("readings.csv")).doesNotExist();
  }

  @Test
  void aPersonMayAcceptOtherLoads() throws IOException {
    Path file =
        bench("load [kg]", load -> load.equals("20") ? "25" : load, l -> l.equals("20") ? "25" : l);
    Ran ran = Ran.lotproof("import", study, file, "--yes", "--accept", "LOAD_NOT_PLANNED");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.err()).contains("accepted: run R01 has 25 kg at step 2");
    assertThat(Ran.lotproof("status", study).out()).contains("R01");
  }

  @Test
  void aSideTestHasLoadsOfItsOwn() throws IOException {
    String header = "session,run,step,cell,board,load [kg],output [counts]\n";
    Path good =
        Files.writeString(
            temp.resolve("creep.csv"),
            header
                + "S1,CR-1,1,C01,B01,0,1200\nS1,CR-1,2,C01,B01,50.002,4297000\n"
                + "S1,CR-1,3,C01,B01,50.002,4297020\n");
    imported(good);
    Path bad =
        Files.writeString(
            temp.resolve("creep-2.csv"),
            header
                + "S1,CR-2,1,C02,B02,0,1200\nS1,CR-2,2,C02,B02,20,1719000\n"
                + "S1,CR-2,3,C02,B02,50,4297020\n");
    Ran ran = Ran.lotproof("import", study, bad, "--yes");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("creep-2.csv, line 3, column load [kg]")
        .contains("step 2 is planned with 50 kg")
        .contains("The planned loads are 0, 50, 50 kg");
  }

  @Test
  void aRunThatGoesOnBeyondThePlanIsRefused() throws IOException {
    Path file = bench("load [kg]", load -> load, load -> load);
    Files.writeString(file, Files.readString(file) + "S1,R12,6,C12,B12,20,1720000\n");
    Ran ran = Ran.lotproof("import", study, file, "--yes");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err())
        .contains("bench.csv, line 62, column load [kg]")
        .contains("run R12 has 20 kg at step 6, and only 5 steps are planned");
  }

  @Test
  void aRunMayComeInPiecesAndTheCheckStandardAtAnyLoads() throws IOException {
    String header = "session,run,step,cell,board,load [kg],output [counts]\n";
    Path part =
        Files.writeString(
            temp.resolve("part.csv"),
            header
                + "S1,R01,1,C01,B01,0,1200\nS1,R01,2,C01,B01,20,1719000\n"
                + "S1,K1,1,C-CHK,B-CHK,0,1200\nS1,K1,2,C-CHK,B-CHK,10,860000\n");
    Ran ran = Ran.lotproof("import", study, part, "--yes");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.err()).contains("run R01 lacks steps 3, 4, 5 of 5; it enters no figure");
  }

  @Test
  void aCleanStudyHearsNothingOfLoads() throws IOException {
    Path folder = Demo.emptyInto(temp.resolve("demo"));
    for (int session = 1; session <= 12; session++) {
      String name = String.format(Locale.ROOT, "bench-%02d.csv", session);
      Path bench = Files.writeString(temp.resolve(name), Demo.received(name));
      Ran ran = Ran.lotproof("import", folder, bench, "--yes");
      assertThat(ran.err()).doesNotContain("LOAD").doesNotContain("planned load");
    }
  }
}
