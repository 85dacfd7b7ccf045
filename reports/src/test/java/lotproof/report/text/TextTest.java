package lotproof.report.text;

import static lotproof.report.model.Format.TEXT;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;
import lotproof.report.TestReports;
import lotproof.report.model.Cell;
import lotproof.report.model.Format;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TextTest {
  @ParameterizedTest
  @CsvSource({
    "DECIMAL, 2, 1.005, 1.01",
    "DECIMAL, 2, -1.005, −1.01",
    "DECIMAL, 0, 49.5, 50",
    "DECIMAL, 1, -0.04, 0.0",
    "DECIMAL, 1, -0.0, 0.0",
    "DECIMAL, 3, 1e300, 1.00e300",
    "DECIMAL, 3, -1e-300, 0.000",
    "SIGNIFICANT, 3, 0.000419999, 0.000420",
    "SIGNIFICANT, 3, 12345, 12300",
    "SIGNIFICANT, 4, 0, 0",
    "SIGNIFICANT, 3, 9.996, 10.0",
    "SIGNIFICANT, 3, -1.5e-7, −1.50e-7",
    "SIGNIFICANT, 2, 4.9e-324, 4.9e-324",
    "COUNT, 0, 1050, 1050",
  })
  void numbersAreRoundedHalfAwayFromZero(
      Format.Kind kind, int digits, double value, String expected) {
    assertThat(new Format(kind, digits).text(value)).isEqualTo(expected);
  }

  @Test
  void unitsAndPercentSignsStayWithTheirNumbers() {
    assertThat(PlainText.of(Quantity.of(50, "g", 0))).isEqualTo("50\u202Fg");
    assertThat(PlainText.of(Quantity.percent(0.942, 1))).isEqualTo("94.2\u202F%");
    assertThat(PlainText.of(Quantity.percent(0.145, 0))).isEqualTo("15\u202F%");
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.1, 1.0 / 3, 1e15, -1e22, 4.9e-324, 1.7976931348623157e308, 42, -0.5})
  void exactNumbersComeBack(double value) {
    assertThat(Double.parseDouble(PlainText.exact(value))).isEqualTo(value);
  }

  @Test
  void outsideTextCannotCommandATerminalOrTurnTheLine() {
    assertThat(SanitizedText.clean("a\u001b[31mb\u0000c\u202Ed\uD83De\nf"))
        .isEqualTo("a\uFFFD[31mb\uFFFDc\uFFFDd\uFFFDe f");
    assertThat(SanitizedText.clean("é 序列 \uD83D\uDC1D ±")).isEqualTo("é 序列 \uD83D\uDC1D ±");
  }

  @ParameterizedTest
  @ValueSource(strings = {"=1+1", " =1", "+1", "-1", "@A1", "|x", "\uFF1D1"})
  void wordsLikeFormulasAreKnown(String text) {
    assertThat(SanitizedText.looksLikeFormula(text)).isTrue();
  }

  @Test
  void ordinaryWordsAreNoFormulas() {
    assertThat(SanitizedText.looksLikeFormula("LC-0001")).isFalse();
    assertThat(SanitizedText.looksLikeFormula("")).isFalse();
  }

  @ParameterizedTest
  @ValueSource(ints = {40, 60, 80, 120})
  void noLineIsLongerThanTheTerminal(int width) {
    String text = new TextReport(Math.max(width, 40), false, false).of(TestReports.hostile());
    int widest =
        text.lines().mapToInt(line -> line.codePointCount(0, line.length())).max().orElseThrow();

    assertThat(widest).isLessThanOrEqualTo(width);
    assertThat(text).doesNotContain("\u001b");
  }

  @Test
  void colorIsAskedFor() {
    String plain = new TextReport(80, false, false).of(TestReports.full());
    String color = new TextReport(80, true, false).of(TestReports.full());

    assertThat(plain).doesNotContain("\u001b");
    assertThat(color).contains("\u001b[31mnot supported\u001b[0m");
    assertThat(color.replaceAll("\u001b\\[[0-9]*m", "")).isEqualTo(plain);
  }

  /** Words of a table are cut only where many rows would be hard to compare otherwise. */
  @ParameterizedTest
  @ValueSource(ints = {40, 60, 80})
  void wordsOfAShortTableStayWhole(int width) {
    List<Column> columns =
        List.of(
            Column.of("level", "Calibration level", TEXT),
            Column.of("largest", "Largest characterised confidence", TEXT),
            Column.of("smallest", "Smallest supported guaranteed", TEXT),
            Column.of("between", "Repeatability between sessions", TEXT));
    for (int rows : new int[] {1, 4, 5}) {
      Table table =
          new Table(
              "short",
              "Short",
              Table.Role.READ,
              columns,
              Collections.nCopies(
                  rows,
                  Row.of(
                      Stream.of("one-point", "Non-linearity", "hysteresis", "C2-0343 × B3")
                          .map(Cell::text)
                          .toArray(Cell[]::new))),
              Prose.none());
      String text = new TextReport(width, false, false).of(List.of(table));
      assertThat(text).contains("one-point", "Non-linearity", "hysteresis", "C2-0343");
      if (rows < 5) {
        assertThat(text.split("\\s+"))
            .contains("Calibration", "characterised", "guaranteed", "Repeatability");
      }
    }
  }

  @Test
  void columnsAreAligned() {
    String text =
        new TextReport(80, false, false)
            .of(List.of(TestReports.full().table("components").orElseThrow()));

    assertThat(text)
        .isEqualTo(
            """
            What the variation is made of
            Component                Standard  Lower end [g]  Upper end [g]         Share of
                                deviation [g]                                       variance
            --------------------------------------------------------------------------------
            cells                        18.6           14.2           24.9           71.0 %
            boards                       10.8           7.90           15.2           24.0 %
            cells' lots                     0              0           9.30            0.0 %
            pairing and bench            4.90           3.80           6.60            5.0 %
            """);
  }

  @Test
  void aTerminalHasSomeWidth() {
    assertThatThrownBy(() -> new TextReport(10, false, false))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("10");
  }
}
