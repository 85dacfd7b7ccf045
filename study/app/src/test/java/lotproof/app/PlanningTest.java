package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import lotproof.folder.StudyFolder;
import lotproof.study.Design;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PlanningTest {
  @TempDir private Path temp;

  private static Ran typed(String input, Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = java.util.Arrays.stream(args).map(String::valueOf).toArray(String[]::new);
    int exit =
        Main.run(
            new CliContext(
                new PrintWriter(out),
                new PrintWriter(err),
                new BufferedReader(new StringReader(input)),
                false),
            words);
    return new Ran(exit, out.toString(), err.toString());
  }

  private static List<Object> described(Object... first) {
    List<Object> args = new ArrayList<>(List.of(first));
    args.addAll(List.of("--title", "Test scale", "--cells", "A=A-01..A-05", "--cells", "B=5"));
    args.addAll(List.of("--boards", "X=5", "--boards", "Y=Y1,Y2,Y3,Y4,Y5", "--check", "K0/B0"));
    args.addAll(List.of("--capacity", "50 kg", "--default-factor", "83886.08 counts/kg"));
    args.addAll(List.of("--converter-scale", "2097152 counts/(mV/V)", "--temperature", "18..26"));
    args.addAll(List.of("--bench-masses", "F2", "--cell-sd", "240", "--board-sd", "90"));
    args.addAll(List.of("--repeat-sd", "10", "--wanted", "900"));
    return args;
  }

  /** Takes out what is said of the spread. */
  private static void forgetSpread(List<Object> args) {
    int sd = args.indexOf("--cell-sd");
    args.subList(sd, sd + 6).clear();
  }

  private static Ran plan(Object... first) {
    return Ran.lotproof(described(first).toArray());
  }

  private Path planned() {
    Path folder = temp.resolve("scale");
    Ran ran = plan("plan", folder);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    return folder;
  }

  @Test
  void aPlanIsAStudyThatOpensWithItsBenchSheets() throws IOException {
    Path folder = planned();
    assertThat(Ran.lotproof("status", folder).out())
        .startsWith("next: run S01-01, check standard, cell K0 on board B0\n")
        .contains("0 of ")
        .contains("Bench time left")
        .contains("not judged yet");
    assertThat(Files.readString(folder.resolve("bench/s01.csv")).lines().findFirst().orElseThrow())
        .contains("reading at 12.5 kg (counts) up")
        .contains("reading at 12.5 kg (counts) down");
    assertThat(Files.readString(folder.resolve("bench/preparation.txt")))
        .contains("capacity")
        .contains("Loads up to 50 kg: lift with two people or a hoist, keep hands")
        .contains("bench damage");
    Ran again = plan("plan", folder);
    assertThat(again.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(again.err()).contains("holds a study already");
  }

  @Test
  void theBenchSheetHoldsItsChecksAndPrintsOnPaper() throws IOException {
    Path folder = planned();
    byte[] bytes = Files.readAllBytes(folder.resolve("bench/s01.xlsx"));
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(bytes))) {
      Sheet sheet = workbook.getSheet("readings");
      assertThat(sheet.getDataValidations()).hasSize(4);
      assertThat(sheet.getPaneInformation().isFreezePane()).isTrue();
      assertThat(sheet.getPrintSetup().getLandscape()).isTrue();
      assertThat(sheet.getRepeatingRows().getFirstRow()).isZero();
      assertThat(workbook.getSheet("preparation").getLastRowNum()).isGreaterThan(15);
      List<String> csv = Files.readAllLines(folder.resolve("bench/s01.csv"));
      assertThat(sheet.getLastRowNum()).isEqualTo(csv.size() - 1);
      assertThat(sheet.getRow(1).getCell(2).getStringCellValue()).isEqualTo("K0");
    }
    Path other = temp.resolve("other");
    plan("plan", other);
    assertThat(Files.readAllBytes(other.resolve("bench/s01.xlsx"))).isEqualTo(bytes);
  }

  @Test
  void everythingThatIsMissingIsNamedAtOnce() {
    Ran ran = Ran.lotproof("plan", temp.resolve("x"), "--capacity", "50 kg");
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("--cells").contains("--default-factor").contains("--cell-sd");
    assertThat(temp.resolve("x")).doesNotExist();
  }

  @Test
  void wrongWordsAreRefusedWithTheirOption() {
    assertThat(plan("plan", "--design", "square").err()).contains("there is no design \"square\"");
    assertThat(plan("plan", "--design", "reference-partner").err())
        .contains("needs --reference CELL/BOARD");
    assertThat(plan("plan", "--reference", "K9/B9").err())
        .contains("go with --design reference-partner");
    assertThat(plan("plan", "--content", "95").err())
        .contains("--content: it must lie between 0.5 and 0.9999");
    assertThat(plan("plan", "--hours-a-day", "1").err()).contains("too short");
    assertThat(plan("plan", "--loads", "0,60,0").err()).contains("capacity");
    List<Object> strange = described("plan");
    strange.set(strange.indexOf("50 kg"), "50 furlong");
    assertThat(Ran.lotproof(strange.toArray()).err()).contains("--capacity: takes");
  }

  @Test
  void aStudyOnReferencePartnersIsPlannedWhenAskedFor() throws IOException {
    Path folder = temp.resolve("partners");
    Ran ran = plan("plan", folder, "--design", "reference-partner", "--reference", "RC/RB");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    Design design = StudyFolder.at(folder).open().get().study().design();
    assertThat(design.kind()).isEqualTo(Design.Kind.REFERENCE_PARTNER);
    assertThat(design.reference()).contains(new Design.ReferencePartners("RC", "RB", false));
    // each of ten cells and ten boards on the reference, and the references with each other
    assertThat(design.pairs()).hasSize(21);
    assertThat(design.pairs()).contains(new Design.PlannedPair("RC", "RB", 8));
    Ran rehearsed = Ran.lotproof("rehearse", folder, "--times", "50");
    assertThat(rehearsed.exit()).as(rehearsed.err()).isEqualTo(Exit.DONE);
    assertThat(rehearsed.out())
        .contains("50 rehearsals of 28 runs")
        .contains("follow the one at the worst");
    assertThat(typed("\n\n\n1000\nquit\n", "enter", folder).exit()).isEqualTo(Exit.DONE);
    assertThat(plan("plan", "--design", "reference-partner", "--reference", "A-01/RB").err())
        .contains("A-01 belongs to a lot");
  }

  @Test
  void whatIsMissingIsAskedFor() throws IOException {
    Path folder = temp.resolve("asked");
    String answers =
        String.join(
            "\n",
            List.of(
                "Wrong scale",
                "back",
                "?",
                "Asked scale",
                "back",
                "back",
                "Asked scale",
                "cell",
                "board",
                "fifty",
                "50 kg",
                "83886 counts/kg",
                "2097152 counts/(mV/V)",
                "A=6",
                "",
                "X=6",
                "",
                "",
                "",
                "none",
                "900",
                "",
                "",
                "18..26",
                "F2",
                "200",
                "100",
                "20",
                "",
                "",
                "",
                "",
                ""));
    Ran ran = typed(answers, "plan", folder, "--ask");
    assertThat(ran.exit()).as(ran.out() + ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .contains("--capacity: takes a number and a unit")
        .contains("such as Hive scale")
        .contains("this is the first question");
    assertThat(Files.readString(folder.resolve("study.yaml")))
        .contains("Asked scale")
        .doesNotContain("Wrong scale", "back");
  }

  @Test
  void rehearsalsAndPlansAreJsonByTheSchema() throws IOException {
    Path folder = planned();
    Ran rehearsed = Ran.lotproof("rehearse", folder, "--times", 60, "--json");
    assertThat(rehearsed.exit()).as(rehearsed.err()).isEqualTo(Exit.DONE);
    JsonNode json = MessageSchema.checked(rehearsed.out());
    assertThat(json.get("result").get("times").asInt()).isEqualTo(60);
    assertThat(json.get("assumed").get("cellGrams").asDouble()).isEqualTo(240);
    Ran plan = plan("plan", "--json");
    assertThat(MessageSchema.checked(plan.out()).get("comparison").get("designs")).hasSize(8);
    assertThat(Ran.lotproof("rehearse", folder, "--level", "two-point").err())
        .contains("has no level");
  }

  /** A plan for kits that are calibrated, of which kits without calibration are asked, too. */
  private Path calibrated() throws IOException {
    Path folder = temp.resolve("calibrated");
    List<Object> args = described("plan", folder, "--level", "25; none");
    forgetSpread(args);
    args.addAll(List.of("--cell-sd", "3", "--board-sd", "2", "--repeat-sd", "1"));
    Ran ran = Ran.lotproof(args.toArray());
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    return folder;
  }

  @Test
  void severalLevelsArePlannedTogether() throws IOException {
    Path folder = temp.resolve("levels");
    List<Object> args = described("plan", folder, "--level", "none; 25; 25, 50");
    args.set(args.indexOf("--wanted") + 1, "900; 40 g");
    Ran ran = Ran.lotproof(args.toArray());
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(folder.resolve("study.yaml")))
        .containsPattern("level: none\\s+wanted: 900 g")
        .containsPattern("level: one-point\\s+at: \\[25 kg\\]\\s+mass-class: M1\\s+wanted: 40 g")
        .containsPattern("level: two-point\\s+at: \\[25 kg, 50 kg\\]");

    args.set(args.indexOf("--wanted") + 1, "1; 2; 3; 4");
    assertThat(refused(args)).contains("--wanted: takes one figure for each level");
    args.set(args.indexOf("--level") + 1, "25; 50");
    assertThat(refused(args)).contains("--level: takes one level of each kind");
  }

  private String refused(List<Object> args) {
    args.set(1, temp.resolve("refused"));
    Ran ran = Ran.lotproof(args.toArray());
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    return ran.err();
  }

  @Test
  void whatIsAssumedAtOneLevelSaysNothingOfAnother() throws IOException {
    Path folder = calibrated();
    Ran same = Ran.lotproof("rehearse", folder, "--level", "one-point", "--times", "50");
    assertThat(same.exit()).as(same.err()).isEqualTo(Exit.DONE);
    assertThat(same.out()).contains("Assumed at level one-point (25 kg) (assumed)");

    Ran other = Ran.lotproof("rehearse", folder, "--level", "none", "--times", "50");
    assertThat(other.exit()).isEqualTo(Exit.NO);
    assertThat(other.words())
        .contains("at level no calibration is not known, so it is not rehearsed")
        .contains("The plan assumed a spread at level one-point (25 kg).")
        .contains("--pilot")
        .doesNotContain("%");
    JsonNode json =
        MessageSchema.checked(Ran.lotproof("rehearse", folder, "--level", "none", "--json").out());
    assertThat(json.get("level").asText()).isEqualTo("none");
    assertThat(json.at("/known/level").asText()).isEqualTo("one-point (25 kg)");
    assertThat(json.get("needed")).hasSize(3);

    Ran said =
        Ran.lotproof(
            "rehearse",
            folder,
            "--level",
            "none",
            "--times",
            "50",
            "--cell-sd",
            "240",
            "--board-sd",
            "90",
            "--repeat-sd",
            "10");
    assertThat(said.exit()).as(said.err()).isEqualTo(Exit.DONE);
    assertThat(said.out()).contains("Assumed at level no calibration");
    Ran partly = Ran.lotproof("rehearse", folder, "--level", "none", "--cell-sd", "240");
    assertThat(partly.exit()).isEqualTo(Exit.NO);
  }

  @Test
  void whatADataSheetSaysIsCarriedOverToEveryLevel() throws IOException {
    Path folder = temp.resolve("sheet");
    List<Object> args = described("plan", folder, "--level", "25");
    forgetSpread(args);
    args.addAll(List.of("--cell-sd", "±10 %", "--board-sd", "0.5 %", "--repeat-sd", "2 g"));
    Ran missing = Ran.lotproof(args.toArray());
    assertThat(missing.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(missing.err()).contains("--combined-error is needed too");
    args.addAll(List.of("--combined-error", "±0.05 %"));
    Ran ran = Ran.lotproof(args.toArray());
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    // 10 / √3 of the sensitivity; at 50 kg after 25 kg the bow counts twice: 25 g / √3
    assertThat(ran.words())
        .contains("sensitivity of cells 5.77 %, gain of boards 0.5 %")
        .contains("At level one-point (25 kg) that is: mean 0 g; cells 28.9 g");
    Path definition = folder.resolve("study.yaml");
    String levels = "  levels:\n";
    Files.writeString(
        definition, Files.readString(definition).replace(levels, levels + "    - level: none\n"));
    Ran none = Ran.lotproof("rehearse", folder, "--level", "none", "--times", "60", "--json");
    assertThat(none.exit()).as(none.err()).isEqualTo(Exit.DONE);
    JsonNode json = MessageSchema.checked(none.out());
    assertThat(json.at("/assumed/level").asText()).isEqualTo("none");
    assertThat(json.at("/assumed/cellGrams").asDouble()).isBetween(2886.0, 2888.0);
    assertThat(json.get("points").asInt()).isEqualTo(8);
    List<Object> mixed = described("plan");
    mixed.set(mixed.indexOf("240"), "10 %");
    mixed.addAll(List.of("--combined-error", "0.03 %"));
    assertThat(Ran.lotproof(mixed.toArray()).err()).contains("--board-sd is in % here");
    List<Object> strange = described("plan");
    strange.set(strange.indexOf("240"), "much");
    assertThat(Ran.lotproof(strange.toArray()).err())
        .contains("--cell-sd: takes a standard deviation");
  }

  /** Plans were once written without a level: theirs is the study's only one, or unknown. */
  @Test
  void aPlanWithoutALevelIsOfTheOnlyLevelOfItsStudy() throws IOException {
    Path only = planned();
    Path several = calibrated();
    for (Path folder : List.of(only, several)) {
      Path plan = folder.resolve("bench/plan.json");
      String text = Files.readString(plan);
      String older = text.replaceAll("\\s*\"level\" : \"[^\"]*\",", "");
      assertThat(older).isNotEqualTo(text);
      Files.writeString(plan, older);
    }
    assertThat(Ran.lotproof("rehearse", only, "--times", "50").exit()).isEqualTo(Exit.DONE);
    Ran unknown = Ran.lotproof("rehearse", several, "--level", "one-point");
    assertThat(unknown.exit()).isEqualTo(Exit.NO);
    assertThat(unknown.words())
        .contains("does not say at which level, and study.yaml names several");
  }

  @Test
  void aPilotTableTellsTheSpread() throws IOException {
    StringBuilder pilot = new StringBuilder("cell,board,error\n");
    double[] cells = {-200, -50, 30, 150, 260, -120};
    double[] boards = {40, -70, 10, 90, -30, -20};
    for (int i = 0; i < 6; i++) {
      for (int k = 0; k < 2; k++) {
        int b = (i + k) % 6;
        double noise = ((i * 7 + k * 3) % 5 - 2) * 4.0;
        pilot.append("c" + i + ",b" + b + "," + (cells[i] + boards[b] + noise) + "\n");
      }
    }
    Path file = Files.writeString(temp.resolve("pilot.csv"), pilot);
    List<Object> args = described("plan", "--pilot", file, "--json");
    forgetSpread(args);
    Ran ran = Ran.lotproof(args.toArray());
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    JsonNode assumed = new ObjectMapper().readTree(ran.out()).get("assumed");
    assertThat(assumed.get("origin").asText()).contains("pilot.csv (12 runs)");
    assertThat(assumed.get("cellGrams").asDouble()).isBetween(100.0, 300.0);
  }

  @Test
  void valuesAreTypedTakenBackAndGoneOnWith() throws IOException {
    Path folder = planned();
    Ran first = typed("\n\n20.5 21.5\n1000\n5\n1049576\nundo\n1049577\n", "enter", folder);
    assertThat(first.exit()).as(first.err()).isEqualTo(Exit.DONE);
    assertThat(first.out())
        .contains("doubtful")
        .contains("taken back")
        .contains("kept as a draft, 2 values");
    assertThat(folder.resolve("readings.csv")).doesNotExist();
    String rest = "2098150\n3146725\n4195300\n3146725\n2098150\n1049577\n1000\nyes\nquit\n";
    Ran second = typed(rest, "enter", folder);
    assertThat(second.out()).contains("2 values kept").contains("recorded");
    List<String> record = Files.readAllLines(folder.resolve("readings.csv"));
    assertThat(record).hasSize(10);
    assertThat(record.get(2)).contains(",1049577,").contains(",20.5,21.5,");
  }

  @Test
  void aWrongSerialIsNotTaken() {
    Path folder = planned();
    Ran ran = typed("K9\n\n\nquit\n", "enter", folder);
    assertThat(ran.out()).contains("there is no cell K9 in the study");
  }

  @Test
  void aFilledInSheetImportsWithoutAnyMapping() throws IOException {
    Path folder = planned();
    Path filled = temp.resolve("filled.xlsx");
    int rows;
    byte[] bytes = Files.readAllBytes(folder.resolve("bench/s01.xlsx"));
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(bytes));
        OutputStream out = Files.newOutputStream(filled)) {
      Sheet sheet = workbook.getSheet("readings");
      rows = sheet.getLastRowNum();
      double[] loads = {0, 12.5, 25, 37.5, 50, 37.5, 25, 12.5, 0};
      for (int r = 1; r <= rows; r++) {
        sheet.getRow(r).getCell(4).setCellValue("2026-09-07");
        sheet.getRow(r).getCell(5).setCellValue(String.format(Locale.ROOT, "%02d:00", 8 + r));
        for (int k = 0; k < loads.length; k++) {
          sheet.getRow(r).getCell(6 + k).setCellValue(1000 + 10 * r + (83_886 + r) * loads[k]);
        }
        sheet.getRow(r).getCell(15).setCellValue(20.5);
        sheet.getRow(r).getCell(16).setCellValue(21.5);
      }
      workbook.write(out);
    }
    Ran ran = Ran.lotproof("import", folder, filled);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    List<String> record = Files.readAllLines(folder.resolve("readings.csv"));
    assertThat(record).hasSize(1 + 9 * rows);
    assertThat(record.get(5)).contains(",5,K0,B0,50,4195360,").contains(",20.5,21.5,");
    assertThat(Ran.lotproof("status", folder).out()).contains("3 of the check standard");
  }
}
