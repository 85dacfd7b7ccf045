package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Whatever a value in study.yaml or readings.csv is: an answer or a refusal, within seconds. */
class AbsurdValuesTest {
  private static final List<String> COMMANDS =
      List.of("claim", "spread", "review", "limits", "status", "report");

  /** Far more than any of them needs on a machine of its own. */
  private static final double MOST_SECONDS = 60;

  private static final int OUTPUT = 7;

  @TempDir private Path temp;

  /** The demo study with something changed. */
  private record Change(String name, UnaryOperator<String> study, UnaryOperator<String> record) {}

  private static Change inStudy(String key, String value, String by) {
    return new Change(
        key + by,
        text -> {
          assertThat(text).contains(key + value);
          return text.replace(key + value, key + by);
        },
        UnaryOperator.identity());
  }

  private static Change inRecord(int line, int column, String by) {
    return new Change(
        "line " + line + ", column " + column + ": " + by,
        UnaryOperator.identity(),
        text -> {
          List<String> lines = new ArrayList<>(text.lines().toList());
          String[] fields = lines.get(line - 1).split(",", -1);
          fields[column] = by;
          lines.set(line - 1, String.join(",", fields));
          return String.join("\n", lines) + "\n";
        });
  }

  private static Change wholeColumn(int column, UnaryOperator<String> by, String name) {
    return new Change(
        name,
        UnaryOperator.identity(),
        text -> {
          List<String> lines = new ArrayList<>(text.lines().toList());
          for (int i = 1; i < lines.size(); i++) {
            String[] fields = lines.get(i).split(",", -1);
            fields[column] = by.apply(fields[column]);
            lines.set(i, String.join(",", fields));
          }
          return String.join("\n", lines) + "\n";
        });
  }

  /** Readings changed by factors about one, or by many powers of ten. */
  private static Change moderate(int count, double spread, long seed) {
    return new Change(
        count + " outputs times exp(" + spread + " z), seed " + seed,
        UnaryOperator.identity(),
        text -> {
          Random random = new Random(seed);
          List<String> lines = new ArrayList<>(text.lines().toList());
          for (int i = 0; i < count; i++) {
            int line = 1 + random.nextInt(lines.size() - 1);
            String[] fields = lines.get(line).split(",", -1);
            double changed =
                Double.parseDouble(fields[OUTPUT]) * Math.exp(spread * random.nextGaussian());
            fields[OUTPUT] = String.valueOf(changed);
            lines.set(line, String.join(",", fields));
          }
          return String.join("\n", lines) + "\n";
        });
  }

  private static List<Change> few() {
    return List.of(
        inStudy("content: ", "0.95", "1e-9"),
        inStudy("capacity: ", "50 kg", "1e9 kg"),
        inRecord(305, OUTPUT, "1e200"),
        inRecord(305, OUTPUT, "3.3e9"),
        inRecord(305, OUTPUT, "1e13"),
        wholeColumn(OUTPUT, output -> String.valueOf(Double.parseDouble(output) / 1e200), "tiny"),
        moderate(20, 10, 1015));
  }

  private static List<Change> all() {
    List<Change> all = new ArrayList<>(few());
    String[] absurd = {"1e200", "-1e200", "1e-300", "0", "NaN", "1e9", "-1", "1e308", "3.3e9", ""};
    for (String value : absurd) {
      for (int column : new int[] {OUTPUT - 1, OUTPUT, OUTPUT + 1, OUTPUT + 2}) {
        all.add(inRecord(305, column, value));
      }
    }
    for (String value : List.of("1e200", "0", "1e9", "1e-300", "1e15")) {
      all.add(inRecord(299, OUTPUT, value));
      all.add(inRecord(4, OUTPUT, value));
      all.add(wholeColumn(OUTPUT, output -> value, "all outputs " + value));
      all.add(wholeColumn(OUTPUT + 1, noise -> value, "all noise " + value));
      all.add(wholeColumn(OUTPUT - 1, load -> value, "all loads " + value));
    }
    for (double factor : new double[] {1e5, -1, 1e-6, 1e-100}) {
      all.add(
          wholeColumn(
              OUTPUT,
              output -> String.valueOf(factor * Double.parseDouble(output)),
              "all outputs times " + factor));
    }
    all.add(wholeColumn(1, time -> "", "no times"));
    all.add(wholeColumn(1, time -> "2026-09-07T08:30", "one time"));
    for (String value :
        List.of("0.01", "0.5", "0.9999", "0.9999999999999999", "1", "-1", "1e300")) {
      all.add(inStudy("content: ", "0.95", value));
      all.add(inStudy("confidence: ", "0.95", value));
    }
    String[][] places = {
      {"capacity: ", "50 kg", " kg"},
      {"default-factor: ", "83886.08 counts/kg", " counts/kg"},
      {"converter-scale: ", "2097152 counts/(mV/V)", " counts/(mV/V)"},
      {"rounding: ", "1 g", " g"},
      {"wanted: ", "500 g", " g"},
      {"upper: ", "0.6 g", " g"},
      {"lower: ", "1.97 mV/V", " mV/V"},
      {"highest: ", "25 °C", " °C"}
    };
    for (String[] place : places) {
      for (String value : List.of("1e200", "1e-300", "1e5", "1e-3", "51", "-51")) {
        all.add(inStudy(place[0], place[1], value + place[2]));
      }
    }
    for (String value : List.of("9223372036854775807", "-9223372036854775808", "1e300")) {
      all.add(inStudy("seed: ", "20260908", value));
    }
    for (String value : List.of("[1e-300 kg]", "[0 kg]", "[7 kg]", "[0.000001 kg]")) {
      all.add(inStudy("at: ", "[20 kg]", value));
    }
    for (int seed = 1; seed <= 5; seed++) {
      all.add(moderate(60, 0.3, seed));
      all.add(moderate(60, 1.2, seed));
      all.add(moderate(20, 10, 1000 + seed));
    }
    return all;
  }

  @Test
  void aFewAbsurdValuesGetAnAnswer() {
    assertAnswered(few(), List.of("claim", "limits"));
  }

  @Test
  @Tag("slow")
  void everyAbsurdValueGetsAnAnswer() {
    assertThat(all()).hasSizeGreaterThan(90);
    assertAnswered(all(), COMMANDS);
  }

  /** A later lot and decisions are files, too. */
  @Test
  @Tag("slow")
  void laterLotsAndDecisionsOfAbsurdValuesGetAnAnswer() throws IOException {
    List<String> wrong = new ArrayList<>();
    Path study = Demo.copyInto(temp);
    List<String> lines = Files.readAllLines(study.resolve("readings.csv"));
    for (String value : List.of("1e200", "-1e200", "3.3e9", "1e-300", "0", "NaN", "1e12", "")) {
      for (int column = OUTPUT - 1; column <= OUTPUT + 2; column++) {
        String file = laterLot(lines, column, value);
        Path later = Files.writeString(temp.resolve("later.csv"), file);
        Ran ran =
            Ran.lotproof(
                "watch",
                study,
                later,
                "--lot",
                "C9",
                "--date",
                "2026-11-02",
                "--dry-run",
                "--serials",
                "per-lot");
        if (ran.exit() == Exit.FAULT) {
          wrong.add("watch, column " + column + ": " + value + ": " + ran.err());
        }
      }
    }
    String decisions = Files.readString(study.resolve("decisions.csv"));
    for (String limit : List.of("1e300", "1e-300", "-5", "0", "1e9", "NaN")) {
      Files.writeString(
          study.resolve("decisions.csv"), decisions.replace("at most 0.6", "at most " + limit));
      Ran ran = Ran.lotproof("claim", study);
      if (ran.exit() == Exit.FAULT) {
        wrong.add("claim, screen at most " + limit + ": " + ran.err());
      }
    }
    assertThat(wrong).isEmpty();
  }

  /** The first runs of the record under new names, with one value of the third changed. */
  private static String laterLot(List<String> lines, int column, String value) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i <= 90; i++) {
      String[] fields = java.util.Arrays.copyOf(lines.get(i).split(",", -1), 12);
      if (i == 24) {
        fields[column] = value;
      }
      if (i == 0 || !fields[4].startsWith("C0")) {
        text.append(String.join(",", fields)).append('\n');
      }
    }
    return text.toString();
  }

  private void assertAnswered(List<Change> changes, List<String> commands) {
    List<String> wrong = new ArrayList<>();
    for (Change change : changes) {
      Path study = changed(change);
      for (String command : commands) {
        long start = System.nanoTime();
        Ran ran =
            command.equals("report")
                ? Ran.lotproof(command, study, "--to", temp.resolve("report"))
                : Ran.lotproof(command, study);
        double seconds = (System.nanoTime() - start) / 1e9;
        if (ran.exit() == Exit.FAULT || seconds > MOST_SECONDS) {
          wrong.add(command + ", " + change.name + ": " + seconds + " s, " + ran.err());
        }
      }
      delete(study);
    }
    assertThat(wrong).isEmpty();
  }

  private Path changed(Change change) {
    try {
      Path study = Demo.copyInto(temp);
      Path file = study.resolve("study.yaml");
      Files.writeString(file, change.study.apply(Files.readString(file)));
      Path record = study.resolve("readings.csv");
      Files.writeString(record, change.record.apply(Files.readString(record)));
      return study;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void delete(Path folder) {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(java.util.Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** One reading a thousand times too large: no figure, and the reading is named with its place. */
  @Test
  void theReadingBehindAFigureThatCannotBeIsNamed() {
    Path study = changed(inRecord(305, OUTPUT, "3.3e9"));
    Ran claim = Ran.lotproof("claim", study);
    assertThat(claim.exit()).isEqualTo(Exit.NO);
    String plain = claim.out().replaceAll("\\s+", " ");
    assertThat(plain)
        .contains("readings.csv, line 305")
        .contains("step 7")
        .contains("3300000000 counts");
    assertThat(plain).doesNotContain("rounded too coarsely");
    assertThat(claim.err()).contains("readings.csv, line 305, column output [counts]");
    Ran status = Ran.lotproof("status", study, "--strict");
    assertThat(status.exit()).isEqualTo(Exit.NO);
    assertThat(status.err())
        .contains("readings.csv, line 305, column output [counts]")
        .contains("step 7");
  }

  @Test
  void rangesOfTheStudyFileAreToldWithTheirPlace() {
    Ran content = Ran.lotproof("claim", changed(inStudy("content: ", "0.95", "1e-9")));
    assertThat(content.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(content.err())
        .contains("study.yaml, line")
        .contains("claim.content must lie between 0.5 and 0.9999 (0.95 means 95 %)");
    delete(temp.resolve("hive-scale"));
    Ran capacity = Ran.lotproof("claim", changed(inStudy("capacity: ", "50 kg", "1e9 kg")));
    assertThat(capacity.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(capacity.err()).contains("kit.capacity").contains("1000000 kg");
  }

  /** A limit a million standard deviations away took minutes. */
  @Test
  void aLimitFarAwayCostsNoTime() throws IOException {
    StringBuilder table = new StringBuilder("n,gain\n");
    Random random = new Random(1);
    for (int i = 0; i < 60; i++) {
      table.append(i).append(',').append(1e6 + random.nextGaussian()).append('\n');
    }
    Path file = Files.writeString(temp.resolve("results.csv"), table.toString());
    long start = System.nanoTime();
    Ran ran = Ran.lotproof("spread", file, "--value", "gain", "--lower", "0", "--upper", "1e9");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat((System.nanoTime() - start) / 1e9).isLessThan(MOST_SECONDS);
  }

  @Test
  void aTableOfResultsWithAnImpossibleValueIsRefused() throws IOException {
    for (String value : List.of("1e200", "-1e300", "1e-300")) {
      Path file =
          Files.writeString(
              temp.resolve("results.csv"), "n,gain\n1,1\n2,2\n3," + value + "\n4,4\n");
      Ran ran = Ran.lotproof("spread", file, "--value", "gain");
      assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
      assertThat(ran.err()).contains("results.csv, line 4, column gain").contains("1e-15 to 1e15");
    }
  }
}
