package lotproof.folder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.Optional;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Against the library's own reading. */
class RecordTimeTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        "2026-03-04T09:30",
        "2024-02-29T23:59:59",
        "0000-01-01T00:00",
        "2026-03-04T09:30:15.25",
        "2026-03-04T09:30:15.123456789",
        "-2026-03-04T09:30",
        "+12026-03-04T09:30",
        "2026-03-04t09:30"
      })
  void readsTimes(String text) {
    assertThat(RecordTime.parse(text)).isEqualTo(LocalDateTime.parse(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        " ",
        "T",
        "2026-03-04",
        "2026-03-04T09",
        "2026-03-04T09:3",
        "2026-03-04T24:00",
        "2025-02-29T10:00",
        "2026-13-01T10:00",
        "2026-03-04T09:60",
        "2026-03-04T09:30:60",
        "2026-03-04T09:30:1",
        "2026-03-04T09:30Z",
        "2026-03-04 09:30",
        "2026-03-04T09:30:15 ",
        "２026-03-04T09:30"
      })
  void refusesWhatIsNone(String text) {
    assertThatThrownBy(() -> LocalDateTime.parse(text)).isInstanceOf(DateTimeParseException.class);
    assertThatThrownBy(() -> RecordTime.parse(text)).isInstanceOf(DateTimeParseException.class);
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3})
  void agreesOnChangedTexts(long seed) {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(seed);
    String characters = "0123456789-:T.+Z";
    for (int i = 0; i < 5000; i++) {
      StringBuilder text =
          new StringBuilder(
              LocalDateTime.of(2020, 1, 1, 0, 0).plusSeconds(random.nextInt(1 << 30)).toString());
      for (int change = random.nextInt(3); change > 0; change--) {
        text.setCharAt(
            random.nextInt(text.length()), characters.charAt(random.nextInt(characters.length())));
      }
      assertThat(read(text.toString(), true))
          .as(text.toString())
          .isEqualTo(read(text.toString(), false));
    }
  }

  private static Optional<LocalDateTime> read(String text, boolean own) {
    try {
      return Optional.of(own ? RecordTime.parse(text) : LocalDateTime.parse(text));
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }
}
