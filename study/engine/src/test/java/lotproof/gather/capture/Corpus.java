package lotproof.gather.capture;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.Result;

/** The invented captures, each with its expectation beside it. */
final class Corpus {
  static final Path FOLDER = Path.of("src/test/resources/lotproof/gather/capture");

  private Corpus() {}

  /** A sample as the sink got it. */
  record Sample(long line, double seconds, double value) {}

  /** What came of reading bytes. */
  record Got(Result<CaptureReader.Read> outcome, List<Sample> samples) {}

  static List<String> names() {
    try (Stream<Path> files = Files.list(FOLDER)) {
      return files
          .map(f -> f.getFileName().toString())
          .filter(f -> !f.endsWith(".expected"))
          .sorted()
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static byte[] bytes(String name) {
    try {
      return Files.readAllBytes(FOLDER.resolve(name));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static Map<String, String> expected(String name) {
    try {
      Map<String, String> map = new HashMap<>();
      for (String line : Files.readAllLines(FOLDER.resolve(name + ".expected"))) {
        int at = line.indexOf('=');
        map.put(line.substring(0, at), line.substring(at + 1));
      }
      return map;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static CaptureFormat format(String options) {
    Mapping mapping = Mapping.none();
    for (String option : options.isBlank() ? new String[0] : options.split(" ")) {
      String[] said = option.split("=", 2);
      String key = said[0].equals("value") ? Setting.VALUE_COLUMN.key() : said[0];
      mapping = mapping.with(Setting.ofKey(key).orElseThrow(), said[1]);
    }
    return CaptureFormat.of(mapping);
  }

  static Got read(String name, byte[] content, CaptureFormat format) {
    List<Sample> samples = new ArrayList<>();
    try {
      Result<CaptureReader.Read> outcome =
          CaptureReader.read(
              name,
              new ByteArrayInputStream(content),
              format,
              (line, seconds, value) -> samples.add(new Sample(line, seconds, value)));
      return new Got(outcome, samples);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
