package lotproof.report.data;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lotproof.report.TestReports;
import lotproof.report.model.Cell;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.model.Verdict.Answer;
import lotproof.report.text.SanitizedText;
import org.junit.jupiter.api.Test;

class DataTest {
  @Test
  void csvGivesEveryCellBack() throws IOException {
    for (Report report : List.of(TestReports.full(), TestReports.hostile(), TestReports.empty())) {
      for (Table table : report.tables()) {
        StringWriter csv = new StringWriter();
        CsvWriter.write(table, csv);
        List<List<String>> lines = parsed(csv.toString());
        assertThat(lines).hasSize(table.rows().size() + 1);
        for (int r = 0; r < table.rows().size(); r++) {
          for (int c = 0; c < table.columns().size(); c++) {
            assertGivenBack(table.rows().get(r).cells().get(c), lines.get(r + 1).get(c));
          }
        }
      }
    }
  }

  private static void assertGivenBack(Cell cell, String field) {
    var number = cell.number();
    if (number.isPresent()) {
      double written = Double.parseDouble(field);
      // twelve digits, and what is read back is what was written
      assertThat(written).isCloseTo(number.getAsDouble(), withinPercentage(1e-9));
      assertThat(Significant.of(written)).isEqualTo(written);
    } else if (cell instanceof Cell.Text text) {
      assertThat(SanitizedText.looksLikeFormula(field)).isFalse();
      assertThat(field.startsWith("'") && !text.text().startsWith("'") ? field.substring(1) : field)
          .isEqualTo(SanitizedText.clean(text.text()));
    } else {
      assertThat(field).isEmpty();
    }
  }

  @Test
  void sumsOfDecimalsCarryNoBinaryDust() {
    assertThat(ResultJson.of(Map.of("load", 262.9 + 2e-14 + 3e-14)))
        .isEqualTo("{\n  \"load\" : 262.9\n}\n");
    assertThat(Significant.of(0.1 + 0.2)).isEqualTo(0.3);
    assertThat(Significant.of(-1e22)).isEqualTo(-1e22);
    assertThat(Significant.of(Double.MIN_VALUE)).isEqualTo(Double.MIN_VALUE);
    assertThat(Significant.of(Double.MAX_VALUE)).isFinite();
    assertThat(Significant.of(Double.NEGATIVE_INFINITY)).isNegative().isInfinite();
  }

  sealed interface Outcome permits Estimated, NotEstimable {}

  record Estimated(double value, OptionalDouble lower, double upper) implements Outcome {}

  record NotEstimable(String reason) implements Outcome {}

  record Result(
      List<Outcome> outcomes,
      Map<Answer, Integer> byAnswer,
      Optional<String> note,
      Set<String> set,
      List<Double> values,
      Object array) {}

  @Test
  void jsonNamesOutcomesAndSortsWhatHasNoOrder() {
    Map<Answer, Integer> byAnswer = new LinkedHashMap<>();
    byAnswer.put(Answer.YES, 1);
    byAnswer.put(Answer.NO, 2);
    Result result =
        new Result(
            List.of(
                new Estimated(0.1, OptionalDouble.empty(), Double.POSITIVE_INFINITY),
                new NotEstimable("too \"few\" </script>")),
            byAnswer,
            Optional.empty(),
            Set.of("c", "a", "b"),
            List.of(1.0, 1e-9),
            new double[] {2.5});

    assertThat(ResultJson.of(result))
        .isEqualTo(
            """
            {
              "outcomes" : [
                {
                  "kind" : "estimated",
                  "value" : 0.1,
                  "lower" : null,
                  "upper" : "Infinity"
                },
                {
                  "kind" : "not-estimable",
                  "reason" : "too \\"few\\" </script>"
                }
              ],
              "byAnswer" : {
                "supported" : 1,
                "not supported" : 2
              },
              "note" : null,
              "set" : [
                "a",
                "b",
                "c"
              ],
              "values" : [
                1,
                1.0E-9
              ],
              "array" : [
                2.5
              ]
            }
            """);
  }

  @Test
  void jsonRefusesWhatIsNoNumber() {
    assertThatThrownBy(() -> ResultJson.of(new Estimated(Double.NaN, OptionalDouble.empty(), 1)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("Estimated[\"value\"]");
  }

  /** A plain reader of quoted fields, so that the writer is not held against itself. */
  private static List<List<String>> parsed(String csv) {
    List<List<String>> lines = new ArrayList<>();
    List<String> line = new ArrayList<>();
    StringBuilder field = new StringBuilder();
    boolean quoted = false;
    for (int i = 0; i < csv.length(); i++) {
      char c = csv.charAt(i);
      if (quoted && c == '"' && csv.charAt(i + 1) == '"') {
        field.append(c);
        i++;
      } else if (c == '"') {
        quoted = !quoted;
      } else if (!quoted && (c == ',' || c == '\n')) {
        line.add(field.toString());
        field.setLength(0);
        if (c == '\n') {
          lines.add(line);
          line = new ArrayList<>();
        }
      } else {
        field.append(c);
      }
    }
    return lines;
  }
}
