package lotproof.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class OutputSinkTest {
  @Test
  void aFolderHoldsTheLastOfEachFile(@TempDir Path folder) throws Exception {
    OutputSink sink = OutputSink.folder(folder);
    sink.put("tables/a.csv", "first");
    sink.put("tables/a.csv", "second");

    assertThat(folder.resolve("tables/a.csv")).hasContent("second");
    try (var files = Files.list(folder.resolve("tables"))) {
      assertThat(files).hasSize(1);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"../a.txt", "/a.txt", "a/../b.txt", "A.txt", "a b.txt", "", "c:a.txt"})
  void noNameLeavesItsFolder(String name) {
    assertThatThrownBy(() -> new MemorySink().put(name, "x"))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> OutputSink.folder(Path.of("target")).put(name, "x"))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
