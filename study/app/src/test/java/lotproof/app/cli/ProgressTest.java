package lotproof.app.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.time.Duration;
import org.junit.jupiter.api.Test;

class ProgressTest {
  @Test
  void progressIsSilentWhenQuickAndSpeaksWhenSlow() {
    StringWriter err = new StringWriter();
    PrintWriter printer = new PrintWriter(err);
    CliContext io = new CliContext(printer, printer, null, false);
    int counted = io.counted("counting", -1, done -> 7, Duration.ofMinutes(1));
    assertThat(counted).isEqualTo(7);
    assertThat(err.toString()).isEmpty();
    String slow =
        io.counted(
            "counting",
            -1,
            done -> {
              long end = System.nanoTime() + Duration.ofSeconds(20).toNanos();
              while (err.toString().isEmpty() && System.nanoTime() < end) {
                Thread.onSpinWait();
              }
              return "done";
            },
            Duration.ofMillis(1));
    assertThat(slow).isEqualTo("done");
    assertThat(err.toString()).as("says when it ended").matches("Counting \\.\\.\\. \\d+ s\\R");
  }
}
