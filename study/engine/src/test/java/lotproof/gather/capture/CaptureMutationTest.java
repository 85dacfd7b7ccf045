package lotproof.gather.capture;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Seeded mutations of every capture of the corpus: no exception, no hang, and each sample that is
 * taken is a number that stands on its line, by a reading of our own that shares no code.
 */
class CaptureMutationTest {
  private static final long SEED = 20261125;
  private static final int MUTATIONS = 150;
  private static final Pattern TOKEN = Pattern.compile("[0-9a-zA-Z.,+\\-]+");

  static List<String> names() {
    return Corpus.names();
  }

  @ParameterizedTest
  @MethodSource("names")
  void aMutatedCaptureIsReadAsWrittenOrRefused(String name) {
    Map<String, String> expected = Corpus.expected(name);
    CaptureFormat format = Corpus.format(expected.getOrDefault("options", ""));
    byte[] original = Corpus.bytes(name);
    Assertions.assertTimeoutPreemptively(
        Duration.ofSeconds(60),
        () -> {
          for (int i = 0; i < MUTATIONS; i++) {
            long seed = SEED + 31L * name.hashCode() + i;
            byte[] mutated = mutate(original, new SplittableRandom(seed));
            check(name + " seed " + seed, mutated, format);
          }
        });
  }

  private static void check(String what, byte[] content, CaptureFormat format) {
    Corpus.Got got = Corpus.read("mutated", content, format);
    if (got.outcome().isRefused()) {
      assertThat(got.outcome().issues()).as(what).isNotEmpty();
      assertThat(got.outcome().issues().get(0).message()).as(what).isNotBlank();
      return;
    }
    CaptureReader.Read read = got.outcome().get();
    String[] lines = new String(content, StandardCharsets.ISO_8859_1).split("\r\n|\r|\n", -1);
    for (Corpus.Sample sample : got.samples()) {
      assertThat(Double.isFinite(sample.value())).as(what).isTrue();
      String line = lines[(int) sample.line() - 1];
      assertThat(standsOn(line, sample.value(), read.layout(), format))
          .as("%s: line %s \"%s\" gave %s", what, sample.line(), line, sample.value())
          .isTrue();
    }
  }

  private static boolean standsOn(
      String line, double value, CaptureLayout layout, CaptureFormat format) {
    String separator = layout.separator().map(s -> Pattern.quote(s.toString())).orElse("\u0003");
    for (String field : line.split(separator, -1)) {
      Matcher tokens = TOKEN.matcher(field.replace("\"", ""));
      while (tokens.find()) {
        if (means(tokens.group(), value, layout, format)) {
          return true;
        }
      }
    }
    return false;
  }

  private static boolean means(
      String token, double value, CaptureLayout layout, CaptureFormat format) {
    try {
      if (!layout.digits().hexadecimal() && layout.digits().coding() == CaptureFormat.Coding.AUTO) {
        String plain = layout.digits().decimalComma() ? token.replace(',', '.') : token;
        return new BigDecimal(plain).doubleValue() == value;
      }
      BigInteger code =
          layout.digits().hexadecimal()
              ? new BigInteger(token.replaceFirst("^0[xX]", ""), 16)
              : new BigInteger(token);
      BigInteger range = BigInteger.ONE.shiftLeft(format.bits().orElse(60));
      BigInteger half = range.shiftRight(1);
      BigInteger meant =
          switch (layout.digits().coding()) {
            case TWOS_COMPLEMENT -> code.compareTo(half) >= 0 ? code.subtract(range) : code;
            case OFFSET_BINARY -> code.subtract(half);
            default -> code;
          };
      return code.compareTo(range) < 0 && meant.doubleValue() == value;
    } catch (NumberFormatException e) {
      return false;
    }
  }

  private static byte[] mutate(byte[] original, SplittableRandom random) {
    byte[] bytes = original.clone();
    int changes = 1 + random.nextInt(4);
    for (int c = 0; c < changes; c++) {
      if (bytes.length == 0) {
        return new byte[] {(byte) random.nextInt(256)};
      }
      int at = random.nextInt(bytes.length);
      int kind = random.nextInt(7);
      if (kind == 0) {
        bytes[at] = (byte) random.nextInt(256);
      } else if (kind == 1) {
        String marks = "0123456789aAfFxXeE.,;:\"\t\r\n -+#";
        bytes[at] = (byte) marks.charAt(random.nextInt(marks.length()));
      } else if (kind == 2) {
        bytes = joined(bytes, 0, at, bytes, Math.min(bytes.length, at + 1 + random.nextInt(9)));
      } else if (kind == 3) {
        bytes = joined(bytes, 0, at, bytes, Math.max(0, at - random.nextInt(30)));
      } else if (kind == 4) {
        bytes = java.util.Arrays.copyOf(bytes, at);
      } else if (kind == 5) {
        bytes[at] ^= (byte) (1 << random.nextInt(8));
      } else {
        bytes = java.util.Arrays.copyOfRange(bytes, at / 4, bytes.length);
      }
    }
    return bytes;
  }

  private static byte[] joined(byte[] a, int from, int to, byte[] b, int rest) {
    byte[] all = new byte[to - from + b.length - rest];
    System.arraycopy(a, from, all, 0, to - from);
    System.arraycopy(b, rest, all, to - from, b.length - rest);
    return all;
  }
}
