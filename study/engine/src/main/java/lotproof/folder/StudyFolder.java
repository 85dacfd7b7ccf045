package lotproof.folder;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.stream.Stream;
import lotproof.folder.definition.StudyFile;
import lotproof.folder.definition.StudyOutcome;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.KeptSeries;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.WatchLine;
import lotproof.work.Parallel;

/**
 * The directory that holds one study.
 *
 * <p>Reading takes no lock: each file is replaced in one step, so a reader sees it before or after
 * a change and never between. Writers keep one another out and change one file of the record each
 * time, after everything that it refers to is on the disk.
 */
public final class StudyFolder {
  /** Originals of imported files, each named by the hash of its bytes. */
  public static final String CAPTURES = "captures";

  /** How files of some kind are understood, each under a name. */
  public static final String MAPPINGS = "mappings";

  /** Bench sheets, the plan of the bench, and runs that are being typed. */
  public static final String BENCH = "bench";

  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final Path root;
  private final AtomicFiles files;
  private final Duration patience;

  private StudyFolder(Path root, FileOperations operations, Duration patience) {
    this.root = root;
    this.files = new AtomicFiles(operations);
    this.patience = patience;
  }

  /** The folder at this path, which need not exist yet. */
  public static StudyFolder at(Path root) {
    return at(root, new DiskOperations(), PATIENCE);
  }

  static StudyFolder at(Path root, FileOperations operations, Duration patience) {
    return new StudyFolder(root, operations, patience);
  }

  /** Where it is. */
  public Path root() {
    return root;
  }

  /** Reads and checks all of it. */
  public OpenOutcome open() {
    try {
      return new Snapshot().check();
    } catch (IOException e) {
      return new OpenOutcome.Refused(List.of(FolderFaults.unreadable(e)));
    }
  }

  /** Writes study.yaml into a folder that has none; says why not, or nothing when written. */
  public List<DataIssue> create(Study study) {
    try {
      files.makeDirectory(root);
      Optional<List<DataIssue>> issues =
          locked(
              () -> {
                if (Files.exists(root.resolve(StudyFile.NAME))) {
                  return List.of(
                      FolderFaults.issue(
                          Code.WRITE_FAILED,
                          StudyFile.NAME,
                          "the folder holds a study already; nothing was written"));
                }
                byte[] text = StudyFile.write(study).getBytes(StandardCharsets.UTF_8);
                files.put(root.resolve(StudyFile.NAME), text);
                return List.of();
              });
      return issues.orElseGet(() -> List.of(FolderFaults.busy()));
    } catch (IOException e) {
      return List.of(FolderFaults.notWritten(StudyFile.NAME, e));
    }
  }

  /** Whether it holds a study. */
  public boolean holdsStudy() {
    return Files.exists(root.resolve(StudyFile.NAME));
  }

  /**
   * Writes one file of the bench folder whole, in place of what was there; says why not, or nothing
   * when written.
   *
   * @param name plain file name, without folders
   */
  public List<DataIssue> putBench(String name, byte[] content) {
    try {
      files.makeDirectory(root);
      Optional<List<DataIssue>> issues =
          locked(
              () -> {
                Path bench = root.resolve(BENCH);
                files.makeDirectory(bench);
                files.put(bench.resolve(plain(name)), content);
                return List.of();
              });
      return issues.orElseGet(() -> List.of(FolderFaults.busy()));
    } catch (IOException e) {
      return List.of(FolderFaults.notWritten(BENCH + "/" + name, e));
    }
  }

  /** The bytes of one file of the bench folder; empty when it is not there or cannot be read. */
  public Optional<byte[]> bench(String name) {
    try {
      return bytes(BENCH + "/" + plain(name));
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /** The plan of the bench. */
  public BenchPlanFile.Outcome benchPlan() {
    return bench(BenchPlanFile.NAME)
        .map(BenchPlanFile::read)
        .orElseGet(BenchPlanFile.Outcome.None::new);
  }

  private static String plain(String name) {
    if (!name.matches("[A-Za-z0-9][A-Za-z0-9._-]*")) {
      throw new IllegalArgumentException("not a plain file name: " + name);
    }
    return name;
  }

  /**
   * Adds all readings of a file, or none. The original is kept first; then the record is replaced
   * by one that holds its readings.
   *
   * @param file the file as received
   * @param reader makes readings of it, given what the folder holds; called while other writers are
   *     kept out
   */
  public AppendOutcome append(ReceivedFile file, Function<StudyContents, Batch> reader) {
    return append(
        file,
        source -> true,
        contents -> IncomingReadings.of(contents, reader.apply(contents), Optional.empty()),
        Optional.empty());
  }

  /**
   * Adds all readings of a file, or none, and says which values count where the file says something
   * else than the record.
   *
   * @param file the file as received
   * @param part which places of the file are taken, where it is not all of them
   * @param sorter says what its readings mean for what the folder holds; called while other writers
   *     are kept out
   * @param decision what a person decided about differences; without one they keep the file out
   */
  public AppendOutcome append(
      ReceivedFile file,
      Predicate<Provenance> part,
      Function<StudyContents, IncomingReadings> sorter,
      Optional<SourceDecision> decision) {
    try {
      return locked(() -> appendLocked(file, part, sorter, decision))
          .orElseGet(() -> new AppendOutcome.Refused(List.of(FolderFaults.busy())));
    } catch (NoSuchFileException e) {
      return new AppendOutcome.Refused(List.of(FolderFaults.missing(root)));
    } catch (IOException e) {
      return new AppendOutcome.Refused(List.of(FolderFaults.notWritten(ReadingsFile.NAME, e)));
    }
  }

  private AppendOutcome appendLocked(
      ReceivedFile file,
      Predicate<Provenance> part,
      Function<StudyContents, IncomingReadings> sorter,
      Optional<SourceDecision> decision)
      throws IOException {
    Snapshot snapshot = new Snapshot();
    OpenOutcome opening = snapshot.check();
    if (opening instanceof OpenOutcome.Refused refused) {
      return new AppendOutcome.Refused(refused.issues());
    }
    StudyContents contents = ((OpenOutcome.Opened) opening).contents();
    Optional<AppendOutcome> earlier = alreadyThere(file, part, contents);
    if (earlier.isPresent()) {
      if (decision.isPresent()) {
        // An import that was stopped between its readings and its decision is finished here.
        decideSources(snapshot, UndecidedRuns.of(file, contents), file, contents, decision.get());
      }
      return earlier.get();
    }
    IncomingReadings arrivals = sorter.apply(contents);
    if (arrivals.hasErrors()) {
      return new AppendOutcome.Refused(arrivals.issues());
    }
    if (arrivals.toAppend().isEmpty() && arrivals.recognised() > 0) {
      return new AppendOutcome.AlreadyThere(
          contents.readings().get(0).source().file(), arrivals.recognised());
    }
    Sources.mustComeFrom(file, arrivals.toAppend());
    keep(file);
    files.put(
        root.resolve(ReadingsFile.NAME),
        ReadingsFile.append(snapshot.readings, arrivals.toAppend()));
    if (decision.isPresent() && !arrivals.differences().isEmpty()) {
      Set<String> runs = new LinkedHashSet<>();
      arrivals.differences().forEach(difference -> runs.add(difference.received().run()));
      decideSources(snapshot, runs, file, contents, decision.get());
    }
    return new AppendOutcome.Appended(
        arrivals.toAppend().size(), arrivals.recognised(), arrivals.issues());
  }

  /**
   * An original that is read again when it is kept, so that many large ones need no memory.
   *
   * @param name its name, without folders
   * @param sha256 hash of its bytes when its readings were made
   * @param path where it is
   */
  public record Original(String name, String sha256, Path path) {}

  /**
   * Adds the readings of many files, all of them or none. All originals are kept first; then the
   * record is replaced once.
   *
   * @param originals the files that the readings come from
   * @param reader gives the readings, given what the folder holds; called while other writers are
   *     kept out
   */
  public AppendOutcome appendAll(List<Original> originals, Function<StudyContents, Batch> reader) {
    try {
      return locked(() -> appendAllLocked(originals, reader))
          .orElseGet(() -> new AppendOutcome.Refused(List.of(FolderFaults.busy())));
    } catch (NoSuchFileException e) {
      return new AppendOutcome.Refused(List.of(FolderFaults.missing(root)));
    } catch (IOException e) {
      return new AppendOutcome.Refused(List.of(FolderFaults.notWritten(ReadingsFile.NAME, e)));
    }
  }

  private AppendOutcome appendAllLocked(
      List<Original> originals, Function<StudyContents, Batch> reader) throws IOException {
    Snapshot snapshot = new Snapshot();
    OpenOutcome opening = snapshot.check();
    if (opening instanceof OpenOutcome.Refused refused) {
      return new AppendOutcome.Refused(refused.issues());
    }
    StudyContents contents = ((OpenOutcome.Opened) opening).contents();
    IncomingReadings arrivals =
        IncomingReadings.of(contents, reader.apply(contents), Optional.empty());
    if (arrivals.hasErrors()) {
      return new AppendOutcome.Refused(arrivals.issues());
    }
    List<Reading> fresh = arrivals.toAppend();
    Set<String> needed = new LinkedHashSet<>();
    fresh.forEach(reading -> needed.add(reading.source().sha256()));
    for (Original original : originals) {
      if (needed.remove(original.sha256())) {
        ReceivedFile file = ReceivedFile.of(original.name(), Files.readAllBytes(original.path()));
        if (!file.sha256().equals(original.sha256())) {
          String message = "the file changed while it was being imported; nothing was kept";
          return new AppendOutcome.Refused(
              List.of(FolderFaults.issue(Code.FILE_UNREADABLE, original.name(), message)));
        }
        keep(file);
      }
    }
    if (!needed.isEmpty()) {
      throw new IllegalArgumentException("readings from files that are not named: " + needed);
    }
    if (!fresh.isEmpty()) {
      files.put(root.resolve(ReadingsFile.NAME), ReadingsFile.append(snapshot.readings, fresh));
    }
    return new AppendOutcome.Appended(fresh.size(), arrivals.recognised(), arrivals.issues());
  }

  private void decideSources(
      Snapshot snapshot,
      Set<String> runs,
      ReceivedFile file,
      StudyContents contents,
      SourceDecision decision)
      throws IOException {
    if (!runs.isEmpty()) {
      byte[] text = snapshot.decisions;
      for (Decision line : SourceDecisions.of(runs, file, contents, decision)) {
        text = DecisionsFile.append(text, line);
      }
      files.put(root.resolve(DecisionsFile.NAME), text);
    }
  }

  /**
   * The readings that the record holds from exactly this file, if any.
   *
   * @param part which places of the file are meant
   */
  public static Optional<AppendOutcome> alreadyThere(
      ReceivedFile file, Predicate<Provenance> part, StudyContents contents) {
    List<Provenance> sources =
        Stream.concat(contents.readings().stream(), contents.beside().stream())
            .map(Reading::source)
            .filter(source -> source.sha256().equals(file.sha256()))
            .filter(part)
            .toList();
    return sources.stream()
        .findFirst()
        .map(first -> new AppendOutcome.AlreadyThere(first.file(), sources.size()));
  }

  /** The text of a mapping that was saved under this name, if there is one. */
  public Optional<byte[]> mapping(String name) throws IOException {
    return bytes(MAPPINGS + "/" + name + ".yaml");
  }

  /** Saves the text of a mapping; says why not, or nothing when saved. */
  public List<DataIssue> saveMapping(String name, String text) {
    String place = MAPPINGS + "/" + name + ".yaml";
    try {
      return locked(
              () -> {
                files.makeDirectory(root.resolve(MAPPINGS));
                files.put(root.resolve(place), text.getBytes(StandardCharsets.UTF_8));
                return List.<DataIssue>of();
              })
          .orElseGet(() -> List.of(FolderFaults.busy()));
    } catch (IOException e) {
      return List.of(FolderFaults.notWritten(place, e));
    }
  }

  /**
   * Keeps a series beside the readings. The original is kept first, then series.csv gets its line.
   *
   * @param file the file as received, the one that the series names
   */
  public AppendOutcome keepSeries(ReceivedFile file, KeptSeries series) {
    try {
      return locked(() -> keepSeriesLocked(file, series))
          .orElseGet(() -> new AppendOutcome.Refused(List.of(FolderFaults.busy())));
    } catch (NoSuchFileException e) {
      return new AppendOutcome.Refused(List.of(FolderFaults.missing(root)));
    } catch (IOException e) {
      return new AppendOutcome.Refused(List.of(FolderFaults.notWritten(History.SERIES.name(), e)));
    }
  }

  private AppendOutcome keepSeriesLocked(ReceivedFile file, KeptSeries series) throws IOException {
    Snapshot before = new Snapshot();
    if (before.check() instanceof OpenOutcome.Refused refused) {
      return new AppendOutcome.Refused(refused.issues());
    }
    byte[] added = History.SERIES.append(before.series, List.of(series));
    if (new Snapshot(before.decisions, added).check() instanceof OpenOutcome.Refused refused) {
      return new AppendOutcome.Refused(refused.issues());
    }
    keep(file);
    files.put(root.resolve(History.SERIES.name()), added);
    return new AppendOutcome.Appended(0, 0, List.of());
  }

  /** Where captures/ keeps the original of this name and hash, whether it is there or not. */
  public Path capture(String fileName, String sha256) {
    return root.resolve(Originals.place(fileName, sha256));
  }

  private void keep(ReceivedFile file) throws IOException {
    files.makeDirectory(root.resolve(CAPTURES));
    files.put(capture(file.name(), file.sha256()), file.bytes());
  }

  /** Adds a decision as the last line of decisions.csv; its line number is given by the folder. */
  public DecisionOutcome decide(Decision decision) {
    try {
      return locked(() -> decideLocked(decision))
          .orElseGet(() -> new DecisionOutcome.Refused(List.of(FolderFaults.busy())));
    } catch (NoSuchFileException e) {
      return new DecisionOutcome.Refused(List.of(FolderFaults.missing(root)));
    } catch (IOException e) {
      return new DecisionOutcome.Refused(List.of(FolderFaults.notWritten(DecisionsFile.NAME, e)));
    }
  }

  private DecisionOutcome decideLocked(Decision decision) throws IOException {
    Snapshot before = new Snapshot();
    if (before.check() instanceof OpenOutcome.Refused refused) {
      return new DecisionOutcome.Refused(refused.issues());
    }
    Snapshot after = new Snapshot(DecisionsFile.append(before.decisions, decision), before.series);
    OpenOutcome opening = after.check();
    if (opening instanceof OpenOutcome.Refused refused) {
      return new DecisionOutcome.Refused(refused.issues());
    }
    files.put(root.resolve(DecisionsFile.NAME), after.decisions);
    List<Decision> all = ((OpenOutcome.Opened) opening).contents().decisions();
    return new DecisionOutcome.Recorded(all.get(all.size() - 1));
  }

  /** The checks of later lots and the versions of the claim. */
  public HistoryOutcome history() {
    try {
      return history(bytesOf(History.WATCH.name()), bytesOf(History.CLAIMS.name()));
    } catch (IOException e) {
      return new HistoryOutcome.Refused(List.of(FolderFaults.unreadable(e)));
    }
  }

  private static HistoryOutcome history(byte[] watch, byte[] claims) {
    List<DataIssue> issues = new ArrayList<>();
    List<WatchLine> checks = History.WATCH.read(watch, issues);
    List<ClaimVersion> versions = History.CLAIMS.read(claims, issues);
    return issues.stream().anyMatch(DataIssue::isError)
        ? new HistoryOutcome.Refused(issues)
        : new HistoryOutcome.Known(checks, versions);
  }

  /**
   * Adds the check of a later lot, and keeps the original of its readings first.
   *
   * @param file the file of readings
   * @param lines makes the lines, given the history; called while other writers are kept out
   */
  public HistoryOutcome addWatch(
      ReceivedFile file, Function<HistoryOutcome.Known, List<WatchLine>> lines) {
    return add(
        History.WATCH,
        known -> {
          keep(file);
          return lines.apply(known);
        });
  }

  /** Adds a version of the claim. */
  public HistoryOutcome addClaims(Function<HistoryOutcome.Known, List<ClaimVersion>> lines) {
    return add(History.CLAIMS, lines::apply);
  }

  private interface Lines<T> {
    List<T> after(HistoryOutcome.Known known) throws IOException;
  }

  private <T> HistoryOutcome add(History<T> history, Lines<T> lines) {
    try {
      return locked(
              () -> {
                HistoryOutcome before = history();
                if (!(before instanceof HistoryOutcome.Known known)) {
                  return before;
                }
                byte[] old = bytesOf(history.name());
                byte[] added = history.append(old, lines.after(known));
                List<DataIssue> issues = new ArrayList<>();
                history.read(added, issues);
                if (!issues.isEmpty()) {
                  return new HistoryOutcome.Refused(issues);
                }
                files.put(root.resolve(history.name()), added);
                return history();
              })
          .orElseGet(() -> new HistoryOutcome.Refused(List.of(FolderFaults.busy())));
    } catch (NoSuchFileException e) {
      return new HistoryOutcome.Refused(List.of(FolderFaults.missing(root)));
    } catch (IOException e) {
      return new HistoryOutcome.Refused(List.of(FolderFaults.notWritten(history.name(), e)));
    }
  }

  private byte[] bytesOf(String name) throws IOException {
    return bytes(name).orElseGet(() -> new byte[0]);
  }

  /** The bytes of all files, read once. */
  private final class Snapshot {
    private final Optional<byte[]> study;
    private final byte[] readings;
    private final byte[] decisions;
    private final byte[] series;

    private Snapshot() throws IOException {
      this(bytesOf(DecisionsFile.NAME), bytesOf(History.SERIES.name()));
    }

    private Snapshot(byte[] decisions, byte[] series) throws IOException {
      this.study = bytes(StudyFile.NAME);
      this.readings = bytesOf(ReadingsFile.NAME);
      this.decisions = decisions;
      this.series = series;
    }

    private OpenOutcome check() throws IOException {
      if (study.isEmpty()) {
        return new OpenOutcome.Refused(List.of(FolderFaults.missing(root)));
      }
      byte[] text = study.get();
      Supplier<StudyOutcome> defining = Parallel.begin(() -> StudyFile.read(StudyFile.NAME, text));
      RecordSnapshot recorded = RecordSnapshot.read(root, readings, decisions, series);
      StudyOutcome definition = defining.get();
      Batch record = recorded.batch();
      List<Decision> decided = recorded.decisions();
      List<KeptSeries> kept = recorded.series();
      List<DataIssue> issues = new ArrayList<>();
      if (definition instanceof StudyOutcome.Refused refused) {
        issues.addAll(refused.issues());
      }
      issues.addAll(recorded.issues());
      if (definition instanceof StudyOutcome.Defined defined) {
        Study it = defined.study();
        Sources sources = Sources.of(record.readings(), decided);
        issues.addAll(sources.issues());
        issues.addAll(
            ReadingChecks.check(it, List.of(), sources.effective(), ReadingChecks.Place.RECORD));
        issues.addAll(DecisionChecks.check(it, record.readings(), decided));
        issues.addAll(SeriesChecks.check(it, kept));
        if (issues.stream().noneMatch(DataIssue::isError)) {
          String hash = Sha256.of(text, readings, decisions, series);
          return new OpenOutcome.Opened(
              new StudyContents(
                  it, sources.effective(), sources.beside(), decided, kept, hash, issues));
        }
      }
      return new OpenOutcome.Refused(issues);
    }
  }

  private interface Work<T> {
    T run() throws IOException;
  }

  /** Runs while other writers are kept out; empty when they are at work for too long. */
  private <T> Optional<T> locked(Work<T> work) throws IOException {
    Optional<FolderLock> lock = FolderLock.acquire(root, patience);
    if (lock.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(work.run());
    } finally {
      lock.get().close();
    }
  }

  private Optional<byte[]> bytes(String name) throws IOException {
    try {
      return Optional.of(Files.readAllBytes(root.resolve(name)));
    } catch (NoSuchFileException e) {
      return Optional.empty();
    }
  }
}
