package lotproof.gather;

import java.io.IOException;
import java.time.Clock;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;
import lotproof.folder.Appended;
import lotproof.folder.DraftFolder;
import lotproof.folder.DraftFolder.RunDraft;
import lotproof.folder.StudyFolder;
import lotproof.study.PlannedRun;
import lotproof.study.Result;

/**
 * Who measures which run. Each client that takes typed values, at a terminal or elsewhere, opens
 * the drafts under the name of a person and begins runs with them. A run is in the hand of one
 * client at a time; another one gets it when it is free, or takes it over on purpose, and then with
 * a copy of what was typed. Nothing that one person typed is overwritten or removed by another
 * before it stands in the record.
 */
public final class EntryDrafts implements AutoCloseable {
  private final TypedEntry entry;
  private final DraftFolder folder;
  private final String person;
  private final Clock clock;

  private EntryDrafts(TypedEntry entry, DraftFolder folder, String person, Clock clock) {
    this.entry = entry;
    this.folder = folder;
    this.person = person;
    this.clock = clock;
  }

  /**
   * A run that was begun and not recorded.
   *
   * @param run what was typed of it
   * @param person who typed it
   * @param since when that person began
   * @param isElsewhere whether another client that is alive has it in hand
   */
  public record EntryDraft(TypedRun run, String person, LocalDateTime since, boolean isElsewhere) {
    /** Name of the run. */
    public String name() {
      return run.planned().run();
    }
  }

  /** How a run is begun. */
  public enum Start {
    /** If it is free and nobody else has a draft of it. */
    PLAIN,
    /** With a copy of what another person typed, who loses it if it is in hand. */
    TAKE_OVER,
    /** From its first value, beside the draft that another person left. */
    ANEW
  }

  /** What came of beginning a run. */
  public sealed interface Begun {
    /** The run is in our hand. */
    record Granted(TypedRun run) implements Begun {}

    /** Another client has it in hand. */
    record Held(EntryDraft by) implements Begun {}

    /** Nobody has it in hand, and another person left a draft of it. */
    record LeftBehind(EntryDraft by) implements Begun {}

    /** The record holds it by now. */
    record Recorded() implements Begun {}
  }

  /** What came of keeping what was typed, or of moving it into the record. */
  public sealed interface Kept {
    /** The draft is on the disk. */
    record InDraft() implements Kept {}

    /** The record answered. */
    record InRecord(Result<Appended> outcome) implements Kept {}

    /**
     * Another client took the run over.
     *
     * @param by its draft, when it still has one
     * @param draft where the values are kept; empty when the other one goes on with our own draft
     */
    record TakenOver(Optional<EntryDraft> by, Optional<String> draft) implements Kept {}
  }

  /**
   * Drafts that are not offered.
   *
   * @param file the draft, within the study folder
   * @param why what a person should know about it
   */
  public record Leftover(String file, Why why) {
    /** Why a draft is not offered. */
    public enum Why {
      /** It cannot be read. */
      DAMAGED,
      /** The plan has no such run. */
      NOT_PLANNED,
      /** The record holds the run with something else than the draft. */
      RECORDED_OTHERWISE
    }
  }

  /**
   * Opens the drafts for one client.
   *
   * @param person who types
   * @param clock says since when somebody measures a run
   * @throws IOException when the folder cannot be written
   */
  public static EntryDrafts open(StudyFolder study, TypedEntry entry, String person, Clock clock)
      throws IOException {
    EntryDrafts drafts = new EntryDrafts(entry, DraftFolder.open(study), person, clock);
    drafts.folder.alone(
        () -> {
          drafts.removeNeedless(draft -> true);
          return true;
        });
    return drafts;
  }

  private LocalDateTime now() {
    return LocalDateTime.now(clock).truncatedTo(ChronoUnit.SECONDS);
  }

  /** Removes drafts that nobody has in hand and that hold nothing, or nothing but the record's. */
  private void removeNeedless(Predicate<RunDraft> which) throws IOException {
    for (RunDraft draft : folder.list().drafts()) {
      Optional<TypedRun> run = typed(draft).filter(it -> isEmpty(it) || entry.holdsAllOf(it));
      if (which.test(draft) && run.isPresent() && !folder.isHeld(draft)) {
        folder.remove(draft);
      }
    }
  }

  private static boolean isEmpty(TypedRun run) {
    return run.equals(TypedRun.of(run.planned()));
  }

  private Optional<TypedRun> typed(RunDraft draft) {
    return entry
        .planned(draft.run())
        .flatMap(planned -> TypedRun.of(planned, draft.content(), entry.loads().size()));
  }

  /** Drafts of runs that the record does not hold, in the order of the plan. */
  public List<EntryDraft> drafts() throws IOException {
    return folder.alone(this::openDrafts);
  }

  private List<EntryDraft> openDrafts() throws IOException {
    List<EntryDraft> open = new ArrayList<>();
    List<String> order = entry.open().stream().map(PlannedRun::run).toList();
    for (RunDraft draft : folder.list().drafts()) {
      Optional<TypedRun> run = typed(draft).filter(it -> order.contains(draft.run()));
      if (run.isPresent()) {
        boolean isElsewhere = !draft.client().equals(folder.client()) && folder.isHeld(draft);
        open.add(new EntryDraft(run.get(), draft.person(), draft.since(), isElsewhere));
      }
    }
    open.sort(Comparator.comparingInt(draft -> order.indexOf(draft.name())));
    return open;
  }

  /** Drafts that are not offered, and stay until a person removes the file. */
  public List<Leftover> leftovers() throws IOException {
    return folder.alone(
        () -> {
          List<Leftover> left = new ArrayList<>();
          DraftFolder.Listing listing = folder.list();
          listing.damaged().forEach(file -> left.add(new Leftover(file, Leftover.Why.DAMAGED)));
          Set<String> open = Set.copyOf(entry.open().stream().map(PlannedRun::run).toList());
          for (RunDraft draft : listing.drafts()) {
            String file = folder.place(folder.file(draft));
            if (entry.planned(draft.run()).isEmpty()) {
              left.add(new Leftover(file, Leftover.Why.NOT_PLANNED));
            } else if (typed(draft).isEmpty()) {
              left.add(new Leftover(file, Leftover.Why.DAMAGED));
            } else if (!open.contains(draft.run()) && !folder.isHeld(draft)) {
              left.add(new Leftover(file, Leftover.Why.RECORDED_OTHERWISE));
            }
          }
          return left;
        });
  }

  /**
   * The run to offer next: one that this person began, or else the first of the plan that nobody
   * has in hand.
   *
   * @param passed runs that were offered and not wanted
   */
  public Optional<PlannedRun> next(Set<String> passed) throws IOException {
    List<EntryDraft> drafts = drafts();
    Set<String> not = new HashSet<>(passed);
    drafts.stream().filter(EntryDraft::isElsewhere).map(EntryDraft::name).forEach(not::add);
    return Stream.concat(
            drafts.stream()
                .filter(draft -> draft.person().equals(person))
                .map(draft -> draft.run().planned()),
            entry.open().stream())
        .filter(run -> !not.contains(run.run()))
        .findFirst();
  }

  /** Takes a run into our hand, if it can be had so. */
  public Begun begin(PlannedRun planned, Start start) throws IOException {
    return folder.alone(() -> beginAlone(planned, start));
  }

  private Begun beginAlone(PlannedRun planned, Start start) throws IOException {
    entry.refresh();
    if (!entry.open().contains(planned)) {
      return new Begun.Recorded();
    }
    List<EntryDraft> of =
        openDrafts().stream().filter(draft -> draft.name().equals(planned.run())).toList();
    Optional<EntryDraft> held = first(of, EntryDraft::isElsewhere);
    Optional<EntryDraft> own = first(of, draft -> draft.person().equals(person));
    Optional<EntryDraft> left =
        of.stream()
            .filter(draft -> !draft.person().equals(person) && !isEmpty(draft.run()))
            .max(Comparator.comparing(EntryDraft::since));
    if (held.isPresent() && start != Start.TAKE_OVER) {
      return new Begun.Held(held.get());
    } else if (own.isEmpty() && left.isPresent() && start == Start.PLAIN) {
      return new Begun.LeftBehind(left.get());
    }
    Optional<EntryDraft> other = start == Start.TAKE_OVER ? held.or(() -> left) : Optional.empty();
    if (held.isPresent() && !held.get().person().equals(person)) {
      folder.release(folder.of(planned.run(), held.get().person()).orElseThrow());
    }
    TypedRun run = chosen(own, other).orElseGet(() -> TypedRun.of(planned));
    put(run, own.map(EntryDraft::since).orElseGet(this::now), folder.client());
    return new Begun.Granted(run);
  }

  /** What to go on with: what the other one typed, unless our own values are no beginning of it. */
  private static Optional<TypedRun> chosen(Optional<EntryDraft> own, Optional<EntryDraft> other) {
    if (own.isEmpty() || other.isEmpty()) {
      return own.or(() -> other).map(EntryDraft::run);
    }
    List<Double> mine = own.get().run().outputCounts();
    List<Double> theirs = other.get().run().outputCounts();
    boolean beginning = mine.size() <= theirs.size() && theirs.subList(0, mine.size()).equals(mine);
    return Optional.of(beginning ? other.get().run() : own.get().run());
  }

  private static Optional<EntryDraft> first(List<EntryDraft> of, Predicate<EntryDraft> which) {
    return of.stream().filter(which).findFirst();
  }

  private void put(TypedRun run, LocalDateTime since, String client) throws IOException {
    folder.put(new RunDraft(run.planned().run(), person, since, client, run.fields()));
  }

  private Optional<RunDraft> own(TypedRun run) throws IOException {
    return folder.of(run.planned().run(), person);
  }

  private boolean isOurs(Optional<RunDraft> own) {
    return own.filter(draft -> draft.client().equals(folder.client())).isPresent();
  }

  /** Keeps a run as far as it was typed. */
  public Kept keep(TypedRun run) throws IOException {
    return folder.alone(
        () -> {
          Optional<RunDraft> own = own(run);
          if (!isOurs(own)) {
            return takenOver(run, own);
          }
          put(run, own.get().since(), folder.client());
          return new Kept.InDraft();
        });
  }

  /** What was typed after the run was taken over is kept too, unless our own draft was taken. */
  private Kept takenOver(TypedRun run, Optional<RunDraft> own) throws IOException {
    String name = run.planned().run();
    Optional<EntryDraft> by =
        first(openDrafts(), draft -> draft.name().equals(name) && draft.isElsewhere());
    if (own.filter(draft -> !draft.client().isEmpty()).isPresent()) {
      return new Kept.TakenOver(by, Optional.empty());
    }
    LocalDateTime since = own.map(RunDraft::since).orElseGet(this::now);
    put(run, since, "");
    return new Kept.TakenOver(by, own(run).map(folder::file).map(folder::place));
  }

  /**
   * Gives a run out of our hand; says whether a draft of it is kept, which it is unless nothing was
   * typed.
   */
  public boolean leave(TypedRun run) throws IOException {
    return folder.alone(
        () -> {
          Optional<RunDraft> own = own(run);
          boolean empty = isEmpty(run);
          if (isOurs(own) && empty) {
            folder.remove(own.get());
          } else if (isOurs(own)) {
            put(run, own.get().since(), "");
          }
          return !empty;
        });
  }

  /** Moves a complete run into the record; the draft goes when the record holds it. */
  public Kept record(TypedRun run) throws IOException {
    Kept kept = keep(run);
    if (!(kept instanceof Kept.InDraft)) {
      return kept;
    }
    Result<Appended> outcome = entry.finish(run);
    if (!outcome.isRefused()) {
      folder.alone(
          () -> {
            Optional<RunDraft> own = own(run);
            if (isOurs(own)) {
              folder.remove(own.get());
            }
            removeNeedless(draft -> draft.run().equals(run.planned().run()));
            return true;
          });
    }
    return new Kept.InRecord(outcome);
  }

  /** Leaves: what is still in hand is free from now on. */
  @Override
  public void close() throws IOException {
    folder.close();
  }
}
