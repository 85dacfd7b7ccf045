package lotproof.app.cli;

import static lotproof.report.model.Format.decimals;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.app.cli.CliContext.Style;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CliContextTest {
  private final StringWriter text = new StringWriter();

  private CliContext context(boolean terminal, String columns) {
    PrintWriter out = new PrintWriter(text);
    BufferedReader in = new BufferedReader(new StringReader(""));
    return new CliContext(out, out, in, terminal, Map.of("COLUMNS", columns));
  }

  private List<String> said(int columns, String line) {
    context(true, String.valueOf(columns)).say(line);
    return text.toString().lines().toList();
  }

  private static String words(int count) {
    return IntStream.range(0, count).mapToObj(i -> "word" + i).collect(Collectors.joining(" "));
  }

  @Test
  void aTerminalSaysItsWidthAndAFileHasAlwaysTheSame() {
    assertThat(context(true, "60").columns()).isEqualTo(60);
    assertThat(context(false, "60").columns()).isEqualTo(CliContext.MOST_COLUMNS);
    assertThat(context(true, "400").columns()).isEqualTo(CliContext.MOST_COLUMNS);
    assertThat(context(true, "3").columns()).isEqualTo(CliContext.LEAST_COLUMNS);
    assertThat(context(true, "wide").columns()).isEqualTo(CliContext.MOST_COLUMNS);
  }

  @ParameterizedTest
  @ValueSource(ints = {40, 57, 80})
  void breaksBetweenWordsAndKeepsThem(int columns) {
    List<String> lines = said(columns, "   " + words(60));
    assertThat(lines).hasSizeGreaterThan(3).allMatch(line -> line.length() <= columns);
    assertThat(lines.get(0)).startsWith("   word0 ");
    assertThat(lines.subList(1, lines.size())).allMatch(line -> line.startsWith("     word"));
    assertThat(lines.stream().map(String::strip).collect(Collectors.joining(" ")))
        .isEqualTo(words(60));
  }

  @Test
  void aLineThatFitsStaysAsItIs() {
    String line = "a  b   c" + " ".repeat(30) + "d";
    assertThat(said(80, line)).containsExactly(line);
  }

  @Test
  void colourTakesNoWidth() {
    CliContext io = context(true, "60");
    io.say(Style.YES, "x".repeat(58), "");
    assertThat(text.toString().lines())
        .containsExactly("\u001b[32m" + "x".repeat(58) + "\u001b[0m");
  }

  @Test
  void aPathStaysWhole() {
    String path = "/a".repeat(150);
    assertThat(said(60, "lotproof: no file " + path + " here")).contains("  " + path);
  }

  @Test
  void aFileHasLinesOfTheSameWidthAndALogWholeComplaints() {
    context(false, "40").say(words(60));
    assertThat(text.toString().lines())
        .hasSizeGreaterThan(3)
        .allMatch(line -> line.length() <= CliContext.MOST_COLUMNS);
    text.getBuffer().setLength(0);
    context(false, "40").complain(words(60));
    assertThat(text.toString().lines()).containsExactly(words(60));
  }

  @Test
  void aWordThatIsNoPathIsCutAtTheWidth() {
    assertThat(said(60, "serial " + "A".repeat(300))).allMatch(line -> line.length() <= 60);
  }

  @Test
  void whatATerminalWouldObeyIsTakenOut() {
    CliContext io = context(true, "60");
    io.say(Style.NO, "bad\u001b[0m", " serial \u001b[1m\u0007");
    assertThat(text.toString().strip())
        .isEqualTo("\u001b[31mbad\uFFFD[0m\u001b[0m serial \uFFFD[1m\uFFFD");
  }

  @Test
  void inSixtyColumnsATableOfManyColumnsIsReadRowByRow() {
    TableBuilder<Double> builder = new TableBuilder<>("wide", "Too wide");
    for (int c = 0; c < 8; c++) {
      int more = c;
      builder.add("Column number " + c + " [g]", decimals(3), value -> value + more);
    }
    Table table = builder.of(List.of(123456.789));
    context(true, "60").show(table);
    String narrow = text.toString();
    text.getBuffer().setLength(0);
    context(false, "").show(table);

    assertThat(narrow.lines()).allMatch(line -> line.length() <= 60);
    assertThat(narrow).contains("Column number 7 [g]  123463.789");
    assertThat(text.toString().lines().filter(line -> line.contains("123456.789"))).hasSize(1);
  }
}
