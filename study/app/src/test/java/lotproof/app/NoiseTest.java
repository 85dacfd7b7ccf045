package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Random;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class NoiseTest {
  @TempDir private Path temp;

  private Path capture(String name, String header, int glitchAt) throws IOException {
    return capture(name, header, glitchAt, 1_204_000);
  }

  private Path capture(String name, String header, int glitchAt, long level) throws IOException {
    Random random = new Random(name.hashCode());
    StringBuilder text = new StringBuilder(header + "\n");
    for (int i = 0; i < 600; i++) {
      long value = Math.round(level + 12 * random.nextGaussian()) + (i == glitchAt ? 65_536 : 0);
      text.append(i * 100).append(',').append(value).append('\n');
    }
    return Files.writeString(temp.resolve(name), text);
  }

  @Test
  void aCaptureIsShownWithItsBits() throws IOException {
    Ran ran = Ran.lotproof("noise", capture("a.csv", "time [ms],counts", -1), "--bits", "24");
    assertThat(ran.err()).isEmpty();
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out()).contains("clock in column 1 in ms", "Noise-free", "Allan deviation");
  }

  @Test
  void troubleIsNamedWithItsLineAndStrictSaysNo() throws IOException {
    Path file = capture("a.csv", "time [ms],counts", 300);
    Ran ran = Ran.lotproof("noise", file, "--strict");
    assertThat(ran.exit()).isEqualTo(Exit.NO);
    assertThat(ran.err()).contains("a.csv, line 302").contains("off by 2^16");
    assertThat(Ran.lotproof("noise", file).exit()).isEqualTo(Exit.DONE);
  }

  @Test
  void anOpenQuestionNamesItsOptionAndWhatIsUnknownIsRefused() throws IOException {
    Path file = capture("a.csv", "time,counts", -1);
    Ran ran = Ran.lotproof("noise", file);
    assertThat(ran.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(ran.err()).contains("--clock");
    assertThat(Ran.lotproof("noise", file, "--clock", "ms").exit()).isEqualTo(Exit.DONE);
    assertThat(Ran.lotproof("noise", file, "--clock", "h").exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(Ran.lotproof("noise", temp.resolve("none.csv")).exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(Ran.lotproof("noise", file, "--unit", "g", "--clock", "ms").err())
        .contains("--counts-per-unit");
  }

  @Test
  void aFolderAPatternChartsAndJsonWork() throws IOException {
    Path folder = Files.createDirectory(temp.resolve("captures"));
    for (String name : new String[] {"captures/a.csv", "captures/b.csv"}) {
      capture(name, "time [ms],counts", -1);
    }
    Path charts = temp.resolve("charts");
    assertThat(Ran.lotproof("noise", folder, "--to", charts).exit()).isEqualTo(Exit.DONE);
    assertThat(charts.resolve("c002-b-stability.svg")).exists();
    assertThat(charts.resolve("c001-a-trace.png")).exists();
    Ran json = Ran.lotproof("noise", folder + "/*.csv", "--json");
    assertThat(json.exit()).isEqualTo(Exit.DONE);
    assertThat(MessageSchema.checked(json.out()).get("captures")).hasSize(2);
  }

  @Test
  void manyCapturesAreSummedUpAndTheWorstShown() throws IOException {
    Path folder = Files.createDirectory(temp.resolve("captures"));
    Path usual = capture("usual.csv", "time [ms],counts", -1);
    Path glitch = capture("glitch.csv", "time [ms],counts", 100);
    for (int i = 0; i < 60; i++) {
      Files.copy(i == 33 ? glitch : usual, folder.resolve("c" + i + ".csv"));
    }
    Ran ran = Ran.lotproof("noise", folder);
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .contains("60 captures together")
        .contains("1 of 60 captures have signs of trouble");
    // the one with a sign stands before the others, and a screen is enough
    int first = ran.out().indexOf("\nc33.csv");
    assertThat(first).isPositive().isLessThan(ran.out().indexOf("\nc0.csv"));
    assertThat(ran.out().lines().count()).isLessThan(75);
  }

  @Test
  void capturesOfAManifestBecomeReadingsOnceAndNeverFromOutside() throws IOException {
    Path study = Demo.emptyInto(temp);
    capture("a.csv", "time [ms],counts", 100);
    capture("b.csv", "time [ms],counts", -1, 1_623_400);
    String head = "session,run,step,cell,board,load [kg],file\n";
    Path manifest =
        Files.writeString(
            temp.resolve("manifest.csv"),
            head + "S1,R1,1,C0-0007,B0-0003,0,a.csv\nS1,R1,2,C0-0007,B0-0003,5,b.csv\n");
    Ran ran = Ran.lotproof("import", study, manifest, "--captures");
    assertThat(ran.err()).contains("a.csv, line 102");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
    String record = Files.readString(study.resolve("readings.csv"));
    assertThat(record.lines()).hasSize(3);
    assertThat(record).contains("\"capture of 600 samples, 1 left out as glitches\",a.csv");
    assertThat(study.resolve("captures")).isDirectoryContaining(f -> f.toString().endsWith(".csv"));
    assertThat(Ran.lotproof("import", study, manifest, "--captures").out())
        .contains("already imported");
    assertThat(Files.readString(study.resolve("readings.csv"))).isEqualTo(record);
    assertThat(Ran.lotproof("noise", study).out()).contains("a.csv", "b.csv");
    Files.writeString(manifest, head + "S1,R2,1,C0-0007,B0-0003,0,../../etc/passwd\n");
    Ran outside = Ran.lotproof("import", study, manifest, "--captures");
    assertThat(outside.exit()).isEqualTo(Exit.UNUSABLE);
    assertThat(outside.err()).contains("manifest.csv, line 2, column file");
    assertThat(Files.readString(study.resolve("readings.csv"))).isEqualTo(record);
  }

  @Test
  void whatIsToldAboutCapturesIsRememberedAndStandsInTheRecord() throws IOException {
    Path study = Demo.emptyInto(temp);
    StringBuilder codes = new StringBuilder();
    for (int i = 0; i < 400; i++) {
      codes.append(String.format(Locale.ROOT, "0x%06X%n", 0x801388 + i % 7));
    }
    Files.writeString(temp.resolve("codes.log"), codes);
    Path manifest =
        Files.writeString(
            temp.resolve("manifest.csv"),
            "session,run,step,cell,board,load [kg],file\nS1,R1,1,C0-0007,B0-0003,0,codes.log\n");
    Ran open = Ran.lotproof("import", study, manifest, "--captures", "--dry-run");
    assertThat(open.err()).contains("--coding");
    Ran told =
        Ran.lotproof(
            "import",
            study,
            manifest,
            "--captures",
            "--coding",
            "offset-binary",
            "--bits",
            "24",
            "--save-mapping",
            "codes");
    assertThat(told.exit()).as(told.err()).isEqualTo(Exit.DONE);
    assertThat(told.out()).contains("hexadecimal, offset-binary");
    String record = Files.readString(study.resolve("readings.csv"));
    assertThat(record).contains("read as told: coding offset-binary, bits 24");
    Files.delete(study.resolve("readings.csv"));
    Ran again = Ran.lotproof("import", study, manifest, "--captures", "--mapping", "codes");
    assertThat(again.exit()).as(again.err()).isEqualTo(Exit.DONE);
    assertThat(Files.readString(study.resolve("readings.csv"))).isEqualTo(record);
  }

  @Test
  void aLastSampleWithoutLineEndIsLeftOutAndOfAFewAsked() throws IOException {
    Path study = Demo.emptyInto(temp);
    Path many = capture("many.csv", "time [ms],counts", -1);
    String text = Files.readString(many);
    Files.writeString(many, text.substring(0, text.length() - 3));
    Ran noise = Ran.lotproof("noise", many);
    assertThat(noise.exit()).isEqualTo(Exit.DONE);
    assertThat(noise.err())
        .contains("does not end with a line end")
        .contains("is left out")
        .doesNotContain("cut off");
    String few = text.lines().limit(6).collect(java.util.stream.Collectors.joining("\n"));
    for (String end : new String[] {"", "\n"}) {
      Path file = Files.writeString(temp.resolve("few" + end.length() + ".csv"), few + end);
      Ran taken =
          Ran.lotproof(
              "import",
              study,
              file,
              "--run",
              "R1",
              "--step",
              "1",
              "--cell",
              "C0-0007",
              "--board",
              "B0-0003",
              "--load",
              "0 kg",
              "--dry-run");
      assertThat(taken.exit()).as(taken.err()).isEqualTo(end.isEmpty() ? 2 : 0);
      assertThat(taken.err().contains("put a line end behind")).isEqualTo(end.isEmpty());
    }
  }
}
