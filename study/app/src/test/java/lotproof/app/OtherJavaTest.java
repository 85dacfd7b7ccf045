package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A report is the same, byte by byte, under the newest Java that this machine has beside the tests'
 * own.
 */
class OtherJavaTest {
  private static final Pattern VERSION = Pattern.compile("JAVA_VERSION=\"(\\d+)");

  /** A Java machine and its feature version. */
  record Java(Path home, int version) {
    static Optional<Java> at(Path home) {
      try {
        Matcher version = VERSION.matcher(Files.readString(home.resolve("release")));
        return version.find() && Files.isExecutable(home.resolve("bin/java"))
            ? Optional.of(new Java(home, Integer.parseInt(version.group(1))))
            : Optional.empty();
      } catch (IOException e) {
        return Optional.empty();
      }
    }
  }

  @Tag("slow")
  @Test
  void reportHoldsUnderAnotherJava(@TempDir Path temp) throws Exception {
    Optional<Java> other = newestOther();
    assumeThat(other).as("another Java beside " + System.getProperty("java.home")).isPresent();
    Path study = Demo.copyInto(temp);
    Path report = temp.resolve("report");
    assertThat(Ran.lotproof("report", study, "--to", report).exit()).isEqualTo(Exit.DONE);

    Process verify =
        new ProcessBuilder(
                other.get().home().resolve("bin/java").toString(),
                "-Djava.awt.headless=true",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                "lotproof.app.Main",
                "report",
                study.toString(),
                "--verify",
                report.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(verify.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

    assertThat(verify.waitFor()).as(said).isEqualTo(Exit.DONE);
    assertThat(said.replaceAll("\\s+", " "))
        .contains("byte for byte what the record gives")
        .doesNotContain("CDS");
  }

  static Optional<Java> newestOther() throws IOException {
    Path own = Path.of(System.getProperty("java.home")).toRealPath();
    List<Path> folders = List.of(own.getParent(), Path.of("/usr/lib/jvm"), Path.of("/opt"));
    Stream<Path> homes = Stream.empty();
    for (Path folder : folders.stream().filter(Files::isDirectory).distinct().toList()) {
      try (Stream<Path> inside = Files.list(folder)) {
        homes = Stream.concat(homes, inside.toList().stream());
      }
    }
    return homes
        .flatMap(home -> Java.at(home).stream())
        .filter(java -> java.version() > Runtime.version().feature())
        .max(Comparator.comparingInt(Java::version));
  }
}
