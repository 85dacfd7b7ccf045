package lotproof.report.model;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.OptionalLong;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;
import lotproof.report.model.Table.Row;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ModelTest {
  private static final List<Column> COLUMNS =
      List.of(Column.of("name", "Name", TEXT), Column.of("x", "X [g]", decimals(1)));

  @ParameterizedTest
  @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
  void aNumberIsFiniteOrMissing(double value) {
    assertThatThrownBy(() -> Cell.number(value)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Quantity.of(value, "g", 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Chart.Point(0, value))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "A", "1a", "a b", "../a", "a/b", "a\"b", "<a>"})
  void idsArePlain(String id) {
    assertThatThrownBy(() -> table(id, Cell.number(1)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void cellsFitTheirColumns() {
    assertThatThrownBy(() -> table("t", Cell.text("word")))
        .hasMessageContaining("column x")
        .hasMessageContaining("row 1");
    assertThatThrownBy(
            () ->
                new Table(
                    "t", "T", Role.READ, COLUMNS, List.of(Row.of(Cell.text("a"))), Prose.none()))
        .hasMessageContaining("1 cells for 2 columns");
  }

  @Test
  void idsAreGivenOnce() {
    Table table = table("t", Cell.number(1));
    Section one = new Section("one", "One", Prose.none(), List.of(table));
    Section two = new Section("two", "Two", Prose.none(), List.of(table));
    Identity identity = new Identity("T", "", "", "", OptionalLong.of(1), "", List.of(), List.of());
    Verdict verdict = new Verdict("Which?", Verdict.Answer.NO, "None.", "");

    assertThatThrownBy(() -> new Report(identity, verdict, List.of(), List.of(one, two)))
        .hasMessageContaining("\"t\"");
  }

  @Test
  void outsideWordsAreNoPatternAndNumbersAreRounded() {
    Prose prose = Prose.of("{} weighs {}.", "{} <b>", Quantity.of(1.5, "g", 1));
    assertThat(prose.text()).isEqualTo("{} <b> weighs 1.5\u202Fg.");
    assertThatThrownBy(() -> Prose.of("{}")).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Prose.of("", "x")).isInstanceOf(IllegalArgumentException.class);
  }

  private static Table table(String id, Cell... cells) {
    return new Table(
        id,
        "Title",
        Role.READ,
        COLUMNS,
        List.of(cells).stream().map(cell -> Row.of(Cell.text("n"), cell)).toList(),
        Prose.none());
  }
}
