package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.BenchPlanFile;
import lotproof.folder.OpenOutcome;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.TypedEntry;
import lotproof.gather.TypedRun;
import lotproof.study.Reading;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Typing in a process of its own that is killed at random instants: what was acknowledged by the
 * next question is kept, and at most the value on its way is lost.
 */
@Tag("slow")
class EnterKilledTest {
  private static final long SEED = 20261126;
  private static final int KILLS = 15;
  private static final int MOST_ANSWERS = 30;
  private static final int LOADS = 5;
  private static final Pattern VALUE = Pattern.compile("(\\d)/5 at (\\d+) kg, counts: $");

  @TempDir private Path temp;

  @Test
  void aKillLosesAtMostTheUnfinishedValue() throws Exception {
    Path folder = temp.resolve("scale");
    planned(folder);
    Random random = new Random(SEED);
    int kept = 0;
    for (int kill = 0; kill < KILLS; kill++) {
      String about = "seed " + SEED + ", kill " + kill;
      Session session = new Session(folder, 1 + random.nextInt(MOST_ANSWERS));
      session.type();
      Thread.sleep(random.nextInt(15));
      session.process.destroyForcibly().waitFor();
      kept += checked(folder, session, about);
    }
    // the check would be empty if no kill fell into a run
    assertThat(kept).isGreaterThan(KILLS / 3);
  }

  /** Holds the folder against what was acknowledged; says whether a run stood half typed. */
  private static int checked(Path root, Session session, String about) {
    StudyFolder folder = StudyFolder.at(root);
    OpenOutcome outcome = folder.open();
    assertThat(outcome).as(about).isInstanceOf(OpenOutcome.Opened.class);
    StudyContents contents = ((OpenOutcome.Opened) outcome).contents();
    List<Reading> readings = contents.readings();
    assertThat(readings.size() % LOADS).as(about).isZero();
    int runs = readings.size() / LOADS;
    assertThat(runs).as(about).isBetween(session.recorded, session.recorded + 1);
    readings.forEach(r -> assertThat(r.outputCounts()).isEqualTo(counts(r.loadKilograms())));
    BenchPlanFile.Outcome.Planned plan = (BenchPlanFile.Outcome.Planned) folder.benchPlan();
    Optional<TypedRun> begun = TypedEntry.of(folder, contents, Optional.of(plan.plan())).begun();
    int values = begun.map(run -> run.outputCounts().size()).orElse(0);
    if (runs == session.recorded) {
      assertThat(values).as(about).isBetween(session.values, session.values + 1);
    } else {
      // the run went into the record before anyone was told
      assertThat(session.values).as(about).isEqualTo(LOADS);
    }
    begun.ifPresent(run -> assertWritten(run.outputCounts(), about));
    return values > 0 ? 1 : 0;
  }

  private static void assertWritten(List<Double> values, String about) {
    double[] loads = {0, 25, 50, 25, 0};
    List<Double> expected = new ArrayList<>();
    for (int i = 0; i < values.size(); i++) {
      expected.add(counts(loads[i]));
    }
    assertThat(values).as(about).isEqualTo(expected);
  }

  private static double counts(double kilograms) {
    return 1000 + Math.rint(83886.08 * kilograms);
  }

  private static void planned(Path folder) {
    Ran ran =
        Ran.lotproof(
            "plan",
            folder,
            "--title",
            "Scale",
            "--cells",
            "A=20",
            "--boards",
            "X=20",
            "--capacity",
            "50 kg",
            "--default-factor",
            "83886.08 counts/kg",
            "--converter-scale",
            "2097152 counts/(mV/V)",
            "--temperature",
            "18..26",
            "--bench-masses",
            "F2",
            "--cell-sd",
            "240",
            "--board-sd",
            "90",
            "--repeat-sd",
            "10",
            "--loads",
            "0,25,50,25,0",
            "--design",
            "rotation-3");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
  }

  /** One process, typed to like a person who waits for each question. */
  private static final class Session {
    private final Process process;
    private final Reader from;
    private final Writer to;
    private final int answers;
    private final StringBuilder seen = new StringBuilder();

    /** Runs in the record and values of the run after them, as far as questions showed it. */
    private int recorded;

    private int values;

    Session(Path folder, int answers) throws IOException {
      this.answers = answers;
      OpenOutcome.Opened before = (OpenOutcome.Opened) StudyFolder.at(folder).open();
      recorded = before.contents().readings().size() / LOADS;
      process =
          new ProcessBuilder(
                  Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                  "-XX:TieredStopAtLevel=1",
                  "-cp",
                  System.getProperty("java.class.path"),
                  Main.class.getName(),
                  "enter",
                  folder.toString())
              .redirectErrorStream(true)
              .start();
      from = new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8);
      to = process.outputWriter(StandardCharsets.UTF_8);
    }

    /** Answers so many questions; the last answer is on its way when this returns. */
    void type() throws IOException {
      for (int i = 0; i < answers; i++) {
        to.write(answer() + "\n");
        to.flush();
      }
    }

    /** Waits for a question and notes what it acknowledges. */
    private String answer() throws IOException {
      seen.setLength(0);
      while (true) {
        int c = from.read();
        assertThat(c).as(seen.toString()).isNotNegative();
        seen.append((char) c);
        if (c != ' ' || seen.length() < 3) {
          continue;
        }
        Matcher value = VALUE.matcher(seen);
        if (value.find()) {
          acknowledge(Integer.parseInt(value.group(1)) - 1);
          return String.valueOf((long) counts(Double.parseDouble(value.group(2))));
        } else if (seen.toString().endsWith("record this run? [yes]: ")) {
          acknowledge(LOADS);
          return "yes";
        } else if (seen.toString().endsWith("]: ")) {
          acknowledge(-1);
          return "";
        }
      }
    }

    private void acknowledge(int shown) {
      if (seen.indexOf("  recorded") >= 0) {
        recorded++;
        values = 0;
      }
      values = shown >= 0 ? shown : values;
    }
  }
}
