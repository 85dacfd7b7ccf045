package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import lotproof.gather.EntryDrafts;
import lotproof.gather.EntryDrafts.Begun;
import lotproof.gather.EntryDrafts.EntryDraft;
import lotproof.gather.EntryDrafts.Start;
import lotproof.gather.TypedRun;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Typing at the bench, as a person sees it: skipping, coming back, and others at work. */
class EnterTest {
  /** Answers to all questions about a run of five loads. */
  private static final List<String> RUN =
      List.of("", "", "21 22", "1000", "2098152", "4195304", "2098152", "1000", "yes");

  @TempDir private Path temp;
  private Path study;

  @BeforeEach
  void planned() {
    study = temp.resolve("scale");
    EntryStudy.plan(study, 20);
  }

  private Ran enter(String who, String... lines) {
    return enterText(who, String.join("\n", lines) + "\n");
  }

  private Ran enterText(String who, String text) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    BufferedReader in = new BufferedReader(new StringReader(text));
    CliContext io = new CliContext(new PrintWriter(out), new PrintWriter(err), in, false);
    int exit = Main.run(io, "enter", study.toString(), "--who", who);
    return new Ran(exit, out.toString(), err.toString());
  }

  private EntryDrafts client(String person) throws IOException {
    return EntryStudy.client(study, person);
  }

  private List<EntryDraft> drafts() throws IOException {
    try (EntryDrafts drafts = client("Nobody")) {
      return drafts.drafts();
    }
  }

  private static String[] first(int answers, String... then) {
    return Stream.concat(RUN.stream().limit(answers), Arrays.stream(then)).toArray(String[]::new);
  }

  @Test
  void leavingARunAtAnyQuestionKeepsWhatWasTyped() throws IOException {
    for (int answers = 0; answers < RUN.size(); answers++) {
      String leave = List.of("skip", "quit", "run S01-05").get(answers % 3);
      Ran ran = enter("Ann", first(answers, leave, "quit"));
      assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
      List<EntryDraft> drafts = drafts();
      if (answers < 3) {
        assertThat(drafts).as(leave + " after " + answers).isEmpty();
        continue;
      }
      assertThat(drafts).hasSize(1);
      TypedRun run = drafts.get(0).run();
      assertThat(run.planned().run()).isEqualTo("S01-01");
      assertThat(run.beside().cellTemperatureCelsius().orElseThrow()).isEqualTo(21);
      assertThat(run.outputCounts().stream().map(Double::intValue).map(String::valueOf))
          .as(leave + " after " + answers)
          .isEqualTo(RUN.subList(3, answers));
      assertThat(ran.out()).contains("Run S01-01 is kept as a draft");
      // all of it is taken back, so that the next round starts anew
      try (EntryDrafts ann = client("Ann")) {
        TypedRun again = ((Begun.Granted) ann.begin(run.planned(), Start.PLAIN)).run();
        assertThat(again).isEqualTo(run);
        ann.leave(TypedRun.of(run.planned()));
      }
    }
  }

  @Test
  void theEndOfTheInputKeepsTheDraftAndAValueWithoutLineEndIsNotTaken() throws IOException {
    String text = "\n\n21 22\n1000\n2098152\n41";
    Ran ran = enterText("Ann", text);
    assertThat(ran.out()).contains("not taken, since its line has no end: 41");
    assertThat(ran.out()).contains("Run S01-01 is kept as a draft, 2 values");
    assertThat(drafts().get(0).run().outputCounts()).containsExactly(1000.0, 2098152.0);
  }

  @Test
  void aSkippedRunIsComeBackToAndRecorded() throws IOException {
    Ran ran = enter("Ann", first(8, "skip", "", "", "", "run S01-01", "yes", "quit"));
    assertThat(ran.out())
        .contains("Run S01-01 is kept as a draft, 5 values")
        .contains("Continuing run S01-01; 5 values kept.")
        .contains("recorded");
    assertThat(drafts()).isEmpty();
    assertThat(Files.readAllLines(study.resolve("readings.csv"))).hasSize(6);
  }

  @Test
  void theSecondIsToldWhatTheFirstMeasuresAndIsOfferedAnotherRun() throws IOException {
    try (EntryDrafts ann = client("Ann")) {
      TypedRun hers = begun(ann, 0).with(1000).with(2098152);
      ann.keep(hers);
      Ran bob = enter("Bob", "quit");
      assertThat(bob.out())
          .contains("Ann is measuring run S01-01 since 20")
          .contains("2 values")
          .contains("S01, run S01-02: cell");
      Ran no = enter("Bob", "run S01-01", "no", "quit");
      assertThat(no.out()).contains("take it over? [no]: no").contains("S01, run S01-02: cell");
      assertThat(ann.keep(hers)).isInstanceOf(EntryDrafts.Kept.InDraft.class);
      Ran yes = enter("Bob", "run S01-01", "yes", "4195304", "2098152", "1000", "yes", "quit");
      assertThat(yes.out()).contains("Continuing run S01-01; 2 values kept.");
      assertThat(yes.out()).contains("recorded");
      assertThat(ann.keep(hers.with(4195305))).isInstanceOf(EntryDrafts.Kept.TakenOver.class);
      assertThat(Files.readAllLines(study.resolve("readings.csv"))).hasSize(6);
    }
    // her value differs from the record, so it is told and stays
    Ran again = enter("Ann", "quit");
    assertThat(again.out())
        .contains("bench/drafts/run-S01-01.Ann.")
        .contains("until you delete the file");
  }

  private TypedRun begun(EntryDrafts drafts, int run) throws IOException {
    return ((Begun.Granted) drafts.begin(EntryStudy.entry(study).open().get(run), Start.PLAIN))
        .run();
  }

  @Test
  void aDraftThatAnotherPersonLeftIsAskedAbout() throws IOException {
    enter("Ann", first(5, "quit"));
    Ran skipped = enter("Bob", "", "quit");
    assertThat(skipped.out())
        .contains("Ann began run S01-01 at 20")
        .contains("left it with 2 values")
        .contains("S01, run S01-02: cell");
    Ran anew = enter("Bob", "no", "", "", "", "999", "quit");
    assertThat(anew.out()).contains("1/5 at 0 kg");
    assertThat(drafts())
        .extracting(EntryDraft::person, draft -> draft.run().outputCounts().size())
        .containsExactlyInAnyOrder(
            org.assertj.core.api.Assertions.tuple("Ann", 2),
            org.assertj.core.api.Assertions.tuple("Bob", 1));
    Ran hers = enter("Ann", "quit");
    assertThat(hers.out()).contains("Continuing run S01-01; 2 values kept.");
  }

  @Test
  void whenOnlySkippedRunsAreLeftTheyAreNamed() {
    String[] skips = new String[70];
    Arrays.fill(skips, "skip");
    skips[69] = "";
    Ran ran = enter("Ann", skips);
    assertThat(ran.out()).contains("Left are the runs S01-01, S01-02").contains(" more.");
    assertThat(ran.out()).contains("Run to continue with, or Enter to stop:");
    assertThat(ran.exit()).isEqualTo(Exit.DONE);
  }

  @Test
  void aStepIsTypedAnewAndTheRunIsDrawn() throws IOException {
    Ran ran =
        enter(
            "Ann",
            "",
            "",
            "21,4 22,6 °C",
            "1000",
            "2098252",
            "4195304,5",
            "2098152 counts",
            "1,000",
            "step 9",
            "step 2",
            "2098152",
            "1000",
            "show",
            "yes",
            "quit");
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
    assertThat(ran.out())
        .contains("\"1,000\" is no number of counts")
        .contains("step N, of the 4 that have a value")
        .contains("2/5 at 25 kg, counts (was 2098252): ")
        .containsPattern("3 +50 kg +4195304\\.5 counts +0\\.0 g +\\|\n")
        .contains("recorded");
    List<String> record = Files.readAllLines(study.resolve("readings.csv"));
    assertThat(record.get(2)).contains(",2098152,").contains(",21.4,22.6,");
    assertThat(record.get(3)).contains(",4195304.5,");
    assertThat(record.subList(1, 6))
        .as("the time of each value")
        .allMatch(line -> line.matches("S01,20\\d\\d-\\d\\d-\\d\\dT\\d\\d:\\d\\d(:\\d\\d)?,.*"));
  }

  @Test
  void helpSaysWhatIsKeptAndAnUnknownRunIsNamed() {
    Ran ran = enter("Ann", "help", "run S99", "run", "quit");
    assertThat(ran.out())
        .contains("What was typed of a run stays as a draft")
        .contains("there is no open run S99; open: S01-01")
        .contains("run NAME, one of S01-01");
  }
}
