package lotproof.report.workbook;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;
import org.apache.poi.xssf.streaming.SheetDataWriter;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Against the library's own way, character by character. */
class RowWriterTest {
  private static final String SPECIAL =
      "<>&\"'\t\n\r _x\u0000\u001f\u007f\u00b5\u2212\ufffe\ud83d\udc1d";

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4})
  void writesWhatTheLibraryWrites(long seed) throws IOException {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(seed);
    List<String> texts = new ArrayList<>(List.of("", " ", "~", "\u007f", "=SUM(A1:A2)"));
    for (int i = 0; i < 300; i++) {
      StringBuilder text = new StringBuilder();
      int length = random.nextInt(12);
      boolean plain = random.nextBoolean();
      for (int c = 0; c < length; c++) {
        text.append(
            plain
                ? (char) (' ' + random.nextInt(95))
                : SPECIAL.charAt(random.nextInt(SPECIAL.length())));
      }
      texts.add(text.toString());
    }
    Own own = new Own();
    Theirs theirs = new Theirs();
    for (String text : texts) {
      own.put(text);
      theirs.put(text);
    }
    assertThat(content(own)).isEqualTo(content(theirs)).contains("&lt;").contains("=SUM(A1:A2)");
  }

  private static String content(SheetDataWriter writer) throws IOException {
    writer.close();
    try (InputStream in = writer.getWorksheetXMLInputStream()) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  private static final class Own extends RowWriter {
    Own() throws IOException {}

    void put(String text) throws IOException {
      outputEscapedString(text);
      _out.write('|');
    }
  }

  private static final class Theirs extends SheetDataWriter {
    Theirs() throws IOException {}

    void put(String text) throws IOException {
      outputEscapedString(text);
      _out.write('|');
    }
  }
}
