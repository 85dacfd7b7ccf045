package lotproof.gather;

import java.io.IOException;
import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Clock;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Predicate;
import java.util.stream.Stream;
import lotproof.folder.Appended;
import lotproof.folder.BenchFolder;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.CsvText;
import lotproof.study.PlannedRun;
import lotproof.study.Result;

/**
 * Who measures which run. Each client that takes typed values, at a terminal or elsewhere, opens
 * the drafts under the name of a person and begins runs with them. A run is in the hand of one
 * client at a time; another one gets it when it is free, or takes it over on purpose, and then with
 * a copy of what was typed. Nothing that one person typed is overwritten or removed by another
 * before it stands in the record.
 *
 * <p>Drafts lie in {@code bench/drafts}, one file of one line for each person and run. A client
 * holds a lock on a file of its own for as long as it lives. The system lifts the lock when the
 * process dies, so that a draft whose client is gone is known to be left behind, without any clock.
 * All changes are made while other writers of the study are kept out.
 */
public final class EntryDrafts implements AutoCloseable {
  private static final String PLACE = BenchFolder.NAME + "/drafts";
  private static final String CLIENT = ".client-";
  private static final int BEFORE_CONTENT = 4;

  /** Clients of this process: the system's locks do not keep a process from itself. */
  private static final Set<Path> HERE = ConcurrentHashMap.newKeySet();

  private final StudyFolder study;
  private final TypedEntry entry;
  private final String person;
  private final Clock clock;
  private final Path drafts;
  private final Path own;
  private final FileChannel lock;

  /** Enters the folder as a new client, and clears away what clients that died have left. */
  private EntryDrafts(StudyFolder study, TypedEntry entry, String person, Clock clock)
      throws IOException {
    this.study = study;
    this.entry = entry;
    this.person = person;
    this.clock = clock;
    this.drafts = Files.createDirectories(study.root().toRealPath().resolve(PLACE));
    for (Path client : files(true)) {
      if (!isAlive(client)) {
        Files.deleteIfExists(client);
      }
    }
    this.own = drafts.resolve(CLIENT + UUID.randomUUID());
    this.lock = FileChannel.open(own, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    if (lock.tryLock() == null) {
      throw new IOException("a new file is locked: " + own);
    }
    HERE.add(own);
  }

  /**
   * A run as far as one person measured it, as its file holds it.
   *
   * @param since when that person began
   * @param client who has it in hand, by the name of its file in the folder of drafts; empty when
   *     nobody has
   * @param content what was noted so far, field by field
   */
  private record Draft(
      String run, String person, LocalDateTime since, String client, List<String> content) {
    private Draft of(String otherClient) {
      return new Draft(run, person, since, otherClient, content);
    }

    /** Readable for people; the hash keeps names apart that differ in other characters only. */
    private static String file(String run, String person) {
      byte[] both = (run + "\n" + person).getBytes(StandardCharsets.UTF_8);
      String hash = ReceivedFile.hash(both).substring(0, 6);
      return plain("run-" + run) + "." + plain(person) + "." + hash + ".csv";
    }

    private static String plain(String text) {
      String plain = text.replaceAll("[^A-Za-z0-9-]", "_");
      return plain.substring(0, Math.min(plain.length(), 40));
    }

    private String file() {
      return file(run, person);
    }
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
    return study.alone(
        () -> {
          EntryDrafts drafts = new EntryDrafts(study, entry, person, clock);
          drafts.removeNeedless(draft -> true);
          return drafts;
        });
  }

  /** The files in the folder in order of their names: those of clients, or all others. */
  private List<Path> files(boolean ofClients) throws IOException {
    try (Stream<Path> all = Files.list(drafts)) {
      return all.filter(file -> name(file).startsWith(ofClients ? CLIENT : ".") == ofClients)
          .sorted()
          .toList();
    }
  }

  private static String name(Path file) {
    return String.valueOf(file.getFileName());
  }

  /** The name under which this client holds drafts. */
  private String client() {
    return name(own);
  }

  /** Whether a client lives. Asked while others are kept out, since asking takes its lock. */
  private static boolean isAlive(Path client) throws IOException {
    if (HERE.contains(client)) {
      return true;
    }
    try (FileChannel channel = FileChannel.open(client, StandardOpenOption.WRITE)) {
      return channel.tryLock() == null;
    } catch (NoSuchFileException e) {
      return false;
    }
  }

  /** The draft in a file of one whole line; nothing when it holds something else. */
  private static Optional<Draft> read(Path file) throws IOException {
    byte[] bytes = Files.readAllBytes(file);
    String text = new String(bytes, StandardCharsets.UTF_8);
    List<CsvText.Line> lines = new ArrayList<>();
    boolean whole =
        text.endsWith("\n")
            && CsvText.notUtf8(ByteBuffer.wrap(bytes)).isEmpty()
            && CsvText.forEach(new StringReader(text), ',', lines::add).isEmpty();
    List<String> fields = whole && lines.size() == 1 ? lines.get(0).fields() : List.of();
    if (fields.size() < BEFORE_CONTENT) {
      return Optional.empty();
    }
    try {
      LocalDateTime since = LocalDateTime.parse(fields.get(2));
      List<String> content = fields.subList(BEFORE_CONTENT, fields.size());
      return Optional.of(new Draft(fields.get(0), fields.get(1), since, fields.get(3), content));
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  /** All drafts that can be read, by file name. */
  private List<Draft> stored() throws IOException {
    List<Draft> found = new ArrayList<>();
    for (Path file : files(false)) {
      read(file).ifPresent(found::add);
    }
    return found;
  }

  /** The draft of one person and run, if there is one that can be read. */
  private Optional<Draft> of(String run, String whose) throws IOException {
    Path file = drafts.resolve(Draft.file(run, whose));
    return Files.isRegularFile(file) ? read(file) : Optional.empty();
  }

  /** Writes a draft in place of the one of its person and run. */
  private void put(Draft draft) throws IOException {
    List<String> fields =
        Stream.concat(
                Stream.of(draft.run, draft.person, draft.since.toString(), draft.client),
                draft.content.stream())
            .toList();
    study.put(place(draft.file()), CsvText.line(fields).getBytes(StandardCharsets.UTF_8));
  }

  private void remove(Draft draft) throws IOException {
    Files.deleteIfExists(drafts.resolve(draft.file()));
  }

  /** How a file of drafts is named to people. */
  private static String place(String file) {
    return PLACE + "/" + file;
  }

  /** Whether somebody has a draft in hand, this client or another. */
  private boolean isHeld(Draft draft) throws IOException {
    return !draft.client.isEmpty() && isAlive(drafts.resolve(draft.client));
  }

  /** The time at the bench, to the second. */
  public LocalDateTime now() {
    return LocalDateTime.now(clock).truncatedTo(ChronoUnit.SECONDS);
  }

  /** Removes drafts that nobody has in hand and that hold nothing, or nothing but the record's. */
  private void removeNeedless(Predicate<Draft> which) throws IOException {
    for (Draft draft : stored()) {
      Optional<TypedRun> run = typed(draft).filter(it -> isEmpty(it) || entry.holdsAllOf(it));
      if (which.test(draft) && run.isPresent() && !isHeld(draft)) {
        remove(draft);
      }
    }
  }

  private static boolean isEmpty(TypedRun run) {
    return run.equals(TypedRun.of(run.planned()));
  }

  private Optional<TypedRun> typed(Draft draft) {
    return entry
        .planned(draft.run())
        .flatMap(planned -> TypedRun.of(planned, draft.content, entry.loads().size()));
  }

  /** Drafts of runs that the record does not hold, in the order of the plan. */
  public List<EntryDraft> drafts() throws IOException {
    return study.alone(this::openDrafts);
  }

  private List<EntryDraft> openDrafts() throws IOException {
    List<EntryDraft> open = new ArrayList<>();
    List<String> order = entry.open().stream().map(PlannedRun::run).toList();
    for (Draft draft : stored()) {
      Optional<TypedRun> run = typed(draft).filter(it -> order.contains(draft.run()));
      if (run.isPresent()) {
        boolean isElsewhere = !draft.client.equals(client()) && isHeld(draft);
        open.add(new EntryDraft(run.get(), draft.person(), draft.since(), isElsewhere));
      }
    }
    open.sort(Comparator.comparingInt(draft -> order.indexOf(draft.name())));
    return open;
  }

  /** Drafts that are not offered, and stay until a person removes the file. */
  public List<Leftover> leftovers() throws IOException {
    return study.alone(
        () -> {
          List<Leftover> left = new ArrayList<>();
          Set<String> open = Set.copyOf(entry.open().stream().map(PlannedRun::run).toList());
          for (Path file : files(false)) {
            Optional<Draft> draft = read(file);
            boolean planned = draft.filter(it -> entry.planned(it.run).isPresent()).isPresent();
            boolean typed = draft.flatMap(this::typed).isPresent();
            if (draft.isPresent() && !planned) {
              left.add(new Leftover(place(name(file)), Leftover.Why.NOT_PLANNED));
            } else if (!typed) {
              left.add(new Leftover(place(name(file)), Leftover.Why.DAMAGED));
            } else if (!open.contains(draft.get().run) && !isHeld(draft.get())) {
              left.add(new Leftover(place(name(file)), Leftover.Why.RECORDED_OTHERWISE));
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
    return study.alone(() -> beginAlone(planned, start));
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
      put(of(planned.run(), held.get().person()).orElseThrow().of(""));
    }
    TypedRun run = chosen(own, other).orElseGet(() -> TypedRun.of(planned));
    put(run, own.map(EntryDraft::since).orElseGet(this::now), client());
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
    put(new Draft(run.planned().run(), person, since, client, run.fields()));
  }

  private Optional<Draft> own(TypedRun run) throws IOException {
    return of(run.planned().run(), person);
  }

  private boolean isOurs(Optional<Draft> own) {
    return own.filter(draft -> draft.client.equals(client())).isPresent();
  }

  /** Keeps a run as far as it was typed. */
  public Kept keep(TypedRun run) throws IOException {
    return study.alone(
        () -> {
          Optional<Draft> own = own(run);
          if (!isOurs(own)) {
            return takenOver(run, own);
          }
          put(run, own.get().since(), client());
          return new Kept.InDraft();
        });
  }

  /** What was typed after the run was taken over is kept too, unless our own draft was taken. */
  private Kept takenOver(TypedRun run, Optional<Draft> own) throws IOException {
    String name = run.planned().run();
    Optional<EntryDraft> by =
        first(openDrafts(), draft -> draft.name().equals(name) && draft.isElsewhere());
    if (own.filter(draft -> !draft.client.isEmpty()).isPresent()) {
      return new Kept.TakenOver(by, Optional.empty());
    }
    LocalDateTime since = own.map(Draft::since).orElseGet(this::now);
    put(run, since, "");
    return new Kept.TakenOver(by, own(run).map(Draft::file).map(EntryDrafts::place));
  }

  /**
   * Gives a run out of our hand; says whether a draft of it is kept, which it is unless nothing was
   * typed.
   */
  public boolean leave(TypedRun run) throws IOException {
    return study.alone(
        () -> {
          Optional<Draft> own = own(run);
          boolean empty = isEmpty(run);
          if (isOurs(own) && empty) {
            remove(own.get());
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
      study.alone(
          () -> {
            Optional<Draft> own = own(run);
            if (isOurs(own)) {
              remove(own.get());
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
    study.alone(
        () -> {
          for (Draft draft : stored()) {
            if (draft.client.equals(client())) {
              put(draft.of(""));
            }
          }
          lock.close();
          HERE.remove(own);
          return Files.deleteIfExists(own);
        });
  }
}
