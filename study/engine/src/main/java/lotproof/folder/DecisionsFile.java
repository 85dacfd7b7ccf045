package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;

/** decisions.csv. Whether decisions make sense is for DecisionChecks. */
final class DecisionsFile {
  static final String NAME = "decisions.csv";

  static final RecordFile<Decision> FILE =
      new RecordFile<>(
          NAME,
          List.of(
              "decision",
              "time",
              "who",
              "action",
              "target",
              "serial",
              "field",
              "value",
              "cause",
              "evidence"),
          DecisionsFile::fields,
          DecisionsFile::decision);

  private DecisionsFile() {}

  private static List<String> fields(Decision d) {
    return List.of(
        d.id(),
        d.time(),
        d.who(),
        d.action().key(),
        d.target().key(),
        d.serial(),
        d.field().orElse(""),
        d.value().orElse(""),
        d.cause(),
        d.evidence());
  }

  private static Decision decision(RecordLine line) {
    Decision.Action action =
        line.word("action", Decision.Action.values(), Decision.Action::key, Code.DECISION_INVALID);
    Decision.Target target =
        line.word("target", Decision.Target.values(), Decision.Target::key, Code.DECISION_INVALID);
    for (String needed : List.of("decision", "serial")) {
      if (line.text(needed).isBlank()) {
        line.report(Code.DECISION_INVALID, needed, "the value is missing");
      }
    }
    return new Decision(
        line.text("decision"),
        line.text("time"),
        line.text("who"),
        action,
        target,
        line.text("serial"),
        line.optional("field"),
        line.optional("value"),
        line.text("cause"),
        line.text("evidence"),
        line.number());
  }
}
