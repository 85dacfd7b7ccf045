package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReadmeTest {
  @TempDir private Path temp;

  @Test
  void itsFirstParagraphStatesTheJobAndItsCommandsAreThere() throws IOException {
    String readme = Files.readString(Path.of("..", "..", "README.md"));
    assertThat(readme)
        .contains(
            "mvn -q -DskipTests package && ./lotproof report demo-data/hive-scale\n")
        .contains("\nmvn verify\n");
    assertThat(readme.lines().skip(2).findFirst().orElseThrow()).startsWith("Lotproof is for");
  }

  /** Every line of the sample is a line of what the command prints now, in the same order. */
  @Test
  @Tag("slow")
  void itsSampleIsWhatTheCommandPrints() throws IOException {
    String readme = Files.readString(Path.of("..", "..", "README.md"));
    int begin = readme.indexOf("```text\n", readme.indexOf("<!-- sample-output:begin -->"));
    String block = readme.substring(begin + "```text\n".length(), readme.indexOf("\n```\n", begin));
    List<String> sample = block.lines().filter(line -> !line.equals("...")).toList();
    Ran ran = Ran.lotproof("report", Demo.FOLDER, "--to", temp.resolve("evidence"));
    assertThat(sample).hasSizeGreaterThan(5);
    assertThat(ran.out().lines().toList()).containsSubsequence(sample);
  }
}
