package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReadmeTest {
  @TempDir private Path temp;

  @Test
  void itsFirstParagraphStatesTheJobAndItsCommandsAreThere() throws IOException {
    String readme = Files.readString(Path.of("..", "..", "README.md"));
    assertThat(readme)
        .contains("mvn -q -DskipTests package && study/app/lotproof report demo-data/hive-scale\n")
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
    assertThat(
            differingShare(
                Path.of("..", "..", "docs", "images", "hive-scale-one-point-errors.png"),
                temp.resolve("evidence/charts/errors-one-point-2.png")))
        .as("share of pixels in which the picture differs from today's chart")
        .isLessThan(0.002);
  }

  /** Edges may be drawn a little otherwise by another Java. */
  private static double differingShare(Path one, Path other) throws IOException {
    BufferedImage first = ImageIO.read(one.toFile());
    BufferedImage second = ImageIO.read(other.toFile());
    assertThat(first.getWidth()).isEqualTo(second.getWidth());
    assertThat(first.getHeight()).isEqualTo(second.getHeight());
    int differing = 0;
    for (int x = 0; x < first.getWidth(); x++) {
      for (int y = 0; y < first.getHeight(); y++) {
        differing += alike(first.getRGB(x, y), second.getRGB(x, y)) ? 0 : 1;
      }
    }
    return (double) differing / first.getWidth() / first.getHeight();
  }

  private static boolean alike(int one, int other) {
    return IntStream.of(0, 8, 16)
        .allMatch(shift -> Math.abs((one >> shift & 0xff) - (other >> shift & 0xff)) < 64);
  }
}
