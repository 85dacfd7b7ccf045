package lotproof.folder;

import java.time.DateTimeException;
import java.time.format.DateTimeFormatter;
import java.time.format.ResolverStyle;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.folder.ReadingChecks.Serials;
import lotproof.folder.text.Nearest;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Keyed;
import lotproof.study.Reading;
import lotproof.study.Screen;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** What decisions must satisfy, each against those above it. */
final class DecisionChecks {
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("uuuu-MM-dd['T'HH:mm[:ss[.SSS]][XXX]]", Locale.ROOT)
          .withResolverStyle(ResolverStyle.STRICT);

  private final Study study;
  private final Serials serials;
  private final List<Reading> readings;
  private final Map<String, List<String>> pairs = new HashMap<>();
  private final Set<String> withdrawn = new HashSet<>();
  private final Map<String, Decision> holding = new LinkedHashMap<>();
  private final Map<String, Decision> above = new HashMap<>();
  private final List<DataIssue> issues = new ArrayList<>();

  private DecisionChecks(Study study, List<Reading> readings) {
    this.study = study;
    this.serials = new Serials(study);
    this.readings = readings;
    readings.forEach(r -> pairs.put(r.run(), List.of(r.cell(), r.board())));
  }

  /** Issues of all decisions, in file order. */
  static List<DataIssue> check(Study study, List<Reading> readings, List<Decision> decisions) {
    DecisionChecks checks = new DecisionChecks(study, readings);
    decisions.forEach(checks::add);
    return checks.issues;
  }

  private void add(Decision decision) {
    Check check = new Check(decision);
    check.whoAndWhen();
    if (above.containsKey(decision.id())) {
      check.invalid("decision", "the name " + decision.id() + " is used by a line above");
    }
    if (decision.action() == Action.WITHDRAWN) {
      check.withdrawal();
    } else {
      check.target();
      check.cause();
      check.details();
      check.contradiction();
    }
    above.putIfAbsent(decision.id(), decision);
  }

  private Optional<String> whyNotRun(String run) {
    String hint =
        Nearest.to(run, pairs.keySet()).map(near -> "; did you mean \"" + near + "\"?").orElse("");
    return pairs.containsKey(run)
        ? Optional.empty()
        : Optional.of("\"" + run + "\" is no run of the record" + hint);
  }

  /** The checks of one decision. */
  private final class Check {
    private final Decision decision;
    private final String field;
    private final String value;

    private Check(Decision decision) {
      this.decision = decision;
      this.field = decision.field().orElse("");
      this.value = decision.value().orElse("");
    }

    private void invalid(String column, String message) {
      issues.add(
          DataIssue.error(
              Code.DECISION_INVALID,
              RecordFiles.DECISIONS.name(),
              decision.line(),
              column,
              decision.serial(),
              message));
    }

    private void invalidIf(boolean wrong, String column, String message) {
      if (wrong) {
        invalid(column, message);
      }
    }

    private void mustBeEmpty(String column, Optional<String> text) {
      text.ifPresent(it -> invalid(column, "\"" + it + "\" has no meaning here; leave it empty"));
    }

    private void whoAndWhen() {
      try {
        TIME.parse(decision.time());
      } catch (DateTimeException e) {
        String message = "\"%s\" is not a time; write 2026-03-04 or 2026-03-04T09:30";
        invalid("time", message.formatted(decision.time()));
      }
      String message = "a decision needs the name of the person who made it";
      invalidIf(decision.who().isBlank(), "who", message);
    }

    private void target() {
      String serial = decision.serial();
      Optional<String> why =
          switch (decision.target()) {
            case CELL -> serials.whyNot(UnitKind.CELL, serial);
            case BOARD -> serials.whyNot(UnitKind.BOARD, serial);
            case RUN -> whyNotRun(serial);
          };
      why.ifPresent(text -> invalid("serial", text));
    }

    private void cause() {
      String cause = decision.cause();
      boolean excludes = decision.action() == Action.EXCLUDED;
      if (cause.isBlank()) {
        invalid("cause", "a decision needs a cause; for one that stays in: none found");
      } else if (excludes && !study.causes().contains(cause)) {
        String hint = Nearest.hint(cause, study.causes(), "agreed causes");
        String message = "\"%s\" is no cause that was agreed in study.yaml; %s";
        invalid("cause", message.formatted(cause, hint));
      } else if (excludes && cause.equals(Screen.CAUSE)) {
        invalid(
            "cause",
            "a unit that could ship is not excluded; write screened with the characteristic that"
                + " production tests on every unit and its limits, so that the claim can say so");
      }
    }

    private void details() {
      if (Sources.isAboutSource(decision) && decision.action() != Action.EXCLUDED) {
        source();
        return;
      }
      switch (decision.action()) {
        case CORRECTED -> correction();
        case SCREENED -> {
          String column = Screen.characteristic(decision).isPresent() ? "value" : "field";
          invalidIf(Screen.of(decision).isEmpty(), column, Screen.whyNot(decision));
        }
        case RE_MEASURED -> remeasured();
        default -> {
          mustBeEmpty("field", decision.field());
          mustBeEmpty("value", decision.value());
        }
      }
    }

    /** Both runs are in the record and of one pair; which one counts follows from the cause. */
    private void remeasured() {
      mustBeEmpty("field", decision.field());
      if (decision.target() != Target.RUN) {
        invalid("target", "a run is measured again, not a " + decision.target().key());
        return;
      }
      List<String> first = pairs.getOrDefault(decision.serial(), List.of());
      List<String> second = pairs.getOrDefault(value, List.of());
      if (second.isEmpty()) {
        whyNotRun(value).ifPresent(why -> invalid("value", why));
      } else if (value.equals(decision.serial())) {
        invalid("value", "a run is measured again by another run, not by itself");
      } else if (!first.isEmpty() && !first.equals(second)) {
        String pair = String.join(" with ", second) + " and not of " + String.join(" with ", first);
        invalid("value", value + " is of " + pair);
      }
    }

    private void correction() {
      String message = "a correction is about a run, not a " + decision.target().key();
      invalidIf(decision.target() != Target.RUN, "target", message);
      Optional<UnitKind> kind = Keyed.of(UnitKind.values(), field);
      kind.flatMap(it -> serials.whyNot(it, value)).ifPresent(why -> invalid("value", why));
      message = "a correction is of cell, board or source, not of \"" + field + "\"";
      invalidIf(kind.isEmpty(), "field", message);
    }

    private void source() {
      boolean known =
          readings.stream()
              .filter(r -> r.run().equals(decision.serial()))
              .anyMatch(r -> r.source().sha256().equals(value));
      String message = "\"" + value + "\" is the hash of no file that the run has readings from";
      invalidIf(!known, "value", message);
    }

    private void contradiction() {
      boolean corrects = decision.action() == Action.CORRECTED || Sources.isAboutSource(decision);
      String target = decision.target().key() + " " + decision.serial();
      String about = (corrects ? "correction of " + field + " of " : "") + target;
      Decision earlier = holding.putIfAbsent(about, decision);
      if (earlier != null) {
        String message = "%s above already decides about %s (%s); withdraw it first";
        invalid("action", message.formatted(earlier.id(), target, earlier.action().key()));
      } else if (decision.action() == Action.CORRECTED) {
        // a run that was measured again is compared by the serials that the corrections gave it
        pairs.computeIfPresent(
            decision.serial(),
            (run, pair) ->
                field.equals(Target.CELL.key())
                    ? List.of(value, pair.get(1))
                    : field.equals(Target.BOARD.key()) ? List.of(pair.get(0), value) : pair);
      }
    }

    private void withdrawal() {
      mustBeEmpty("field", decision.field());
      Decision undone = above.get(value);
      if (undone == null) {
        String message = "\"" + value + "\" names no decision above; a withdrawal names one by its";
        invalid("value", message + " name");
        return;
      }
      if (undone.action() == Action.WITHDRAWN) {
        invalid("value", value + " is itself a withdrawal; decide anew instead");
      } else if (!withdrawn.add(value)) {
        invalid("value", value + " is withdrawn already");
      }
      String message = "%s is about %s %s; write the same target and serial";
      invalidIf(
          undone.target() != decision.target() || !undone.serial().equals(decision.serial()),
          "serial",
          message.formatted(value, undone.target().key(), undone.serial()));
      holding.values().removeIf(held -> held.id().equals(value));
    }
  }
}
