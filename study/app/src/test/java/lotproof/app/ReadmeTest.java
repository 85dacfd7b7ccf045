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
            "mvn -q -DskipTests package && java -jar study/app/target/lotproof.jar report"
                + " demo-data/hive-scale\n")
        .contains("\nmvn verify\n");
    assertThat(readme.lines().skip(2).findFirst().orElseThrow()).startsWith("Lotproof is for");
  }

  /** Every line of the sample is a line of what the command prints now, in the same order. */
  @Test
  @Tag("slow")
  void itsSampleIsWhatTheCommandPrints() throws IOException {
    String readme = Files.readString(Path.of("..", "..", "README.md"));
    String marked =
        readme.substring(
            readme.indexOf("<!-- sample-output:begin -->"),
            readme.indexOf("<!-- sample-output:end -->"));
    List<String> sample =
        marked
            .lines()
            .filter(line -> !line.startsWith("```") && !line.startsWith("<!--"))
            .filter(line -> !line.equals("..."))
            .toList();
    Ran ran = Ran.lotproof("report", Demo.FOLDER, "--to", temp.resolve("evidence"));
    assertThat(sample).hasSizeGreaterThan(5);
    assertThat(ran.out().lines().toList()).containsSubsequence(sample);
  }
}
