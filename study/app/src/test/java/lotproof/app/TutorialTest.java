package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The tutorial shows what its commands print. */
class TutorialTest {
  @TempDir private Path temp;

  @Test
  void itsBenchFileIsTheInventedOne() throws IOException {
    assertThat(Files.readString(Tutorial.BENCH)).isEqualTo(TutorialData.bench());
  }

  /** To write the document anew after a change of the program, run {@link Tutorial#main}. */
  @Test
  void everyCommandPrintsWhatTheTutorialShows() throws IOException, InterruptedException {
    Files.copy(Tutorial.BENCH, temp.resolve("bench-01.csv"));
    String document = Files.readString(Tutorial.DOCUMENT);

    assertThat(Tutorial.performed(document, temp)).isEqualTo(document);
  }

  @Test
  void anExcerptSaysWhereLinesAreLeftOut() {
    String output = "one\ntwo\nthree\nfour\nfive\n";
    assertThat(Tutorial.excerpt("<!-- output: 1 from \"one\" -->", output)).isEqualTo("one\n...\n");
    assertThat(Tutorial.excerpt("<!-- output: 1 from \"two\"; 1 from \"five\" -->", output))
        .isEqualTo("...\ntwo\n...\nfive\n");
    assertThat(Tutorial.excerpt("<!-- output: all -->", output)).isEqualTo(output);
  }
}
