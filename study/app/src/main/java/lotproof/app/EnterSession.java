package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.folder.AppendOutcome;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.EntryDraft;
import lotproof.gather.EntryDraft.Holder;
import lotproof.gather.EntryDrafts;
import lotproof.gather.EntryDrafts.Begun;
import lotproof.gather.EntryDrafts.Kept;
import lotproof.gather.EntryDrafts.Start;
import lotproof.gather.TypedEntry;
import lotproof.gather.TypedRun;
import lotproof.report.text.OutsideText;
import lotproof.study.PlannedRun;
import lotproof.study.UnitKind;

/** One person's typing, from run to run. */
final class EnterSession {
  private static final List<String> WORDS =
      List.of("undo", "remark", "skip", "run", "quit", "help");
  private static final String HELP =
      "  a number: the raw counts; undo: take the last value back; remark TEXT: note something"
          + " beside the run;\n"
          + "  skip: the next run; run NAME: that run; quit: stop.\n"
          + "  What was typed of a run stays as a draft; run NAME or the next lotproof enter goes"
          + " on with it.";
  private static final DateTimeFormatter SINCE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT);

  private final Surroundings io;
  private final Palette palette;
  private final TypedEntry entry;
  private final EntryDrafts drafts;
  private final Typing typing;

  /** Runs that were offered and not wanted. */
  private final Set<String> passed = new HashSet<>();

  private final Set<String> told = new HashSet<>();

  /** The run that was asked for by name. */
  private Optional<String> wanted = Optional.empty();

  private boolean stopped;

  EnterSession(
      Surroundings io, Palette palette, TypedEntry entry, EntryDrafts drafts, Typing typing) {
    this.io = io;
    this.palette = palette;
    this.entry = entry;
    this.drafts = drafts;
    this.typing = typing;
  }

  void run() throws IOException {
    for (EntryDrafts.Leftover left : drafts.leftovers()) {
      say(left.file() + " " + why(left.why()) + "; it stays until you delete the file.");
    }
    while (!stopped) {
      tellOthers();
      Optional<PlannedRun> next = wanted.flatMap(this::openRun).or(this::nextRun);
      boolean asked = wanted.isPresent();
      wanted = Optional.empty();
      if (next.isEmpty()) {
        if (!askForRun()) {
          return;
        }
      } else {
        offer(next.get(), asked);
      }
    }
  }

  private static String why(EntryDrafts.Leftover.Why why) {
    return switch (why) {
      case DAMAGED -> "cannot be read as a draft";
      case NOT_PLANNED -> "is the draft of a run that the plan does not have";
      case RECORDED_OTHERWISE ->
          "is the draft of a run that the record holds with something else than the draft";
    };
  }

  private Optional<PlannedRun> openRun(String name) {
    return entry.open().stream().filter(run -> run.run().equals(name)).findFirst();
  }

  private Optional<PlannedRun> nextRun() {
    try {
      return drafts.next(passed);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Says once what others are measuring, and which drafts they left. */
  private void tellOthers() throws IOException {
    for (EntryDraft draft : drafts.drafts()) {
      if (draft.holder() == Holder.ANOTHER && told.add(draft.name() + draft.person())) {
        say(
            measuring(draft)
                + "; it is not offered; \"run "
                + draft.name()
                + "\" asks to take it over.");
      }
    }
  }

  private static String measuring(EntryDraft draft) {
    return OutsideText.clean(draft.person())
        + " is measuring run "
        + draft.name()
        + " since "
        + SINCE.format(draft.since())
        + ", "
        + values(draft.run());
  }

  private static String values(TypedRun run) {
    int count = run.outputCounts().size();
    return count == 0 ? "no value yet" : count == 1 ? "1 value" : count + " values";
  }

  /** Runs are left that were passed over: asks for one of them by its name. */
  private boolean askForRun() throws IOException {
    List<PlannedRun> open = entry.open();
    if (open.isEmpty()) {
      return false;
    }
    say("Left are the runs " + names(open) + ".");
    while (true) {
      Optional<String> typed = typing.line("Run to go on with, or Enter to stop: ", runNames());
      String name = typed.orElse("").replaceFirst("^run ", "").strip();
      if (name.isEmpty() || name.equals("quit")) {
        return false;
      }
      if (want(name)) {
        return true;
      }
    }
  }

  private static String names(List<PlannedRun> runs) {
    String first = runs.stream().limit(8).map(PlannedRun::run).collect(Collectors.joining(", "));
    return runs.size() > 8 ? first + " and " + (runs.size() - 8) + " more" : first;
  }

  private List<String> runNames() {
    return entry.open().stream().map(PlannedRun::run).toList();
  }

  private boolean want(String name) {
    if (openRun(name).isEmpty()) {
      say("  there is no open run " + OutsideText.clean(name) + "; open: " + names(entry.open()));
      return false;
    }
    passed.remove(name);
    wanted = Optional.of(name);
    return true;
  }

  private void offer(PlannedRun planned, boolean asked) throws IOException {
    Begun begun = drafts.begin(planned, Start.PLAIN);
    if (begun instanceof Begun.Held held) {
      begun = asked ? takeOver(planned, held.by()) : begun;
    } else if (begun instanceof Begun.LeftBehind left) {
      begun = goOnOrAnew(planned, left);
    }
    if (begun instanceof Begun.Granted granted) {
      measure(granted.run());
    } else if (begun instanceof Begun.Recorded) {
      say("Run " + planned.run() + " is in the record by now.");
    } else if (begun instanceof Begun.LeftBehind) {
      passed.add(planned.run());
    }
  }

  private Begun takeOver(PlannedRun planned, EntryDraft by) throws IOException {
    say(measuring(by) + ".");
    boolean yes = isYes(typing.line("  take it over? [no]: ", List.of("yes", "no")).orElse("no"));
    return yes ? drafts.begin(planned, Start.TAKE_OVER) : new Begun.Held(by);
  }

  private Begun goOnOrAnew(PlannedRun planned, Begun.LeftBehind left) throws IOException {
    EntryDraft by = left.by();
    say(
        OutsideText.clean(by.person())
            + " began run "
            + planned.run()
            + " at "
            + SINCE.format(by.since())
            + " and left it with "
            + values(by.run())
            + ".");
    while (true) {
      Optional<String> typed =
          typing.line(
              "  go on with it (yes), begin anew beside it (no), or another run (skip)? [skip]: ",
              List.of("yes", "no", "skip", "quit"));
      String answer = typed.orElse("quit");
      if (answer.equals("quit")) {
        stopped = true;
        return left;
      } else if (answer.isEmpty() || answer.equals("skip")) {
        return left;
      } else if (isYes(answer)) {
        return drafts.begin(planned, Start.TAKE_OVER);
      } else if (answer.equals("no") || answer.equals("n")) {
        return drafts.begin(planned, Start.ANEW);
      } else if (answer.startsWith("run ") && want(answer.substring(4).strip())) {
        return left;
      }
      say("  yes, no or skip");
    }
  }

  private static boolean isYes(String answer) {
    return answer.equals("yes") || answer.equals("y");
  }

  /** Goes through one run, and gives it out of hand. */
  private void measure(TypedRun start) throws IOException {
    PlannedRun planned = start.planned();
    boolean begun = !start.outputCounts().isEmpty();
    if (begun) {
      say("Going on with run " + planned.run() + "; " + values(start) + " kept.");
    }
    say(
        palette.strong(
            String.format(
                Locale.ROOT,
                "%s, run %s%s: cell %s on board %s",
                planned.session(),
                planned.run(),
                planned.isCheck() ? " (check standard)" : "",
                OutsideText.clean(start.cell()),
                OutsideText.clean(start.board()))));
    Typed typed = new Typed(start);
    // what was begun was asked already
    boolean whole = (begun || typed.pair()) && typed.readings();
    if (!whole && !typed.lost) {
      left(typed.run);
    }
  }

  private void left(TypedRun run) throws IOException {
    String name = run.planned().run();
    if (wanted.isEmpty() || !wanted.get().equals(name)) {
      passed.add(name);
    }
    if (drafts.leave(run)) {
      say(
          "Run "
              + name
              + " is kept as a draft, "
              + values(run)
              + "; \"run "
              + name
              + "\" or the next lotproof enter goes on with it.");
    }
  }

  private void say(String line) {
    io.out().println(line);
  }

  /** The run in hand. */
  private final class Typed {
    private TypedRun run;

    /** Whether another client took it over. */
    private boolean lost;

    private Typed(TypedRun run) {
      this.run = run;
    }

    /** An answer to a question about the run; empty when the run is left. */
    private Optional<String> ask(String prompt, List<String> completions) {
      while (true) {
        List<String> words = new ArrayList<>(completions);
        words.addAll(WORDS);
        Optional<String> typed = typing.line(prompt, words);
        String text = typed.orElse("quit");
        if (text.equals("help")) {
          say(HELP);
        } else if (text.equals("quit")) {
          stopped = true;
          return Optional.empty();
        } else if (text.equals("skip")
            || (text.startsWith("run ") && want(text.substring(4).strip()))) {
          return Optional.empty();
        } else if (text.equals("run")) {
          say("  run NAME, one of " + names(entry.open()));
        } else if (!text.startsWith("run ")) {
          return typed;
        }
      }
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
        String by = taken.by().map(draft -> " by " + OutsideText.clean(draft.person())).orElse("");
        say(palette.no("Run " + run.planned().run() + " was taken over" + by + "."));
        say(
            taken
                .draft()
                .map(draft -> "What you typed is kept in " + draft + ".")
                .orElse("What was typed before goes on there; the last value was not taken."));
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
      List<String> known = entry.serials(kind);
      while (true) {
        Optional<String> typed =
            ask("  " + kind.word() + " [" + OutsideText.clean(planned) + "]: ", known);
        if (typed.isEmpty()) {
          return typed;
        }
        if (typed.get().isEmpty() || typed.get().equals(planned)) {
          return Optional.of(planned);
        }
        if (known.contains(typed.get())) {
          say("  not the planned one; noted as " + typed.get());
          return typed;
        }
        say(
            "  there is no "
                + kind.word()
                + " "
                + OutsideText.clean(typed.get())
                + " in the study; Enter takes the planned one, Tab completes");
      }
    }

    private boolean temperatures() throws IOException {
      String noted = run.cellCelsius().isEmpty() ? "not noted" : "as noted before";
      String doubted = "";
      while (true) {
        Optional<String> typed =
            ask("  °C at cell and board, such as 21.4 22.6 [" + noted + "]: ", List.of());
        if (typed.isEmpty() || typed.get().isEmpty()) {
          return typed.isPresent();
        }
        String[] parts = typed.get().split("\\s+", -1);
        Optional<Double> cell = celsius(parts[0]);
        Optional<Double> board = celsius(parts[parts.length - 1]);
        if (parts.length <= 2 && cell.isPresent() && board.isPresent()) {
          TypedRun warmed =
              run.withTemperatures(
                  OptionalDouble.of(cell.get()),
                  parts.length == 2 ? OptionalDouble.of(board.get()) : OptionalDouble.empty());
          Optional<String> doubt = entry.doubtOfTemperatures(warmed);
          if (doubt.isEmpty() || doubted.equals(typed.get())) {
            return keep(warmed);
          }
          doubted = typed.get();
          typeAgain(doubt.get());
        } else {
          say("  one or two temperatures between -60 and 120 °C, or Enter");
        }
      }
    }

    private static Optional<Double> celsius(String text) {
      return UnitsOfMeasure.number(text)
          .map(BigDecimal::doubleValue)
          .filter(value -> ReadingColumn.CELL_TEMPERATURE.outOfRange(value).isEmpty());
    }

    /** Asks for the values; false when the run is left before it is recorded. */
    private boolean readings() throws IOException {
      String doubted = "";
      List<String> told = List.of();
      while (true) {
        boolean complete = run.outputCounts().size() == entry.loads().size();
        List<String> doubts = complete ? entry.doubts(run) : List.of();
        tellNew(doubts, told);
        told = doubts;
        Optional<String> typed = ask(complete ? question(doubts) : prompt(), List.of());
        if (typed.isEmpty()) {
          return false;
        }
        String text = typed.get();
        TypedRun before = run;
        if (text.equals("undo")) {
          Optional<TypedRun> back = run.back();
          say(back.isPresent() ? "  taken back" : "  there is no value to take back");
          run = back.orElse(run);
        } else if (text.startsWith("remark ")) {
          run = run.withRemark(text.substring("remark ".length()).strip());
        } else if (!complete) {
          run = value(text, doubted.equals(text)).orElse(run);
          doubted = run.equals(before) ? text : "";
        } else if (!(text.isEmpty() && doubts.isEmpty()) && !isYes(text)) {
          say("  yes records it; undo takes the last value back");
        } else if (recorded()) {
          return true;
        }
        if (lost || (!run.equals(before) && !keep(run))) {
          return false;
        }
      }
    }

    private static String question(List<String> doubts) {
      return "  record this run? " + (doubts.isEmpty() ? "[yes]: " : "Type yes if it is right: ");
    }

    private void tellNew(List<String> doubts, List<String> told) {
      doubts.stream().filter(doubt -> !told.contains(doubt)).forEach(this::doubtful);
    }

    private void doubtful(String doubt) {
      say(palette.no("  doubtful: ") + OutsideText.clean(doubt) + ".");
    }

    private void typeAgain(String doubt) {
      doubtful(doubt);
      say("  If it is what the bench shows, type it once more.");
    }

    private String prompt() {
      int step = run.outputCounts().size();
      return String.format(
          Locale.ROOT,
          "  %d/%d at %s kg, counts: ",
          step + 1,
          entry.loads().size(),
          UnitsOfMeasure.plain(entry.loads().get(step)));
    }

    private Optional<TypedRun> value(String text, boolean again) {
      Optional<BigDecimal> number = UnitsOfMeasure.number(text);
      if (number.isEmpty()) {
        say(
            text.isEmpty()
                ? "  type the counts, or help"
                : "  \""
                    + OutsideText.clean(text)
                    + "\" is no number; digits, such as 1234.5, or help");
        return Optional.empty();
      }
      double counts = number.get().doubleValue();
      Optional<String> doubt = entry.doubt(run, counts);
      if (doubt.isPresent() && !again) {
        typeAgain(doubt.get());
        return Optional.empty();
      }
      return Optional.of(run.with(counts));
    }

    private boolean recorded() throws IOException {
      Kept kept = drafts.record(run);
      if (!(kept instanceof Kept.InRecord answer)) {
        isOurs(kept);
        return false;
      }
      if (answer.outcome() instanceof AppendOutcome.Refused refused) {
        io.out().flush();
        Issues.print(refused.issues(), io.err());
        io.err().flush();
        say("  not recorded; skip or quit keeps what was typed as a draft");
        return false;
      }
      boolean before = answer.outcome() instanceof AppendOutcome.AlreadyThere;
      say("  " + palette.yes(before ? "recorded before, with the same values" : "recorded"));
      return true;
    }
  }
}
