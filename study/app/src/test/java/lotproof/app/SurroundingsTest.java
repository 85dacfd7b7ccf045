package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is said on the side; the width of a terminal is that of a machine without one. */
class SurroundingsTest {
  private static String said(boolean terminal, String line) {
    StringWriter err = new StringWriter();
    PrintWriter nowhere = new PrintWriter(new StringWriter());
    new Surroundings(nowhere, new PrintWriter(err), terminal).complain(line);
    return err.toString();
  }

  @Test
  void aFileOfComplaintsHasOneLineForEach() {
    String line = "word ".repeat(60) + "end";
    assertThat(said(false, line).lines()).containsExactly(line);
  }

  @Test
  void aTerminalBreaksBetweenWordsAndKeepsThem() {
    String line = IntStream.range(0, 60).mapToObj(i -> "word" + i).collect(Collectors.joining(" "));
    List<String> lines = said(true, line).lines().toList();
    assertThat(lines).hasSizeGreaterThan(1).allMatch(l -> l.length() <= ScreenWidth.ELSEWHERE);
    assertThat(lines.subList(1, lines.size())).allMatch(l -> l.startsWith("  word"));
    assertThat(lines.stream().map(String::strip).collect(Collectors.joining(" "))).isEqualTo(line);
  }

  @ParameterizedTest
  @ValueSource(strings = {"/a", "x"})
  void aPathStaysWhole(String part) {
    String path = part.repeat(150);
    assertThat(said(true, "no file " + path + " here")).contains(path);
  }

  @ParameterizedTest
  @CsvSource({"40, 55", "60, 60", "100, 100", "200, 100"})
  void helpKeepsToTheTerminal(int columns, int width) {
    assertThat(LotproofCommand.helpWidth(columns)).isEqualTo(width);
  }
}
