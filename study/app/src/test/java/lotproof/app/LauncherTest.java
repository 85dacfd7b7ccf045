package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LauncherTest {
  private static final String QUICK = "-XX:TieredStopAtLevel=1";

  @TempDir Path folder;

  private List<String> command(String... args) {
    return Launcher.command(folder.resolve("lotproof.jar"), args);
  }

  @Test
  void shortWorkIsNotOptimised() {
    assertThat(command("report", folder.toString())).contains(QUICK);
    assertThat(command()).contains(QUICK);
  }

  @Test
  void oneThreadCompilesWhereCoresAreFew() {
    Path jar = folder.resolve("lotproof.jar");
    assertThat(Launcher.command(2, jar, "report", "x")).containsAll(Launcher.FEW_CORES_OPTIONS);
    assertThat(Launcher.command(4, jar, "report", "x"))
        .doesNotContainAnyElementsOf(Launcher.FEW_CORES_OPTIONS);
    assertThat(Launcher.command(2, jar, "rehearse", "x"))
        .doesNotContainAnyElementsOf(Launcher.FEW_CORES_OPTIONS);
  }

  @Test
  void longWorkIs() {
    assertThat(command("rehearse", folder.toString())).doesNotContain(QUICK);
    assertThat(command("noise", "capture.csv")).doesNotContain(QUICK);
  }

  @Test
  void largeRecordIsLongWork() throws Exception {
    try (RandomAccessFile record =
        new RandomAccessFile(folder.resolve("readings.csv").toFile(), "rw")) {
      record.setLength(5_000_000);
    }
    assertThat(command("report", folder.toString()))
        .doesNotContain(QUICK)
        .anyMatch(word -> word.startsWith("-Xmx"));
    assertThat(command("import", folder.toString())).noneMatch(word -> word.startsWith("-Xmx"));
    assertThat(command("spread", folder.resolve("readings.csv").toString())).doesNotContain(QUICK);
  }

  @Test
  void helpNeedsASecondMachineOnlyWithPreparedClasses() throws Exception {
    Path jar = folder.resolve("lotproof.jar");
    assertThat(Launcher.pays(jar)).isFalse();
    assertThat(Launcher.pays(jar, "plan", "--help")).isFalse();
    assertThat(Launcher.pays(jar, "report", folder.toString())).isTrue();
    Files.createFile(folder.resolve("lotproof.jsa"));
    assertThat(Launcher.pays(jar, "plan", "--help")).isTrue();
  }

  @Test
  void argumentsComeLastAndUnchanged() {
    assertThat(command("report", "a b", "--to", "\"x\""))
        .endsWith("report", "a b", "--to", "\"x\"");
  }

  @Test
  void archiveIsNamedOnlyWhereItLies() throws Exception {
    assertThat(command("status")).noneMatch(word -> word.contains("SharedArchiveFile"));
    Files.createFile(folder.resolve("lotproof.jsa"));
    assertThat(command("status")).anyMatch(word -> word.endsWith("lotproof.jsa"));
  }

  @Test
  void scriptStartsShortWorkAsTheLauncherDoes() throws Exception {
    String script =
        Files.readString(Path.of("lotproof"))
            .replace("\\\n", " ")
            .replace("\"", "")
            .replaceAll(" +", " ");
    assertThat(script)
        .contains(
            String.join(" ", Launcher.OPTIONS)
                + " "
                + String.join(" ", Launcher.SHORT_WORK_OPTIONS))
        .contains("few='" + String.join(" ", Launcher.FEW_CORES_OPTIONS) + "'")
        .contains("-Xmn150m $few -XX:SharedArchiveFile")
        .contains(String.join(" | ", new TreeSet<>(Launcher.LONG_WORK)) + ")")
        .contains("-size +" + Launcher.LARGE_RECORD + "c");
  }
}
