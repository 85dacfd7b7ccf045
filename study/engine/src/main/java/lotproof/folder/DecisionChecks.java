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
import lotproof.folder.text.Nearest;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;
import lotproof.study.Reading;
import lotproof.study.Screen;
import lotproof.study.Study;

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
    if (above.containsKey(decision.id())) {
      invalid(decision, "decision", "the name " + decision.id() + " is used by a line above");
    }
    checkWhoAndWhen(decision);
    if (decision.action() == Action.WITHDRAWN) {
      checkWithdrawal(decision);
    } else {
      checkTarget(decision);
      checkCause(decision);
      checkDetails(decision);
      checkContradiction(decision);
    }
    above.putIfAbsent(decision.id(), decision);
  }

  private void checkDetails(Decision decision) {
    if (Sources.isAboutSource(decision) && decision.action() != Action.EXCLUDED) {
      checkSource(decision);
      return;
    }
    switch (decision.action()) {
      case CORRECTED -> checkCorrection(decision);
      case SCREENED -> checkScreen(decision);
      case RE_MEASURED -> checkRemeasured(decision);
      default -> {
        mustBeEmpty(decision, "field", decision.field());
        mustBeEmpty(decision, "value", decision.value());
      }
    }
  }

  private void checkWhoAndWhen(Decision decision) {
    try {
      TIME.parse(decision.time());
    } catch (DateTimeException e) {
      String message = "\"%s\" is not a time; write 2026-03-04 or 2026-03-04T09:30";
      invalid(decision, "time", message.formatted(decision.time()));
    }
    if (decision.who().isBlank()) {
      invalid(decision, "who", "a decision needs the name of the person who made it");
    }
  }

  private void checkTarget(Decision decision) {
    String serial = decision.serial();
    Optional<String> why =
        switch (decision.target()) {
          case CELL -> serials.whyNotCell(serial);
          case BOARD -> serials.whyNotBoard(serial);
          case RUN -> whyNotRun(serial);
        };
    why.ifPresent(text -> invalid(decision, "serial", text));
  }

  private Optional<String> whyNotRun(String run) {
    String hint =
        Nearest.to(run, pairs.keySet()).map(near -> "; did you mean \"" + near + "\"?").orElse("");
    return pairs.containsKey(run)
        ? Optional.empty()
        : Optional.of("\"" + run + "\" is no run of the record" + hint);
  }

  private void checkCause(Decision decision) {
    String cause = decision.cause();
    if (cause.isBlank()) {
      invalid(decision, "cause", "a decision needs a cause; for one that stays in: none found");
    } else if (decision.action() == Action.EXCLUDED && !study.causes().contains(cause)) {
      String message =
          "\"%s\" is no cause that was agreed in study.yaml; %s"
              .formatted(cause, Nearest.hint(cause, study.causes(), "agreed causes"));
      invalid(decision, "cause", message);
    } else if (decision.action() == Action.EXCLUDED && cause.equals(Screen.CAUSE)) {
      String message =
          "a unit that could ship is not excluded; write screened with the characteristic that"
              + " production tests on every unit and its limits, so that the claim can say so";
      invalid(decision, "cause", message);
    }
  }

  private void checkScreen(Decision decision) {
    if (Screen.of(decision).isEmpty()) {
      String column = Screen.characteristic(decision).isPresent() ? "value" : "field";
      invalid(decision, column, Screen.whyNot(decision));
    }
  }

  /** Both runs are in the record and of one pair; which one counts follows from the cause. */
  private void checkRemeasured(Decision decision) {
    mustBeEmpty(decision, "field", decision.field());
    String later = decision.value().orElse("");
    if (decision.target() != Target.RUN) {
      invalid(decision, "target", "a run is measured again, not a " + decision.target().key());
      return;
    }
    List<String> first = pairs.getOrDefault(decision.serial(), List.of());
    List<String> second = pairs.getOrDefault(later, List.of());
    if (second.isEmpty()) {
      whyNotRun(later).ifPresent(why -> invalid(decision, "value", why));
    } else if (later.equals(decision.serial())) {
      invalid(decision, "value", "a run is measured again by another run, not by itself");
    } else if (!first.isEmpty() && !first.equals(second)) {
      String message =
          "%s is of %s and not of %s"
              .formatted(later, String.join(" with ", second), String.join(" with ", first));
      invalid(decision, "value", message);
    }
  }

  private void checkCorrection(Decision decision) {
    if (decision.target() != Target.RUN) {
      invalid(decision, "target", "a correction is about a run, not a " + decision.target().key());
    }
    String field = decision.field().orElse("");
    String value = decision.value().orElse("");
    if (field.equals(Target.CELL.key())) {
      serials.whyNotCell(value).ifPresent(why -> invalid(decision, "value", why));
    } else if (field.equals(Target.BOARD.key())) {
      serials.whyNotBoard(value).ifPresent(why -> invalid(decision, "value", why));
    } else {
      invalid(
          decision, "field", "a correction is of cell, board or source, not of \"" + field + "\"");
    }
  }

  private void checkSource(Decision decision) {
    String hash = decision.value().orElse("");
    boolean known =
        readings.stream()
            .filter(r -> r.run().equals(decision.serial()))
            .anyMatch(r -> r.source().sha256().equals(hash));
    if (!known) {
      String message = "\"" + hash + "\" is the hash of no file that the run has readings from";
      invalid(decision, "value", message);
    }
  }

  private void checkContradiction(Decision decision) {
    boolean corrects = decision.action() == Action.CORRECTED || Sources.isAboutSource(decision);
    String target = decision.target().key() + " " + decision.serial();
    String about =
        (corrects ? "correction of " + decision.field().orElse("") + " of " : "") + target;
    Decision earlier = holding.get(about);
    if (earlier != null) {
      String message =
          "%s above already decides about %s (%s); withdraw it first"
              .formatted(earlier.id(), target, earlier.action().key());
      invalid(decision, "action", message);
    } else {
      holding.put(about, decision);
      if (decision.action() == Action.CORRECTED) {
        applyCorrection(decision);
      }
    }
  }

  /** A run that was measured again is compared by the serials that the corrections gave it. */
  private void applyCorrection(Decision decision) {
    String field = decision.field().orElse("");
    String value = decision.value().orElse("");
    pairs.computeIfPresent(
        decision.serial(),
        (run, pair) ->
            field.equals(Target.CELL.key())
                ? List.of(value, pair.get(1))
                : field.equals(Target.BOARD.key()) ? List.of(pair.get(0), value) : pair);
  }

  private void checkWithdrawal(Decision decision) {
    mustBeEmpty(decision, "field", decision.field());
    String name = decision.value().orElse("");
    Decision undone = above.get(name);
    if (undone == null) {
      String message =
          "\"" + name + "\" names no decision above; a withdrawal names one by its name";
      invalid(decision, "value", message);
      return;
    }
    if (undone.action() == Action.WITHDRAWN) {
      invalid(decision, "value", name + " is itself a withdrawal; decide anew instead");
    } else if (!withdrawn.add(name)) {
      invalid(decision, "value", name + " is withdrawn already");
    }
    if (undone.target() != decision.target() || !undone.serial().equals(decision.serial())) {
      String message =
          "%s is about %s %s; write the same target and serial"
              .formatted(name, undone.target().key(), undone.serial());
      invalid(decision, "serial", message);
    }
    holding.values().removeIf(held -> held.id().equals(name));
  }

  private void mustBeEmpty(Decision decision, String column, Optional<String> value) {
    value.ifPresent(
        text -> invalid(decision, column, "\"" + text + "\" has no meaning here; leave it empty"));
  }

  private void invalid(Decision decision, String column, String message) {
    issues.add(
        DataIssue.error(
            Code.DECISION_INVALID,
            RecordFiles.DECISIONS.name(),
            decision.line(),
            column,
            decision.serial(),
            message));
  }
}
