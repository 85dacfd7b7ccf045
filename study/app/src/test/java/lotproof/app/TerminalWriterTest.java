package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringWriter;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TerminalWriterTest {
  private static List<String> printed(int columns, String line) {
    StringWriter text = new StringWriter();
    TerminalWriter writer = new TerminalWriter(text, () -> columns);
    writer.println(line);
    writer.flush();
    return text.toString().lines().toList();
  }

  private static String words(int count) {
    return IntStream.range(0, count).mapToObj(i -> "word" + i).collect(Collectors.joining(" "));
  }

  @ParameterizedTest
  @ValueSource(ints = {40, 57, 110})
  void breaksBetweenWordsAndKeepsThem(int columns) {
    List<String> lines = printed(columns, "   " + words(60));
    assertThat(lines).hasSizeGreaterThan(3).allMatch(line -> line.length() <= columns);
    assertThat(lines.get(0)).startsWith("   word0 ");
    assertThat(lines.subList(1, lines.size())).allMatch(line -> line.startsWith("     word"));
    assertThat(lines.stream().map(String::strip).collect(Collectors.joining(" ")))
        .isEqualTo(words(60));
  }

  @Test
  void aLineThatFitsStaysAsItIs() {
    String line = "a  b   c" + " ".repeat(30) + "d";
    assertThat(printed(110, line)).containsExactly(line);
    String colored = "\u001b[32m" + "x".repeat(58) + "\u001b[0m";
    assertThat(printed(60, colored)).containsExactly(colored);
  }

  @Test
  void aPathStaysWhole() {
    String path = "/a".repeat(150);
    assertThat(printed(60, "lotproof: no file " + path + " here")).contains("  " + path);
  }

  @Test
  void whatKnowsTheWidthIsPrintedInOnePiece() {
    StringWriter text = new StringWriter();
    TerminalWriter writer = new TerminalWriter(text, () -> 40);
    writer.print(words(30));
    writer.flush();
    assertThat(text.toString()).isEqualTo(words(30));
  }

  @ParameterizedTest
  @CsvSource({"40, 55", "60, 60", "100, 100", "200, 100"})
  void helpKeepsToTheTerminal(int columns, int width) {
    assertThat(LotproofCommand.helpWidth(columns)).isEqualTo(width);
  }
}
