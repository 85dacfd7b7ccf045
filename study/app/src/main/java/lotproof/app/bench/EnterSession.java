package lotproof.app.bench;

import java.io.IOException;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.CliContext.Style;
import lotproof.app.cli.Typing;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.gather.EntryDrafts;
import lotproof.gather.EntryDrafts.Begun;
import lotproof.gather.EntryDrafts.EntryDraft;
import lotproof.gather.EntryDrafts.Kept;
import lotproof.gather.EntryDrafts.Start;
import lotproof.gather.TypedEntry;
import lotproof.gather.TypedRun;
import lotproof.study.PlannedRun;
import lotproof.study.UnitKind;

/** One person's typing, from run to run. */
final class EnterSession {
  private static final List<String> WORDS =
      List.of("undo", "step", "show", "remark", "skip", "run", "quit", "help");
  private static final List<String> HELP =
      List.of(
          "  a number: the raw counts; undo: take the last value back; step N: type the value of"
              + " step N anew; show: the values so far;",
          "  remark TEXT: note something about the run;",
          "  skip: the next run; run NAME: that run; quit: stop.",
          "  What was typed of a run stays as a draft; run NAME or the next lotproof enter"
              + " continues it.");
  private static final DateTimeFormatter SINCE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT);
  private static final int MOST_NAMES = 8;

  /** Thousands, or decimals? */
  private static final Pattern THOUSANDS = Pattern.compile("-?[0-9]{1,3},[0-9]{3}.*");

  /** Length of the longest bar. */
  private static final int BAR = 20;

  private final CliContext io;
  private final TypedEntry entry;
  private final EntryDrafts drafts;

  /** Runs that were offered and not wanted. */
  private final Set<String> passed = new HashSet<>();

  private final Set<String> told = new HashSet<>();

  /** The run that was asked for by name. */
  private Optional<PlannedRun> wanted = Optional.empty();

  private boolean stopped;

  EnterSession(CliContext io, TypedEntry entry, EntryDrafts drafts) {
    this.io = io;
    this.entry = entry;
    this.drafts = drafts;
  }

  void run() throws IOException {
    for (EntryDrafts.Leftover left : drafts.leftovers()) {
      String why =
          switch (left.why()) {
            case DAMAGED -> "cannot be read as a draft";
            case NOT_PLANNED -> "is the draft of a run that the plan does not have";
            case RECORDED_OTHERWISE -> "is the draft of a run that the record holds differently";
          };
      io.say(left.file() + " " + why + "; it stays until you delete the file.");
    }
    while (!stopped) {
      tellOthers();
      boolean asked = wanted.isPresent();
      Optional<PlannedRun> next = asked ? wanted : drafts.next(passed);
      wanted = Optional.empty();
      if (next.isPresent()) {
        offer(next.get(), asked);
      } else if (!askForRun()) {
        return;
      }
    }
  }

  /** Says once what others are measuring, and which drafts they left. */
  private void tellOthers() throws IOException {
    for (EntryDraft draft : drafts.drafts()) {
      if (draft.isElsewhere() && told.add(draft.name() + draft.person())) {
        String other = "%s; it is not offered; \"run %s\" asks to take it over.";
        io.sayf(other, measuring(draft), draft.name());
      }
    }
  }

  private static String measuring(EntryDraft draft) {
    return "%s is measuring run %s since %s, %s"
        .formatted(draft.person(), draft.name(), SINCE.format(draft.since()), values(draft.run()));
  }

  private static String values(TypedRun run) {
    int count = run.values().size();
    return count == 0 ? "no value yet" : count == 1 ? "1 value" : count + " values";
  }

  /** Runs are left that were passed over: asks for one of them by its name. */
  private boolean askForRun() {
    List<String> open = entry.open().stream().map(PlannedRun::run).toList();
    if (open.isEmpty()) {
      return false;
    }
    io.say("Left are the runs " + openNames() + ".");
    while (true) {
      String name =
          io.typing()
              .line("Run to continue with, or Enter to stop: ", open)
              .orElse("")
              .replaceFirst("^run ", "")
              .strip();
      if (name.isEmpty() || name.equals("quit")) {
        return false;
      }
      if (want(name)) {
        return true;
      }
    }
  }

  private String openNames() {
    List<String> runs = entry.open().stream().map(PlannedRun::run).toList();
    int more = runs.size() - MOST_NAMES;
    return more > 0
        ? String.join(", ", runs.subList(0, MOST_NAMES)) + " and " + more + " more"
        : String.join(", ", runs);
  }

  private boolean want(String name) {
    Optional<PlannedRun> open =
        entry.open().stream().filter(run -> run.run().equals(name)).findFirst();
    if (open.isEmpty()) {
      io.say("  there is no open run " + name + "; open: " + openNames());
      return false;
    }
    passed.remove(name);
    wanted = open;
    return true;
  }

  /** An answer to a question about a run; empty when the run is left. */
  private Optional<String> ask(String prompt, List<String> completions) {
    while (true) {
      String text =
          io.typing()
              .line(prompt, Stream.concat(completions.stream(), WORDS.stream()).toList())
              .orElse("quit");
      if (text.equals("help")) {
        HELP.forEach(io::say);
      } else if (text.equals("run")) {
        io.say("  run NAME, one of " + openNames());
      } else if (text.startsWith("run ")) {
        if (want(text.substring("run ".length()).strip())) {
          return Optional.empty();
        }
      } else {
        stopped = text.equals("quit");
        return Optional.of(text).filter(it -> !stopped && !it.equals("skip"));
      }
    }
  }

  private void offer(PlannedRun planned, boolean asked) throws IOException {
    Begun begun = drafts.begin(planned, Start.PLAIN);
    if (begun instanceof Begun.Held held && asked) {
      io.say(measuring(held.by()) + ".");
      Optional<String> typed = io.typing().line("  take it over? [no]: ", List.of("yes", "no"));
      boolean yes = typed.filter(Typing::isYes).isPresent();
      begun = yes ? drafts.begin(planned, Start.TAKE_OVER) : held;
    } else if (begun instanceof Begun.LeftBehind left) {
      Optional<Start> start = continueOrAnew(planned, left.by());
      begun = start.isPresent() ? drafts.begin(planned, start.get()) : left;
    }
    if (begun instanceof Begun.Granted granted) {
      measure(granted.run());
    } else if (begun instanceof Begun.Recorded) {
      io.say("Run " + planned.run() + " is in the record by now.");
    } else if (begun instanceof Begun.LeftBehind) {
      passed.add(planned.run());
    }
  }

  private Optional<Start> continueOrAnew(PlannedRun planned, EntryDraft by) {
    io.sayf(
        "%s began run %s at %s and left it with %s.",
        by.person(), planned.run(), SINCE.format(by.since()), values(by.run()));
    String prompt =
        "  continue it (yes), begin anew beside it (no), or another run (skip)? [skip]: ";
    while (true) {
      String answer = ask(prompt, List.of("yes", "no")).orElse("");
      if (answer.isEmpty()) {
        return Optional.empty();
      } else if (Typing.isYes(answer)) {
        return Optional.of(Start.TAKE_OVER);
      } else if (answer.equals("no") || answer.equals("n")) {
        return Optional.of(Start.ANEW);
      }
      io.say("  yes, no or skip");
    }
  }

  /** Goes through one run, and leaves it as a draft unless it was recorded. */
  private void measure(TypedRun start) throws IOException {
    PlannedRun planned = start.planned();
    String name = planned.run();
    boolean begun = !start.values().isEmpty();
    if (begun) {
      io.say("Continuing run " + name + "; " + values(start) + " kept.");
    }
    String check = planned.isCheck() ? " (check standard)" : "";
    io.say(
        Style.STRONG,
        "%s, run %s%s: cell %s on board %s"
            .formatted(planned.session(), name, check, start.cell(), start.board()),
        "");
    Typed typed = new Typed(start);
    // what was begun was asked already
    boolean whole = (begun || typed.pair()) && typed.readings();
    if (whole || typed.lost) {
      return;
    }
    if (wanted.filter(run -> run.run().equals(name)).isEmpty()) {
      passed.add(name);
    }
    if (drafts.leave(typed.run)) {
      io.sayf(
          "Run %s is kept as a draft, %s; \"run %s\" or the next lotproof enter continues it.",
          name, values(typed.run), name);
    }
  }

  /** The run in hand. */
  private final class Typed {
    private TypedRun run;

    /** The step whose value is typed anew, counted from 0; else the next one is. */
    private OptionalInt anew = OptionalInt.empty();

    /** Whether another client took it over. */
    private boolean lost;

    private Typed(TypedRun run) {
      this.run = run;
    }

    /** Keeps the run as it is now; false when another client took it over. */
    private boolean keep(TypedRun changed) throws IOException {
      run = changed;
      return isOurs(drafts.keep(run));
    }

    private boolean isOurs(Kept kept) {
      if (kept instanceof Kept.TakenOver taken) {
        lost = true;
        passed.add(run.planned().run());
        String by = taken.by().map(draft -> " by " + draft.person()).orElse("");
        io.say(Style.NO, "Run " + run.planned().run() + " was taken over" + by + ".", "");
        io.say(
            taken
                .draft()
                .map(draft -> "What you typed is kept in " + draft + ".")
                .orElse("What was typed before continues there; the last value was not taken."));
      }
      return !lost;
    }

    /** Asks what is really on the bench; false when the run is left. */
    private boolean pair() throws IOException {
      Optional<String> cell = serial(UnitKind.CELL, run.cell());
      if (cell.isEmpty() || !keep(run.withPair(cell.get(), run.board()))) {
        return false;
      }
      Optional<String> board = serial(UnitKind.BOARD, run.board());
      return board.isPresent() && keep(run.withPair(run.cell(), board.get())) && temperatures();
    }

    private Optional<String> serial(UnitKind kind, String planned) {
      List<String> known = entry.study().serials(kind);
      while (true) {
        Optional<String> typed = ask("  " + kind.key() + " [" + planned + "]: ", known);
        if (typed.isEmpty() || typed.get().isEmpty() || typed.get().equals(planned)) {
          return typed.map(text -> planned);
        }
        if (known.contains(typed.get())) {
          io.say("  not the planned one; noted as " + typed.get());
          return typed;
        }
        io.sayf(
            "  there is no %s %s in the study; Enter takes the planned one, Tab completes",
            kind.key(), typed.get());
      }
    }

    private boolean temperatures() throws IOException {
      String noted =
          run.beside().cellTemperatureCelsius().isEmpty() ? "not noted" : "as noted before";
      String doubted = "";
      while (true) {
        Optional<String> typed =
            ask("  °C at cell and board, such as 21.4 22.6 [" + noted + "]: ", List.of());
        if (typed.isEmpty() || typed.get().isEmpty()) {
          return typed.isPresent();
        }
        String[] parts = typed.get().replaceAll(" *°C", "").replace(',', '.').split("\\s+", -1);
        List<OptionalDouble> read = Arrays.stream(parts).map(Typed::celsius).toList();
        if (parts.length > 2 || read.contains(OptionalDouble.empty())) {
          io.say("  one or two temperatures between -60 and 120 °C, or Enter");
          continue;
        }
        OptionalDouble board = parts.length == 2 ? read.get(1) : OptionalDouble.empty();
        TypedRun warmed = run.withTemperatures(read.get(0), board);
        Optional<String> doubt = entry.doubtOfTemperatures(warmed);
        if (doubt.isEmpty() || doubted.equals(typed.get())) {
          return keep(warmed);
        }
        doubted = typed.get();
        typeAgain(doubt.get());
      }
    }

    private static OptionalDouble celsius(String text) {
      return UnitsOfMeasure.nearest(text).stream()
          .filter(value -> ReadingColumn.CELL_TEMPERATURE.outOfRange(value).isEmpty())
          .findFirst();
    }

    /** Asks for the values; false when the run is left before it is recorded. */
    private boolean readings() throws IOException {
      String doubted = "";
      List<String> known = List.of();
      while (true) {
        int step = anew.orElse(run.values().size());
        boolean complete = step == entry.loads().size();
        List<String> doubts = complete ? entry.doubts(run) : List.of();
        doubts.stream().filter(Predicate.not(known::contains)).forEach(this::doubtful);
        known = doubts;
        Optional<String> typed = ask(prompt(step, doubts), List.of());
        if (typed.isEmpty()) {
          return false;
        }
        String text = typed.get();
        TypedRun before = run;
        if (edited(text)) {
          doubted = "";
        } else if (!complete) {
          boolean taken = value(text, step, doubted.equals(text));
          doubted = taken ? "" : text;
          if (taken && run.values().size() == entry.loads().size()) {
            show();
          }
        } else if (!(text.isEmpty() && doubts.isEmpty()) && !Typing.isYes(text)) {
          io.say("  yes records it; undo takes the last value back, step N types step N anew");
        } else if (recorded()) {
          return true;
        }
        if (lost || (!run.equals(before) && !keep(run))) {
          return false;
        }
      }
    }

    /** Does what a word asks for that is no value; false where it is none of these words. */
    private boolean edited(String text) {
      if (text.equals("undo")) {
        Optional<TypedRun> back = anew.isPresent() ? Optional.of(run) : run.back();
        io.say(back.isPresent() ? "  taken back" : "  there is no value to take back");
        run = back.orElse(run);
        anew = OptionalInt.empty();
      } else if (text.equals("show")) {
        show();
      } else if (text.equals("step") || text.startsWith("step ")) {
        String number = text.substring("step".length()).strip();
        boolean typed =
            number.matches("[0-9]{1,3}")
                && Integer.parseInt(number) >= 1
                && Integer.parseInt(number) <= run.values().size();
        if (typed) {
          anew = OptionalInt.of(Integer.parseInt(number) - 1);
        } else {
          io.sayf("  step N, of the %d that have a value", run.values().size());
        }
      } else if (text.startsWith("remark ")) {
        run = run.withRemark(text.substring("remark ".length()).strip());
      } else {
        return false;
      }
      return true;
    }

    /** A picture of the run so far: the error of each value, with a bar. */
    private void show() {
      List<Double> errors = entry.errorsGrams(run);
      double widest = errors.stream().mapToDouble(Math::abs).max().orElse(0);
      io.say("  error from the line through zero and the largest load:");
      for (int i = 0; i < errors.size(); i++) {
        double error = errors.get(i);
        String bar = "#".repeat(widest > 0 ? (int) Math.round(BAR * Math.abs(error) / widest) : 0);
        io.sayf(
            "  %2d  %8s kg  %12s counts  %9.1f g  %" + BAR + "s|%s",
            i + 1,
            UnitsOfMeasure.plain(entry.loads().get(i)),
            UnitsOfMeasure.plain(run.values().get(i).counts()),
            error,
            error < 0 ? bar : "",
            error > 0 ? bar : "");
      }
    }

    private String prompt(int step, List<String> doubts) {
      if (step == entry.loads().size()) {
        return "  record this run? " + (doubts.isEmpty() ? "[yes]: " : "Type yes if it is right: ");
      }
      String load = UnitsOfMeasure.plain(entry.loads().get(step));
      String old =
          anew.isPresent()
              ? " (was " + UnitsOfMeasure.plain(run.values().get(step).counts()) + ")"
              : "";
      return "  %s/%s at %s kg, counts%s: ".formatted(step + 1, entry.loads().size(), load, old);
    }

    private void doubtful(String doubt) {
      io.say(Style.NO, "  doubtful: ", doubt + ".");
    }

    private void typeAgain(String doubt) {
      doubtful(doubt);
      io.say("  If it is what the bench shows, type it once more.");
    }

    /** Takes a value for a step; false when it is none, or doubtful and not typed once more. */
    private boolean value(String text, int step, boolean again) {
      String[] parts = text.split(" +", 2);
      boolean counts =
          parts.length < 2 || UnitsOfMeasure.spelled(Dimension.OUTPUT, parts[1]).isPresent();
      OptionalDouble number = counts ? UnitsOfMeasure.typed(parts[0]) : OptionalDouble.empty();
      if (number.isEmpty() || THOUSANDS.matcher(text).matches()) {
        io.say(
            text.isEmpty()
                ? "  type the counts, or help"
                : "  \"" + text + "\" is no number of counts; digits, such as 1234.5, or help");
        return false;
      }
      double typed = number.getAsDouble();
      Optional<String> doubt = again ? Optional.empty() : entry.doubt(run.first(step), typed);
      if (doubt.isPresent()) {
        typeAgain(doubt.get());
        return false;
      }
      run =
          anew.isPresent()
              ? run.with(step, typed)
              : run.with(new TypedRun.Value(typed, Optional.of(drafts.now())));
      anew = OptionalInt.empty();
      return true;
    }

    private boolean recorded() throws IOException {
      Kept kept = drafts.record(run);
      if (!(kept instanceof Kept.InRecord answer)) {
        isOurs(kept);
        return false;
      }
      if (answer.outcome().isRefused()) {
        io.showAll(answer.outcome().issues());
        io.say("  not recorded; skip or quit keeps what was typed as a draft");
        return false;
      }
      boolean before = answer.outcome().get().wasThere();
      io.say(Style.YES, before ? "  recorded before, with the same values" : "  recorded", "");
      return true;
    }
  }
}
