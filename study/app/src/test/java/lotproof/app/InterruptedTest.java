package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import lotproof.app.cli.Exit;
import lotproof.folder.StudyFolder;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Ctrl-C, or another's signal, while the program is at work. */
@DisabledOnOs(OS.WINDOWS)
class InterruptedTest {
  private static final int MOST_SECONDS = 20;

  @TempDir private Path temp;

  private Path file(String name, String text) throws IOException {
    Path file = temp.resolve(name);
    Files.createDirectories(file.getParent());
    return Files.writeString(file, text);
  }

  private static void interrupt(long pid) throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-INT", String.valueOf(pid)).start().waitFor();
  }

  /** The launcher becomes Java, so that a signal to it is one to Java. */
  @Test
  void signalsToTheLauncherReachJava() throws IOException, InterruptedException {
    Path launcher = file("app/lotproof", Files.readString(Path.of("lotproof")));
    file("app/target/lotproof.jar", "");
    Path java = file("jdk/bin/java", "#!/bin/sh\necho $$ >\"$0.pid\"\nexec sleep 100\n");
    for (Path script : List.of(launcher, java)) {
      Files.setPosixFilePermissions(script, PosixFilePermissions.fromString("rwx------"));
    }
    ProcessBuilder start = new ProcessBuilder(launcher.toString(), "status", temp.toString());
    start.environment().put("JAVA_HOME", temp.resolve("jdk").toString());
    Process process = start.start();
    Path pid = temp.resolve("jdk/bin/java.pid");
    for (int i = 0; i < 50 * MOST_SECONDS && (!Files.exists(pid) || Files.size(pid) == 0); i++) {
      Thread.sleep(20);
    }
    process.destroy();
    assertThat(Files.readString(pid).strip()).isEqualTo(String.valueOf(process.pid()));
    assertThat(process.waitFor(MOST_SECONDS, TimeUnit.SECONDS)).isTrue();
  }

  private String readings() {
    StringBuilder rows =
        new StringBuilder("session,run,step,cell,board,load [kg],output [counts]\n");
    for (int run = 0; run < 60_000; run++) {
      for (int step = 1; step <= 5; step++) {
        int load = List.of(0, 20, 50, 20, 0).get(step - 1);
        rows.append("S1,R%d,%d,CA-001,BA-001,%d,".formatted(run, step, load))
            .append(120 + run % 97 + 85_900L * load)
            .append('\n');
      }
    }
    return rows.toString();
  }

  private List<String> words(String command) throws IOException {
    Path study = temp.resolve("study");
    switch (command) {
      case "enter" -> {
        EntryStudy.plan(study, 4);
        return List.of("enter", study.toString(), "--who", "Ann");
      }
      case "import" -> {
        BenchFile.emptyStudy(study);
        return List.of("import", study.toString(), file("r.csv", readings()).toString());
      }
      case "noise" -> {
        String samples = "51330\n51332\n51329\n51335\n".repeat(2_000_000);
        return List.of("noise", file("c.log", samples).toString());
      }
      case "report" -> {
        return List.of("report", Demo.copyInto(temp).toString());
      }
      default -> {
        return List.of("rehearse", Demo.copyInto(temp).toString(), "--times", "900000");
      }
    }
  }

  @ParameterizedTest
  @Tag("slow")
  @ValueSource(strings = {"enter", "import", "noise", "report", "rehearse"})
  void endsAtOnceAndTheRecordIsWhole(String command) throws IOException, InterruptedException {
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(List.of("-cp", System.getProperty("java.class.path"), Main.class.getName()));
    line.addAll(words(command));
    Path out = temp.resolve("out.txt");
    Process process =
        new ProcessBuilder(line).redirectErrorStream(true).redirectOutput(out.toFile()).start();
    // at work it says what it does, or asks
    for (int i = 0; i < 50 * MOST_SECONDS && Files.size(out) == 0; i++) {
      Thread.sleep(20);
    }
    assertThat(process.isAlive()).as(Files.readString(out)).isTrue();

    long start = System.nanoTime();
    interrupt(process.pid());
    boolean ended = process.waitFor(MOST_SECONDS, TimeUnit.SECONDS);
    process.destroyForcibly();

    assertThat(ended).as("after %s s", (System.nanoTime() - start) / 1e9).isTrue();
    assertThat(process.exitValue()).isEqualTo(Exit.INTERRUPTED);
    for (Path study : List.of(temp.resolve("study"), temp.resolve("hive-scale"))) {
      if (Files.exists(study)) {
        assertThat(StudyFolder.at(study).open().isRefused()).isFalse();
      }
    }
  }
}
