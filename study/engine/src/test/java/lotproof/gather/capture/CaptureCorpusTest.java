package lotproof.gather.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import lotproof.study.DataIssue;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class CaptureCorpusTest {
  static List<String> names() {
    return Corpus.names();
  }

  @Test
  void theCorpusIsThere() {
    assertThat(names()).hasSizeGreaterThanOrEqualTo(38);
  }

  @ParameterizedTest
  @MethodSource("names")
  void eachCaptureIsUnderstoodOrRefusedAsExpected(String name) {
    Map<String, String> expected = Corpus.expected(name);
    CaptureFormat format = Corpus.format(expected.getOrDefault("options", ""));
    Corpus.Got got = Corpus.read(name, Corpus.bytes(name), format);
    if (expected.get("outcome").equals("refused")) {
      assertThat(got.outcome().value()).isEmpty();
      List<DataIssue> issues = got.outcome().issues();
      assertThat(issues).isNotEmpty().allMatch(i -> i.file().equals(name));
      assertThat(issues.get(0).message()).contains(expected.get("message"));
      return;
    }
    assertThat(got.outcome().value()).as("%s", got.outcome()).isPresent();
    CaptureReader.Read read = got.outcome().get();
    List<Corpus.Sample> samples = got.samples();
    assertThat(read.samples()).isEqualTo(samples.size());
    assertThat(samples).hasSize(Integer.parseInt(expected.get("samples")));
    assertThat(samples.get(0).value()).isEqualTo(Double.parseDouble(expected.get("first")));
    assertThat(samples.get(samples.size() - 1).value())
        .isEqualTo(Double.parseDouble(expected.get("last")));
    assertThat(skipped(read)).isEqualTo(expected.getOrDefault("skipped", ""));
    assertThat(read.clockWraps()).isEqualTo(Long.parseLong(expected.getOrDefault("wraps", "0")));
    assertThat(read.layout().unit()).isEqualTo(expected.getOrDefault("unit", "counts"));
    String clock = read.layout().terminalTime() ? "terminal" : read.layout().clock().key();
    if (expected.containsKey("clock")) {
      assertThat(clock).isEqualTo(expected.get("clock"));
    }
    if (expected.containsKey("seconds")) {
      double length = samples.get(samples.size() - 1).seconds() - samples.get(0).seconds();
      assertThat(length).isCloseTo(Double.parseDouble(expected.get("seconds")), within(1e-6));
    }
    double[] times = samples.stream().mapToDouble(Corpus.Sample::seconds).toArray();
    double[] sorted = times.clone();
    Arrays.sort(sorted);
    assertThat(times).as("unwrapped times never go back").isEqualTo(sorted);
  }

  private static String skipped(CaptureReader.Read read) {
    return read.skipped().stream()
        .map(s -> s.kind().word() + " " + s.count())
        .collect(Collectors.joining(","));
  }
}
