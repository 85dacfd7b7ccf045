package lotproof.folder;

import static lotproof.folder.Fixtures.folder;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.study.ClaimVersion;
import lotproof.study.Result;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class HistoryTest {
  private static final ReceivedFile FILE =
      ReceivedFile.of("lot.csv", "a,b\n1,2\n".getBytes(StandardCharsets.UTF_8));

  @TempDir Path root;
  private StudyFolder folder;

  @BeforeEach
  void aStudy() {
    folder = folder(root);
  }

  private static WatchLine line(String check, OptionalDouble sd) {
    return new WatchLine(
        check,
        "2026-11-02",
        "lot \"6\", late",
        new WatchLine.Kits(5, 19.4, 0),
        "one-point (20 kg)",
        31,
        50,
        "rising",
        new WatchLine.Mean(-12.5, -13.25, 16.7),
        new WatchLine.Spread(sd, 4.6, sd),
        WatchLine.Verdict.RE_STUDY,
        new WatchLine.Source(FILE.name(), FILE.sha256(), "0".repeat(64)));
  }

  private static ClaimVersion version() {
    return new ClaimVersion(
        "V1", "2026-10-01", "Mara Lind", "none", 752, 0.95, 0.95, "Within ±752 g.", "f".repeat(64));
  }

  @Test
  void anEmptyFolderHasNoHistory() {
    assertThat(folder.history().read())
        .isEqualTo(Result.of(new StudyHistory.Lines(List.of(), List.of())));
  }

  @Test
  void linesComeBackAsTheyWereAndOnlyEverGrow() throws IOException {
    WatchLine first = line("W1", OptionalDouble.of(5.5));
    WatchLine second = line("W2", OptionalDouble.empty());
    assertThat(folder.history().addWatch(FILE, known -> List.of(first)))
        .isEqualTo(Result.of(new StudyHistory.Lines(List.of(first), List.of())));
    String before = Files.readString(root.resolve("watch.csv"));
    folder.history().addWatch(FILE, known -> List.of(second));
    assertThat(Files.readString(root.resolve("watch.csv"))).startsWith(before);
    assertThat(folder.history().addClaims(known -> List.of(version())))
        .isEqualTo(Result.of(new StudyHistory.Lines(List.of(first, second), List.of(version()))));
    assertThat(root.resolve("captures").resolve(FILE.captureName())).exists();
  }

  @Test
  void theHistoryDoesNotChangeTheHashOfTheRecord() {
    String hash = Fixtures.opened(folder).recordHash();
    folder.history().addClaims(known -> List.of(version()));
    folder.history().addWatch(FILE, known -> List.of(line("W1", OptionalDouble.empty())));
    assertThat(Fixtures.opened(folder).recordHash()).isEqualTo(hash);
  }

  @Test
  void aDamagedHistoryIsRefusedWithItsLineAndLeftAsItIs() throws IOException {
    folder.history().addWatch(FILE, known -> List.of(line("W1", OptionalDouble.empty())));
    Path file = root.resolve("watch.csv");
    String damaged = Files.readString(file).replace("re-study", "fine");
    Files.writeString(file, damaged);
    Result<StudyHistory.Lines> outcome =
        folder.history().addWatch(FILE, known -> List.of(line("W2", OptionalDouble.empty())));
    assertThat(outcome.issues())
        .singleElement()
        .satisfies(
            issue -> {
              assertThat(issue.file()).isEqualTo("watch.csv");
              assertThat(issue.line()).isEqualTo(2);
              assertThat(issue.message()).contains("\"fine\" is none of");
            });
    assertThat(Files.readString(file)).isEqualTo(damaged);
  }
}
