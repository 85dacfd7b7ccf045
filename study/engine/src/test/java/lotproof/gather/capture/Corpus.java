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
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.Stream;
import lotproof.gather.capture.CaptureFormat.ClockUnit;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.gather.capture.CaptureFormat.Radix;
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
    Map<String, String> said = new HashMap<>();
    for (String option : options.isBlank() ? new String[0] : options.split(" ")) {
      said.put(option.substring(0, option.indexOf('=')), option.substring(option.indexOf('=') + 1));
    }
    return new CaptureFormat(
        Optional.empty(),
        Optional.ofNullable(said.get("value")),
        Optional.empty(),
        Stream.of(Radix.values())
            .filter(r -> r.word().equals(said.getOrDefault("radix", "auto")))
            .findFirst()
            .orElseThrow(),
        Stream.of(Coding.values())
            .filter(c -> c.word().equals(said.getOrDefault("coding", "auto")))
            .findFirst()
            .orElseThrow(),
        whole(said.get("bits")),
        Stream.of(ClockUnit.values())
            .filter(c -> c.word().equals(said.getOrDefault("clock", "auto")))
            .findFirst()
            .orElseThrow(),
        whole(said.get("clock-bits")),
        OptionalDouble.empty(),
        CaptureFormat.Mark.AUTO);
  }

  private static OptionalInt whole(String text) {
    return text == null ? OptionalInt.empty() : OptionalInt.of(Integer.parseInt(text));
  }

  static Got read(String name, byte[] content, CaptureFormat format) {
    List<Sample> samples = new ArrayList<>();
    try {
      Result<CaptureReader.Read> outcome =
          CaptureReader.read(
              name,
              new ByteArrayInputStream(content),
              format,
              layout -> (line, seconds, value) -> samples.add(new Sample(line, seconds, value)));
      return new Got(outcome, samples);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
