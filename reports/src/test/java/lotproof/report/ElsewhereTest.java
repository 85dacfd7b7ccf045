package lotproof.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Writes in a machine of another kind: another country, another time zone, no font, no display. The
 * bytes must be the same, and nothing may be printed.
 */
class ElsewhereTest {
  @Test
  @Tag("slow")
  void bytesAreTheSameOnAnotherMachine(@TempDir Path folder) throws Exception {
    Path fonts = folder.resolve("fonts.conf");
    Files.writeString(
        fonts,
        "<?xml version=\"1.0\"?><!DOCTYPE fontconfig SYSTEM \"fonts.dtd\"><fontconfig><cachedir>"
            + folder.resolve("cache")
            + "</cachedir></fontconfig>");
    Path out = folder.resolve("hashes.txt");
    ProcessBuilder builder =
        new ProcessBuilder(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Djava.awt.headless=true",
                "-Duser.language=de",
                "-Duser.country=DE",
                "-Duser.timezone=Asia/Tokyo",
                "-Duser.home=" + folder,
                "-cp",
                System.getProperty("java.class.path"),
                ElsewhereTest.class.getName(),
                out.toString()));
    builder.environment().put("FONTCONFIG_FILE", fonts.toString());
    Path printed = folder.resolve("printed.txt");
    builder.redirectErrorStream(true).redirectOutput(printed.toFile());
    Process process = builder.start();

    assertThat(process.waitFor(5, TimeUnit.MINUTES)).isTrue();
    assertThat(printed).hasContent("");
    assertThat(process.exitValue()).isZero();
    assertThat(out).hasContent(hashes());
  }

  /** Run by the test, elsewhere. */
  public static void main(String[] arguments) throws Exception {
    // whatever is printed between here and the end fails the test
    PrintStream err = System.err;
    try {
      Files.writeString(Path.of(arguments[0]), hashes());
    } catch (RuntimeException | java.io.IOException e) {
      e.printStackTrace(err);
      System.exit(1);
    }
  }

  private static String hashes() throws Exception {
    Map<String, byte[]> files = new TreeMap<>();
    ReportWritersTest.written(SampleReport.full()).forEach((n, b) -> files.put("full " + n, b));
    ReportWritersTest.written(HostileReport.full()).forEach((n, b) -> files.put("hostile " + n, b));
    StringBuilder text = new StringBuilder();
    for (Map.Entry<String, byte[]> file : files.entrySet()) {
      byte[] hash = MessageDigest.getInstance("SHA-256").digest(file.getValue());
      text.append(HexFormat.of().formatHex(hash)).append("  ").append(file.getKey()).append('\n');
    }
    return new String(text.toString().getBytes(StandardCharsets.UTF_8), StandardCharsets.UTF_8);
  }
}
