package lotproof.folder;

import static lotproof.folder.Fixtures.batch;
import static lotproof.folder.Fixtures.bench;
import static lotproof.folder.Fixtures.folder;
import static lotproof.folder.Fixtures.opened;
import static lotproof.folder.Fixtures.refusal;
import static lotproof.folder.Fixtures.sentences;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lotproof.study.Decision;
import lotproof.study.Result;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DecisionsTest {
  private static final String HEADER =
      "decision,time,who,action,target,serial,field,value,cause,evidence\n";
  private static final String EXCLUDED =
      "D1,2026-03-04,Mara Lind,excluded,cell,CA-001,,,bench damage,\"dropped, see photo 3\"\n";

  @TempDir Path root;
  private StudyFolder folder;

  @BeforeEach
  void aStudyWithOneRun() {
    folder = folder(root);
    ReceivedFile file = bench("R1");
    folder.record().append(file, batch(file, "R1"));
  }

  private void write(String lines) throws IOException {
    Files.writeString(root.resolve("decisions.csv"), HEADER + lines);
  }

  @Test
  void readsEveryAction() throws IOException {
    write(
        EXCLUDED
            + "D2,2026-03-04T09:30,Mara Lind,corrected,run,R1,board,BA-002,recording error,label\n"
            + "D3,2026-03-05T09:30:15+01:00,Mara Lind,stays in,board,BA-003,,,none found,\n"
            + "D4,2026-03-06,Mara Lind,withdrawn,cell,CA-001,,D1,photo was of another cell,\n"
            + "D5,2026-03-06,Mara Lind,stays in,cell,CA-001,,,none found,\n");

    List<Decision> decisions = opened(folder).decisions();

    assertThat(decisions).hasSize(5);
    assertThat(decisions.get(0))
        .isEqualTo(
            new Decision(
                "D1",
                "2026-03-04",
                "Mara Lind",
                Decision.Action.EXCLUDED,
                Decision.Target.CELL,
                "CA-001",
                Optional.empty(),
                Optional.empty(),
                "bench damage",
                "dropped, see photo 3",
                2));
    assertThat(decisions.get(1).field()).contains("board");
    assertThat(decisions.get(1).value()).contains("BA-002");
    assertThat(decisions.get(4).line()).isEqualTo(6);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '~',
      textBlock =
          """
          D2,2026-03-04,M,removed,cell,CA-002,,,x,|column action: "removed" is none of: excluded, stays in, corrected, re-measured, screened, withdrawn
          D2,2026-03-04,M,excluded,unit,CA-002,,,bench damage,|column target: "unit" is none of: cell, board, run
          ,2026-03-04,M,excluded,cell,CA-002,,,bench damage,|column decision: the value is missing
          D2,2026-03-04,M,excluded,cell,,,,bench damage,|column serial: the value is missing
          D1,2026-03-04,M,excluded,cell,CA-002,,,bench damage,|column decision, unit CA-002: the name D1 is used by a line above
          D2,4.3.2026,M,excluded,cell,CA-002,,,bench damage,|column time, unit CA-002: "4.3.2026" is not a time; write 2026-03-04 or 2026-03-04T09:30
          D2,2026-02-30,M,excluded,cell,CA-002,,,bench damage,|column time, unit CA-002: "2026-02-30" is not a time; write 2026-03-04 or 2026-03-04T09:30
          D2,2026-03-04,,excluded,cell,CA-002,,,bench damage,|column who, unit CA-002: a decision needs the name of the person who made it
          D2,2026-03-04,M,excluded,cell,CA-02,,,bench damage,|column serial, unit CA-02: "CA-02" is no cell of the study; did you mean "CA-002"?
          D2,2026-03-04,M,excluded,board,CA-002,,,bench damage,|column serial, unit CA-002: "CA-002" is a cell of the study, not a board
          D2,2026-03-04,M,excluded,run,R9,,,bench damage,|column serial, unit R9: "R9" is no run of the record
          D2,2026-03-04,M,excluded,cell,CA-002,,,looks odd,|column cause, unit CA-002: "looks odd" is no cause that was agreed in study.yaml; agreed causes: bench damage, recording error, production screen
          D2,2026-03-04,M,excluded,cell,CA-002,,,bench damge,|column cause, unit CA-002: "bench damge" is no cause that was agreed in study.yaml; did you mean "bench damage"?
          D2,2026-03-04,M,stays in,cell,CA-002,,,,|column cause, unit CA-002: a decision needs a cause; for one that stays in: none found
          D2,2026-03-04,M,excluded,cell,CA-002,load,,bench damage,|column field, unit CA-002: "load" has no meaning here; leave it empty
          D2,2026-03-04,M,corrected,cell,CA-002,cell,CA-001,recording error,|column target, unit CA-002: a correction is about a run, not a cell
          D2,2026-03-04,M,corrected,run,R1,load,5,recording error,|column field, unit R1: a correction is of cell, board or source, not of "load"
          D2,2026-03-04,M,corrected,run,R1,cell,CA-009,recording error,|column value, unit R1: "CA-009" is no cell of the study; did you mean "CA-001"?
          D2,2026-03-04,M,withdrawn,cell,CA-001,,D7,wrong,|column value, unit CA-001: "D7" names no decision above; a withdrawal names one by its name
          D2,2026-03-04,M,withdrawn,cell,CA-002,,D1,wrong,|column serial, unit CA-002: D1 is about cell CA-001; write the same target and serial
          D2,2026-03-04,M,stays in,cell,CA-001,,,none found,|column action, unit CA-001: D1 above already decides about cell CA-001 (excluded); withdraw it first
          """)
  void aDecisionThatMakesNoSenseIsRefused(String line, String said) throws IOException {
    write(EXCLUDED + line + "\n");

    assertThat(refusal(folder)).contains("DECISION_INVALID decisions.csv, line 3, " + said);
  }

  @Test
  void aWithdrawalIsMadeOnceAndNotWithdrawn() throws IOException {
    String withdrawal = "2026-03-05,M,withdrawn,cell,CA-001,,";
    write(
        EXCLUDED
            + "D2,"
            + withdrawal
            + "D1,x,\nD3,"
            + withdrawal
            + "D1,x,\nD4,"
            + withdrawal
            + "D2,x,\n");

    assertThat(refusal(folder))
        .containsExactly(
            "DECISION_INVALID decisions.csv, line 4, column value, unit CA-001: D1 is withdrawn"
                + " already",
            "DECISION_INVALID decisions.csv, line 5, column value, unit CA-001: D2 is itself a"
                + " withdrawal; decide anew instead");
  }

  @Test
  void aDecisionIsAddedBehindTheOthers() throws IOException {
    write(EXCLUDED);
    Decision next =
        new Decision(
            "D2",
            "2026-03-05",
            "Mara Lind",
            Decision.Action.STAYS_IN,
            Decision.Target.RUN,
            "R1",
            Optional.empty(),
            Optional.empty(),
            "none found",
            "remeasured twice",
            0);

    Result<Decision> outcome = folder.record().decide(next);

    Decision recorded = opened(folder).decisions().get(1);
    assertThat(outcome).isEqualTo(Result.of(recorded));
    assertThat(recorded.line()).isEqualTo(3);
    assertThat(Files.readString(root.resolve("decisions.csv")))
        .isEqualTo(
            HEADER
                + EXCLUDED
                + "D2,2026-03-05,Mara Lind,stays in,run,R1,,,none found,remeasured twice\n");

    Result<Decision> again = folder.record().decide(next);
    assertThat(sentences(again.issues()))
        .first()
        .isEqualTo(
            "FOLDER_BUSY decisions.csv: another decision was written meanwhile: D2 by Mara Lind,"
                + " run R1 stays in (none found); look whether yours still holds, and give it"
                + " again");
    assertThat(opened(folder).decisions()).hasSize(2);
  }

  @Test
  void theFirstDecisionBringsTheHeader() throws IOException {
    Result<Decision> outcome =
        folder
            .record()
            .decide(
                new Decision(
                    "D1",
                    "2026-03-04",
                    "Mara Lind",
                    Decision.Action.EXCLUDED,
                    Decision.Target.CELL,
                    "CA-001",
                    Optional.empty(),
                    Optional.empty(),
                    "bench damage",
                    "dropped, see photo 3",
                    0));

    assertThat(outcome.value()).isPresent();
    assertThat(Files.readString(root.resolve("decisions.csv"))).isEqualTo(HEADER + EXCLUDED);
  }

  @Test
  void aScreenStatesACharacteristicAndLimits() throws IOException {
    write("D1,2026-03-04,Mara Lind,screened,board,BA-001,noise,at most 0.6 g,production screen,\n");
    assertThat(opened(folder).decisions()).hasSize(1);
    write(
        """
        D1,2026-03-04,Mara Lind,screened,board,BA-001,colour,at most 0.6 g,production screen,
        D2,2026-03-04,Mara Lind,screened,cell,CA-001,noise,under 0.6 g,production screen,
        D3,2026-03-04,Mara Lind,screened,cell,CA-002,noise,at most 0.6 kg,production screen,
        D4,2026-03-04,Mara Lind,screened,run,R1,noise,at most 0.6 g,production screen,
        """);
    assertThat(refusal(folder))
        .hasSize(4)
        .satisfiesExactly(
            one -> assertThat(one).contains("line 2, column field").contains("zero-return"),
            two -> assertThat(two).contains("line 3, column value").contains("at most 1.5 g"),
            three -> assertThat(three).contains("line 4, column value"),
            four -> assertThat(four).contains("line 5").contains("not runs"));
  }

  @Test
  void aUnitThatCouldShipIsNotExcluded() throws IOException {
    write("D1,2026-03-04,Mara Lind,excluded,cell,CA-001,,,production screen,\n");
    assertThat(refusal(folder)).singleElement().asString().contains("write screened");
  }

  @Test
  void aRunIsMeasuredAgainByAnotherRunOfItsPair() throws IOException {
    write(
        """
        D1,2026-03-04,Mara Lind,re-measured,run,R1,,R1,none found,
        D2,2026-03-04,Mara Lind,re-measured,cell,CA-001,,R1,none found,
        """);
    assertThat(refusal(folder))
        .satisfiesExactly(
            one -> assertThat(one).contains("not by itself"),
            two -> assertThat(two).contains("a run is measured again, not a cell"));
    write("D1,2026-03-04,Mara Lind,re-measured,run,R1,,R7,none found,\n");
    assertThat(refusal(folder))
        .singleElement()
        .asString()
        .contains("column value")
        .contains("\"R7\" is no run of the record");
  }
}
