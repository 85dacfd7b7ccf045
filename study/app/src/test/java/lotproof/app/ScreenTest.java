package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What commands print holds eighty columns, and the claim fits one screen. */
class ScreenTest {
  private static final int MOST_COLUMNS = 80;
  private static final int MOST_LINES_OF_A_CLAIM = 40;
  private static final int MOST_LINES_OF_A_REPORT = 200;

  @TempDir private Path temp;

  /** Studies of all kinds. */
  enum Kind {
    DEMO,
    NOTHING_SUPPORTED,
    BOARDS_ALONE,
    SIX_BY_SIX_OF_ONE_LOT,
    LONG_WORDS;

    private Path in(Path folder) throws IOException {
      return switch (this) {
        case DEMO -> Demo.FOLDER;
        case NOTHING_SUPPORTED -> edited(folder, "wanted: \\d+ g", "wanted: 2 g");
        case BOARDS_ALONE -> edited(folder, "claim:\n", "claim:\n  for: board\n");
        case SIX_BY_SIX_OF_ONE_LOT -> sixBySix(folder, "Small scale", "C-", "B-");
        case LONG_WORDS ->
            sixBySix(
                folder,
                "A title \u001b[31m of three hundred characters ".repeat(9),
                "C" + "x".repeat(90),
                "=1+1 <b>" + "y".repeat(90));
      };
    }
  }

  private static Path edited(Path folder, String from, String to) throws IOException {
    Path study = Demo.copyInto(folder);
    Path file = study.resolve("study.yaml");
    Files.writeString(file, Files.readString(file).replaceAll(from, to));
    return study;
  }

  /** Six cells and six boards of one lot each, every cell on two boards. */
  private static Path sixBySix(Path folder, String title, String cell, String board) {
    Random random = new Random(11);
    double[] loads = {0, 20, 50, 20, 0};
    StringBuilder pairs = new StringBuilder();
    StringBuilder rows =
        new StringBuilder("session,run,step,cell,board,load [kg],output [counts]\n");
    double[] gain = random.doubles(6, 0.999, 1.001).toArray();
    for (int run = 0; run < 12; run++) {
      int c = run / 2;
      int b = (run + 1) / 2 % 6;
      pairs.append(
          "    - {cell: \"%s%d\", board: \"%s%d\"}\n"
              .formatted(escaped(cell), c, escaped(board), b));
      for (int step = 0; step < loads.length; step++) {
        rows.append(
            String.format(
                Locale.ROOT,
                "S1,R%02d,%d,%s%d,%s%d,%.0f,%.1f\n",
                run,
                step + 1,
                cell,
                c,
                board,
                b,
                loads[step],
                83886 * loads[step] * gain[c] + 500 * c + 40 * random.nextGaussian()));
      }
    }
    try {
      Path study = Files.createDirectory(folder.resolve("six"));
      Files.writeString(
          study.resolve("study.yaml"),
          """
          format: lotproof-study-1
          title: "%s"
          question: Can we?
          seed: 1
          kit: {cell: cell, board: board, capacity: 50 kg, default-factor: 83886.08 counts/kg,
            converter-scale: 2097152 counts/(mV/V)}
          lots:
            cells: [{lot: A, units: [%s]}]
            boards: [{lot: B, units: [%s]}]
          design:
            kind: rotation
            loads: [0 kg, 20 kg, 50 kg, 20 kg, 0 kg]
            pairing: random
            pairs:
          %s
          causes: [bench damage]
          claim:
            content: 0.9
            confidence: 0.9
            rounding: 1 g
            levels:
              - {level: none, wanted: 500 g}
              - {level: one-point, at: 20 kg, mass-class: M1, wanted: 20 g}
          conditions:
            temperature: {lowest: 19 °C, highest: 25 °C}
            bench-mass-class: F2
          """
              .formatted(escaped(title), units(cell), units(board), pairs));
      Ran ran =
          Ran.lotproof(
              "import", study, Files.writeString(folder.resolve("six.csv"), rows), "--yes");
      assertThat(ran.exit()).as(ran.err() + ran.out()).isEqualTo(Exit.DONE);
      inEightyColumns(ran);
      return study;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String escaped(String text) {
    return text.replace("\u001b", "\\e");
  }

  private static String units(String start) {
    return IntStream.range(0, 6)
        .mapToObj(i -> "\"" + escaped(start) + i + "\"")
        .collect(Collectors.joining(", "));
  }

  private static List<String> inEightyColumns(Ran ran) {
    List<String> lines = ran.out().lines().toList();
    assertThat(lines)
        .allSatisfy(
            line -> {
              assertThat(line.codePointCount(0, line.length()))
                  .as(line)
                  .isLessThanOrEqualTo(MOST_COLUMNS);
              assertThat(line).doesNotContain("\u001b");
            });
    return lines;
  }

  @ParameterizedTest
  @EnumSource(Kind.class)
  void holdsEightyColumnsAndTheClaimOneScreen(Kind kind) throws IOException {
    Path study = kind.in(temp);
    Ran claim = Ran.lotproof("claim", study);
    assertThat(claim.exit()).as(claim.err()).isLessThanOrEqualTo(Exit.NO);
    List<String> lines = inEightyColumns(claim);
    assertThat(claim.words()).contains("what could make it wrong", "Not for trade", "local law");
    if (kind != Kind.LONG_WORDS) {
      assertThat(lines).hasSizeBetween(15, MOST_LINES_OF_A_CLAIM);
    }
    List<List<Object>> commands = new ArrayList<>();
    boolean small = kind == Kind.LONG_WORDS;
    for (String command : List.of("claim", "review", "spread", "limits", "status")) {
      if (!small && kind != Kind.DEMO) {
        break;
      } else if (small) {
        commands.add(List.of(command, study));
      }
      commands.add(List.of(command, study, "--details"));
    }
    if (small) {
      commands.add(List.of("claim", study, "--explain", "--level", "none"));
      commands.add(List.of("claim", study, "--check", "Accurate to 2 g, guaranteed."));
      commands.add(List.of("watch", study));
    }
    for (List<Object> command : commands) {
      Ran ran = Ran.lotproof(command.toArray());
      assertThat(ran.exit()).as(command + ran.err()).isLessThanOrEqualTo(Exit.NO);
      inEightyColumns(ran);
      assertThat(ran.out()).as("%s", command).isNotBlank();
    }
  }

  @ParameterizedTest
  @Tag("slow")
  @EnumSource(names = {"DEMO", "SIX_BY_SIX_OF_ONE_LOT", "LONG_WORDS"})
  void theReportInWordsIsShort(Kind kind) throws IOException {
    Path to = temp.resolve("evidence");
    Ran ran = Ran.lotproof("report", kind.in(temp), "--to", to);
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    inEightyColumns(ran);
    Ran text = new Ran(0, Files.readString(to.resolve("report.txt")), "");
    List<String> lines = inEightyColumns(text);
    assertThat(lines).hasSizeBetween(40, kind == Kind.LONG_WORDS ? 400 : MOST_LINES_OF_A_REPORT);
    assertThat(text.words())
        .contains("what could make it wrong", "Not for lifting", "Valid only when", "Record ");
  }

  @Test
  void oneUnitIsOneScreenOfReview() {
    Ran list = Ran.lotproof("review", Demo.FOLDER);
    assertThat(list.words()).contains("12 of 26 findings have no decision");
    for (String name : List.of("B5-0659", "C2-0343")) {
      assertThat(inEightyColumns(Ran.lotproof("review", Demo.FOLDER, "--about", name)))
          .as(name)
          .hasSizeBetween(5, 24);
    }
  }

  @Test
  void helpHoldsEightyColumnsAndIsFormatted() {
    for (String command :
        List.of("claim", "review", "report", "limits", "spread", "import", "plan")) {
      assertThat(inEightyColumns(Ran.lotproof(command, "--help"))).noneMatch(l -> l.contains("%%"));
    }
  }

  @Test
  void aStudyWithoutReadingsSaysSo() {
    Path study = Demo.emptyInto(temp);
    for (String command : List.of("claim", "review", "spread", "limits", "report")) {
      Ran ran = Ran.lotproof(command, study);
      assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
      assertThat(ran.err()).contains("the record holds no reading").hasLineCount(1);
    }
    inEightyColumns(Ran.lotproof("status", study, "--details"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"none", "two-point"})
  void eachLevelIsShownByItsName(String level) {
    Ran ran = Ran.lotproof("claim", Demo.FOLDER, "--level", level, "--details");
    String name =
        level.equals("none")
            ? "No calibration"
            : level.replaceFirst("^.", level.substring(0, 1).toUpperCase(Locale.ROOT));
    assertThat(ran.out()).contains(name + " (", "Claim sentence", "adds up");
    assertThat(ran.out()).doesNotContain(" none");
    assertThat(Ran.lotproof("claim", Demo.FOLDER, "--level", "three-point").err())
        .contains("--level: the study asks for no calibration level \"three-point\"");
  }
}
