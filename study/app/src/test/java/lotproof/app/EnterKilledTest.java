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
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.EntryDrafts;
import lotproof.gather.EntryDrafts.EntryDraft;
import lotproof.gather.TypedRun;
import lotproof.study.Reading;
import lotproof.study.Result;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Typing in a process of its own that is killed at random instants: what was acknowledged by the
 * next question is kept, and at most the value on its way is lost.
 */
class EnterKilledTest {
  private static final long SEED = 20261126;
  private static final int KILLS = 4;
  private static final int MANY_KILLS = 56;
  private static final int MOST_ANSWERS = 30;
  private static final int LOADS = 5;
  private static final List<String> PEOPLE = List.of("Ann", "Bob Lind");
  private static final Pattern VALUE = Pattern.compile("(\\d)/5 at (\\d+) kg, counts: $");

  private static final Pattern RUN = Pattern.compile("run (S\\d+-\\d+)[:;]");

  @TempDir private Path temp;

  @Test
  void aKillLosesAtMostTheUnfinishedValue() throws Exception {
    kill(KILLS, PEOPLE.subList(0, 1));
  }

  @Test
  void aKillOfTwoAtOnceLosesAtMostTheUnfinishedValues() throws Exception {
    kill(KILLS / 2, PEOPLE);
  }

  @Test
  @Tag("slow")
  void manyKillsLoseAtMostTheUnfinishedValues() throws Exception {
    kill(MANY_KILLS / 2, PEOPLE);
  }

  /** Rounds in which each of these people types in a process of their own, and all are killed. */
  private void kill(int rounds, List<String> people) throws Exception {
    Path folder = temp.resolve("scale");
    EntryStudy.plan(folder, 60);
    Random random = new Random(SEED);
    int half = 0;
    int runs = 0;
    for (int round = 0; round < rounds; round++) {
      List<Session> sessions = new ArrayList<>();
      List<Thread> typing = new ArrayList<>();
      for (String person : people) {
        Session session = new Session(folder, person, 1 + random.nextInt(MOST_ANSWERS));
        sessions.add(session);
        Thread thread = new Thread(session::type);
        thread.start();
        typing.add(thread);
      }
      for (Session session : sessions) {
        typing.get(sessions.indexOf(session)).join();
        Thread.sleep(random.nextInt(15));
        session.process.destroyForcibly().waitFor();
      }
      String about = "seed " + SEED + ", round " + round;
      int recorded = recorded(folder, about);
      int unseen = 0;
      for (Session session : sessions) {
        assertThat(session.failure).as(about).isEmpty();
        runs += session.recorded;
        int values = draft(folder, session, about);
        half += values > 0 ? 1 : 0;
        unseen += values < session.values ? 1 : 0;
      }
      // a run may be in the record before anyone was told
      runs += unseen;
      assertThat(recorded).as(about).isEqualTo(runs);
    }
    // the check would be empty if no kill fell into a run
    assertThat(half).isPositive();
  }

  /** Runs of the record, each of which is whole and holds what was typed. */
  private static int recorded(Path root, String about) {
    Result<StudyContents> outcome = StudyFolder.at(root).open();
    assertThat(outcome.value()).as(about).isPresent();
    List<Reading> readings = outcome.get().readings();
    readings.forEach(
        r -> assertThat(r.outputCounts()).isEqualTo(counts(r.run(), r.loadKilograms())));
    long runs = readings.stream().map(Reading::run).distinct().count();
    assertThat((long) readings.size()).as(about).isEqualTo(runs * LOADS);
    return (int) runs;
  }

  /** Holds a person's draft against what the questions acknowledged; how many values it has. */
  private static int draft(Path root, Session session, String about) throws IOException {
    Optional<TypedRun> begun;
    try (EntryDrafts drafts = EntryStudy.client(root, session.person)) {
      assertThat(drafts.leftovers()).as(about).isEmpty();
      List<EntryDraft> own =
          drafts.drafts().stream().filter(d -> d.person().equals(session.person)).toList();
      assertThat(own).as(about).hasSizeLessThanOrEqualTo(1);
      assertThat(own).as(about).noneMatch(EntryDraft::isElsewhere);
      begun = own.stream().findFirst().map(EntryDraft::run);
    }
    begun.ifPresent(run -> assertWritten(run, about));
    int values = begun.map(run -> run.outputCounts().size()).orElse(0);
    boolean recorded = session.values == LOADS && values == 0;
    if (!recorded) {
      assertThat(values).as(about).isBetween(session.values, session.values + 1);
    }
    return values;
  }

  private static void assertWritten(TypedRun run, String about) {
    List<Double> values = run.outputCounts();
    double[] loads = {0, 25, 50, 25, 0};
    List<Double> expected = new ArrayList<>();
    for (int i = 0; i < values.size(); i++) {
      expected.add(counts(run.planned().run(), loads[i]));
    }
    assertThat(values).as(about).isEqualTo(expected);
  }

  /** No two runs read the same. */
  private static double counts(String run, double kilograms) {
    return Integer.parseInt(run.replaceAll("\\D", "")) + Math.rint(83886.08 * kilograms);
  }

  /** One process, typed to like a person who waits for each question. */
  private static final class Session {
    private final Process process;
    private final Reader from;
    private final Writer to;
    private final String person;
    private final int answers;
    private final StringBuilder seen = new StringBuilder();

    /** The run that is measured. */
    private String run = "";

    /** Runs that were recorded, and values of the run after them, as far as questions showed it. */
    private int recorded;

    private Optional<Throwable> failure = Optional.empty();
    private int values;

    Session(Path folder, String person, int answers) throws IOException {
      this.person = person;
      this.answers = answers;
      process =
          new ProcessBuilder(
                  Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                  "-XX:TieredStopAtLevel=1",
                  "-cp",
                  System.getProperty("java.class.path"),
                  Main.class.getName(),
                  "enter",
                  folder.toString(),
                  "--who",
                  person)
              .redirectErrorStream(true)
              .start();
      from = new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8);
      to = process.outputWriter(StandardCharsets.UTF_8);
    }

    /** Answers so many questions; the last answer is on its way when this returns. */
    void type() {
      try {
        for (int i = 0; i < answers; i++) {
          to.write(answer() + "\n");
          to.flush();
        }
      } catch (IOException | AssertionError e) {
        failure = Optional.of(e);
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
        RUN.matcher(seen).results().forEach(named -> run = named.group(1));
        Matcher value = VALUE.matcher(seen);
        if (value.find()) {
          acknowledge(Integer.parseInt(value.group(1)) - 1);
          return String.valueOf((long) counts(run, Double.parseDouble(value.group(2))));
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
