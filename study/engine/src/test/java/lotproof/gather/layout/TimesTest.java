package lotproof.gather.layout;

import static org.assertj.core.api.Assertions.assertThat;

import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.DataIssue;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Dates and numbers as people type them. */
class TimesTest {

  @ParameterizedTest
  @CsvSource({
    "2026-03-05, 2026-03-05",
    "2026-03-05 16:10, 2026-03-05T16:10",
    "2026-03-05T16:10:30, 2026-03-05T16:10:30",
    "2026/3/5, 2026-03-05",
    "5.3.2026, 2026-03-05",
    "05.03.2026 16:10, 2026-03-05T16:10",
    "25/3/2026, 2026-03-25",
    "3/25/2026 4:10 PM, 2026-03-25T16:10",
    "4/4/2026, 2026-04-04"
  })
  void aDateIsTakenAsItIsTyped(String typed, String date) {
    assertThat(Times.typed(typed).value()).contains(date);
  }

  @ParameterizedTest
  @CsvSource({
    "3/4/2026, a date that can be read in two ways; write 2026-04-03 or 2026-03-04",
    "16:10, no date; write 2026-03-05",
    "31.2.2026, no date; write 2026-03-05",
    "yesterday, no date; write 2026-03-05"
  })
  void whatIsOpenOrNoDateIsRefused(String typed, String why) {
    assertThat(Times.typed(typed).issues())
        .extracting(DataIssue::message)
        .first()
        .asString()
        .startsWith("\"" + typed + "\" is " + why);
  }

  @Test
  void aNumberMayHaveADecimalComma() {
    assertThat(UnitsOfMeasure.typed("0,95")).hasValue(0.95);
    assertThat(UnitsOfMeasure.typed(" 12.5 ")).hasValue(12.5);
    assertThat(UnitsOfMeasure.typed("1.234")).hasValue(1.234);
    assertThat(UnitsOfMeasure.typed("1,234")).isEmpty();
    assertThat(UnitsOfMeasure.typed("1,234.5")).isEmpty();
  }
}
