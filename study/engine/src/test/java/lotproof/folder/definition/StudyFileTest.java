package lotproof.folder.definition;

import static lotproof.folder.Fixtures.defined;
import static lotproof.folder.Fixtures.sentences;
import static lotproof.folder.Fixtures.studyText;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import lotproof.folder.Fixtures;
import lotproof.study.BenchInfluences;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Design.PlannedPair;
import lotproof.study.Kit;
import lotproof.study.MassClass;
import lotproof.study.Result;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class StudyFileTest {
  private static final String MASS_CLASS = "mass-class";

  record IssueCase(String replace, String by, List<String> issues) {}

  static Stream<IssueCase> issueCases() throws IOException {
    JsonNode cases = new YAMLMapper().readTree(Fixtures.resource("study-issues.yaml"));
    return StreamSupport.stream(cases.spliterator(), false)
        .map(
            c ->
                new IssueCase(
                    c.get("replace").asText(),
                    c.get("by").asText(),
                    StreamSupport.stream(c.get("issues").spliterator(), false)
                        .map(JsonNode::asText)
                        .toList()));
  }

  @Test
  void readsEveryValueInTheUnitsOfTheStudy() {
    Map<Characteristic, Limits> limits = new EnumMap<>(Characteristic.class);
    limits.put(
        Characteristic.SENSITIVITY, new Limits(OptionalDouble.of(1.9), OptionalDouble.of(2.1)));
    limits.put(
        Characteristic.NON_LINEARITY, new Limits(OptionalDouble.empty(), OptionalDouble.of(0.05)));
    limits.put(
        Characteristic.ZERO_RETURN, new Limits(OptionalDouble.of(-10), OptionalDouble.of(10)));
    Study expected =
        new Study(
            "Hive scale",
            "Which error of reading can we promise to any buyer of any cell with any board?",
            20261125,
            new Kit(
                "50 kg single-point load cell",
                "24-bit bridge converter board",
                50,
                85899,
                2147483.648,
                OptionalInt.empty()),
            new Units(
                List.of(
                    new Lot(UnitKind.CELL, "CA", List.of("CA-001", "CA-002")),
                    new Lot(UnitKind.CELL, "CB", List.of("CB-001"))),
                List.of(new Lot(UnitKind.BOARD, "BA", List.of("BA-001", "BA-002", "BA-003"))),
                Optional.of(new Study.CheckStandard("C-CHK", "B-CHK"))),
            new Design(
                Design.Kind.ROTATION,
                List.of(0.0, 20.0, 50.0, 20.0, 0.0),
                List.of(
                    new PlannedPair("CA-001", "BA-001", 2),
                    new PlannedPair("CA-002", "BA-002", 1))),
            Study.ReferenceLine.TERMINAL,
            limits,
            List.of("bench damage", "recording error", "production screen"),
            new ClaimRequest(
                0.95,
                0.95,
                1,
                new ClaimForm.Symmetric(),
                ClaimRequest.Subject.KIT,
                OptionalDouble.empty(),
                List.of(
                    new LevelRequest(new CalibrationLevel.None(), OptionalDouble.of(1500)),
                    new LevelRequest(
                        new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M2),
                        OptionalDouble.of(60)),
                    new LevelRequest(
                        new CalibrationLevel.Calibrated(List.of(20.0, 50.0), MassClass.M2),
                        OptionalDouble.empty()))),
            new Conditions(18, 26, MassClass.M1, List.of("readings 30 s after loading")),
            BenchInfluences.NONE);

    assertThat(Fixtures.study()).isEqualTo(expected);
  }

  @ParameterizedTest
  @MethodSource("issueCases")
  void namesEveryProblemWithItsPlace(IssueCase example) {
    assertThat(studyText()).contains(example.replace());
    int at = studyText().indexOf(example.replace());
    String changed =
        studyText().substring(0, at)
            + example.by()
            + studyText().substring(at + example.replace().length());

    assertThat(issuesOf(changed)).isEqualTo(example.issues());
  }

  @Test
  void findsAllProblemsInOneGo() {
    String changed =
        studyText()
            .replace("capacity: 50 kg", "capacity: 50 stone")
            .replace("board: BA-002}", "board: BA-009}")
            .replace("bench-mass-class: M1", "bench-mass-clas: M1");

    assertThat(issuesOf(changed))
        .containsExactly(
            "UNIT_OF_MEASURE_UNKNOWN study.yaml, line 8, column 13: kit.capacity: \"stone\" in \"50"
                + " stone\" is no unit of mass; write a number, a space and kg, g, lb, oz or N",
            "UNKNOWN_SERIAL study.yaml, line 26, column 29: \"BA-009\" is no board of the study;"
                + " did you mean \"BA-001\"?",
            "KEY_MISSING study.yaml, line 41, column 1: the key \"bench-mass-class\" is missing in"
                + " conditions",
            "KEY_UNKNOWN study.yaml, line 43, column 3: unknown key \"bench-mass-clas\" in"
                + " conditions; did you mean \"bench-mass-class\"?");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", " \n", "\uFEFF"})
  void anEmptyFileDefinesNoStudy(String text) {
    assertThat(issuesOf(text))
        .containsExactly("FILE_EMPTY study.yaml: the file is empty; it must define a study");
  }

  @Test
  void bytesThatAreNoTextAreRefusedWithTheirLine() {
    byte[] bytes = studyText().replace("18 °C", "18 \u00b0C").getBytes(StandardCharsets.ISO_8859_1);

    Result<Study> outcome = StudyFile.read("study.yaml", bytes);

    assertThat(sentences(outcome.issues()))
        .containsExactly("FILE_UNREADABLE study.yaml, line 42: a byte is not UTF-8 text");
  }

  @Test
  void aByteOrderMarkAndWindowsLineEndsChangeNothing() {
    assertThat(defined("\uFEFF" + studyText().replace("\n", "\r\n"))).isEqualTo(Fixtures.study());
  }

  @Test
  void whatIsWrittenReadsBackTheSame() {
    String written = StudyFile.write(Fixtures.study());

    assertThat(defined(written)).isEqualTo(Fixtures.study());
    assertThat(StudyFile.write(defined(written))).isEqualTo(written);
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
  void anyStudyReadsBackTheSame(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = 0; i < 25; i++) {
      Study study = invent(random);
      String written = StudyFile.write(study);
      assertThat(defined(written)).as("seed %d, study %d:%n%s", seed, i, written).isEqualTo(study);
    }
  }

  @Test
  void theSchemaKeepsToItsOwnDraft() {
    JsonNode schema = schema();
    SchemaLocation draft = SchemaLocation.of(schema.get("$schema").asText());

    assertThat(
            JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
                .getSchema(draft)
                .validate(schema))
        .isEmpty();
  }

  @Test
  void thePackagedSchemaIsThePublishedOne() throws IOException {
    assertThat(Fixtures.resource(StudySchema.RESOURCE))
        .isEqualTo(Files.readString(Path.of("../../docs/study.schema.json")));
  }

  @Test
  void theSchemaKnowsTheWordsOfTheStudy() {
    JsonNode schema = schema();

    assertThat(schema.at("/properties/limits/properties").fieldNames())
        .toIterable()
        .containsExactlyElementsOf(
            Arrays.stream(Characteristic.values()).map(Characteristic::key).toList());
    assertThat(words(schema.at("/properties/design/properties/kind")))
        .containsExactlyElementsOf(
            Arrays.stream(Design.Kind.values()).map(Design.Kind::key).toList());
    assertThat(words(schema.at("/properties/reduction/properties/reference-line")))
        .containsExactlyElementsOf(
            Arrays.stream(Study.ReferenceLine.values()).map(Study.ReferenceLine::key).toList());
    List<String> classes = Arrays.stream(MassClass.values()).map(MassClass::key).toList();
    assertThat(words(schema.at("/properties/conditions/properties/bench-mass-class")))
        .isEqualTo(classes);
    JsonNode level = schema.at("/properties/claim/properties/levels/items/properties");
    assertThat(words(level.get(MASS_CLASS))).isEqualTo(classes);
    List<String> levels = new ArrayList<>(List.of(new CalibrationLevel.None().key()));
    for (List<Double> points : List.of(List.of(1.0), List.of(1.0, 2.0), List.of(1.0, 2.0, 3.0))) {
      levels.add(new CalibrationLevel.Calibrated(points, MassClass.M1).key());
    }
    assertThat(words(level.get("level"))).isEqualTo(levels);
  }

  @Test
  void everyKeyOfTheSchemaIsDescribed() {
    List<String> bare = new ArrayList<>();
    collectBare(schema(), "", bare);
    assertThat(bare).isEmpty();
  }

  private static void collectBare(JsonNode node, String place, List<String> bare) {
    JsonNode properties = node.path("properties");
    properties.forEachEntry(
        (key, value) -> {
          if (!value.has("description")) {
            bare.add(place + "/" + key);
          }
          collectBare(value, place + "/" + key, bare);
        });
    if (node.has("items")) {
      collectBare(node.get("items"), place + "/items", bare);
    }
  }

  private static JsonNode schema() {
    try {
      return new ObjectMapper().readTree(Fixtures.resource(StudySchema.RESOURCE));
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  private static List<String> words(JsonNode rule) {
    return StreamSupport.stream(rule.get("enum").spliterator(), false)
        .map(JsonNode::asText)
        .toList();
  }

  private static List<String> issuesOf(String text) {
    Result<Study> outcome = StudyFile.read("study.yaml", text.getBytes(StandardCharsets.UTF_8));
    assertThat(outcome.value()).isEmpty();
    return sentences(outcome.issues());
  }

  /** Words that a careless writer would break. */
  private static final List<String> HOSTILE =
      List.of(
          "no",
          "NULL",
          "1e3",
          "0012",
          "- dash",
          "a: b",
          "a #b",
          "{x}",
          "[y]",
          "\"quoted\"",
          "it's",
          "back\\slash",
          "tab\there",
          "line\nbreak",
          "Ünïcode °",
          "line\u2028separator",
          "next\u0085line",
          "~",
          "*star",
          "&and",
          "!bang",
          "%percent",
          "@at",
          "`tick",
          "x,",
          "?",
          "y",
          "12:30",
          "a ]",
          "=",
          "emoji \uD83D\uDC1D",
          ".5",
          "0x1F",
          "true",
          "on",
          "trailing:",
          "<<",
          "\uFEFFmark");

  private static Study invent(SplittableRandom random) {
    List<Lot> cells = lots(random, UnitKind.CELL, "c");
    List<Lot> boards = lots(random, UnitKind.BOARD, "b");
    double capacity = 1 + random.nextDouble() * 500;
    List<Double> loads = List.of(0.0, capacity * random.nextDouble(0.1, 0.9), capacity, 0.0);
    Map<Characteristic, Limits> limits = new EnumMap<>(Characteristic.class);
    for (Characteristic c : Characteristic.values()) {
      double lower = random.nextDouble() - 0.5;
      switch (random.nextInt(4)) {
        case 0 -> limits.put(c, new Limits(OptionalDouble.of(lower), OptionalDouble.empty()));
        case 1 -> limits.put(c, new Limits(OptionalDouble.empty(), OptionalDouble.of(lower)));
        case 2 -> limits.put(c, new Limits(OptionalDouble.of(lower), OptionalDouble.of(lower + 1)));
        default -> {}
      }
    }
    List<LevelRequest> levels =
        List.of(
            new LevelRequest(
                new CalibrationLevel.None(),
                OptionalDouble.empty(),
                random.nextBoolean()
                    ? Optional.of(new ClaimRequest.TemperatureCorrection(random.nextDouble() * 5))
                    : Optional.empty()),
            new LevelRequest(
                new CalibrationLevel.Calibrated(
                    List.of(capacity / 4, capacity / 3, capacity),
                    pick(random, MassClass.values())),
                OptionalDouble.of(random.nextDouble() * 1000 + 1e-9)));
    return new Study(
        word(random),
        word(random),
        random.nextLong(),
        new Kit(
            word(random),
            word(random),
            capacity,
            random.nextDouble() * 1e6,
            random.nextDouble() * 1e9,
            random.nextBoolean() ? OptionalInt.of(8 + random.nextInt(25)) : OptionalInt.empty()),
        new Units(
            cells,
            boards,
            random.nextBoolean()
                ? Optional.of(
                    new Study.CheckStandard(
                        "check " + serialEnd(random), "checker " + serialEnd(random)))
                : Optional.empty()),
        design(
            random,
            loads,
            random.nextBoolean()
                ? List.of(
                    new PlannedPair(
                        cells.get(0).serials().get(0),
                        boards.get(0).serials().get(0),
                        1 + random.nextInt(5)))
                : List.of()),
        pick(random, Study.ReferenceLine.values()),
        limits,
        List.of("cause " + word(random), word(random)),
        new ClaimRequest(
            random.nextDouble(0.5, 0.999),
            random.nextDouble(0.5, 0.999),
            random.nextDouble() + 1e-3,
            form(random),
            pick(random, ClaimRequest.Subject.values()),
            random.nextBoolean()
                ? OptionalDouble.of(random.nextDouble() * 9 + 1e-3)
                : OptionalDouble.empty(),
            levels),
        new Conditions(
            -random.nextDouble() * 40,
            random.nextDouble() * 50,
            pick(random, MassClass.values()),
            random.nextBoolean() ? List.of(word(random)) : List.of()),
        BenchInfluences.NONE);
  }

  private static List<Lot> lots(SplittableRandom random, UnitKind kind, String prefix) {
    List<Lot> lots = new ArrayList<>();
    for (int lot = 1 + random.nextInt(3); lot > 0; lot--) {
      List<String> serials = new ArrayList<>();
      for (int unit = 1 + random.nextInt(4); unit > 0; unit--) {
        serials.add(prefix + lot + unit + serialEnd(random));
      }
      lots.add(new Lot(kind, lot + word(random), serials));
    }
    return lots;
  }

  /** A serial has no line break and no space around it. */
  private static String serialEnd(SplittableRandom random) {
    return word(random).replaceAll("[\\n\u2028\u0085]", "") + "x";
  }

  private static String word(SplittableRandom random) {
    return HOSTILE.get(random.nextInt(HOSTILE.size()));
  }

  private static <T> T pick(SplittableRandom random, T[] values) {
    return values[random.nextInt(values.length)];
  }

  private static Design design(
      SplittableRandom random, List<Double> loads, List<PlannedPair> pairs) {
    Design.Kind kind = pick(random, Design.Kind.values());
    return new Design(
        kind,
        loads,
        pairs,
        kind == Design.Kind.REFERENCE_PARTNER
            ? Optional.of(
                new Design.ReferencePartners(
                    "dummy " + serialEnd(random),
                    "reference " + serialEnd(random),
                    random.nextBoolean()))
            : Optional.empty(),
        sideTests(random, loads),
        pick(random, Design.Pairing.values()));
  }

  private static List<SideTest> sideTests(SplittableRandom random, List<Double> loads) {
    List<Double> twice = new ArrayList<>(List.of(0.0));
    twice.addAll(loads);
    twice.addAll(loads);
    List<SideTest> tests = new ArrayList<>();
    for (SideTest.Effect effect : SideTest.Effect.values()) {
      if (random.nextBoolean()) {
        String prefix = effect.key() + serialEnd(random);
        tests.add(new SideTest(effect, prefix, twice, "as far as " + serialEnd(random)));
      }
    }
    return tests;
  }

  private static ClaimForm form(SplittableRandom random) {
    return pick(
        random,
        new ClaimForm[] {
          new ClaimForm.Symmetric(),
          new ClaimForm.OfReading(random.nextDouble(1e-6, 0.9), random.nextDouble() + 1e-3),
          new ClaimForm.OneSided(ClaimForm.Side.ABOVE),
          new ClaimForm.OneSided(ClaimForm.Side.BELOW)
        });
  }
}
