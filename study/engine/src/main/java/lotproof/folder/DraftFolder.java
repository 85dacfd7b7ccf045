package lotproof.folder;

import java.io.IOException;
import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import lotproof.folder.text.CsvText;

/**
 * The drafts of runs in {@code bench/drafts}, as one client sees them: a person at a terminal, or
 * any other place where runs are typed. There is one file for each person and run.
 *
 * <p>A client holds a lock on a file of its own for as long as it lives. The system lifts the lock
 * when the process dies, so that a draft whose client is gone is known to be left behind, without
 * any clock. All changes are made while other writers of the study are kept out.
 */
public final class DraftFolder implements AutoCloseable {
  /** Folder of the drafts below the bench folder. */
  public static final String NAME = "drafts";

  private static final String CLIENT = ".client-";
  private static final String ENDING = ".csv";
  private static final int BEFORE_CONTENT = 4;

  /** Clients of this process: the system's locks do not keep a process from itself. */
  private static final Set<Path> HERE = ConcurrentHashMap.newKeySet();

  private final Path root;
  private final Path drafts;
  private final StudyFiles files;
  private final Path own;
  private final FileChannel lock;

  private DraftFolder(StudyFiles files, Path root, Path own, FileChannel lock) {
    this.files = files;
    this.root = root;
    this.drafts = drafts(root);
    this.own = own;
    this.lock = lock;
  }

  /** What is done while other writers are kept out. */
  public interface Work<T> {
    /** Does it. */
    T run() throws IOException;
  }

  /**
   * A run as far as one person measured it.
   *
   * @param since when that person began
   * @param client who has it in hand, by the name of its file in the folder of drafts; empty when
   *     nobody has
   * @param content what was noted so far, field by field
   */
  public record RunDraft(
      String run, String person, LocalDateTime since, String client, List<String> content) {
    public RunDraft {
      content = List.copyOf(content);
    }
  }

  /**
   * What the folder holds.
   *
   * @param drafts drafts by file name
   * @param damaged files that are no drafts, within the study folder
   */
  public record Listing(List<RunDraft> drafts, List<String> damaged) {
    public Listing {
      drafts = List.copyOf(drafts);
      damaged = List.copyOf(damaged);
    }
  }

  private static Path drafts(Path root) {
    return root.resolve(BenchFolder.NAME).resolve(NAME);
  }

  /** Enters the folder as a new client, and clears away what clients that died have left. */
  public static DraftFolder open(StudyFolder study) throws IOException {
    Path root = study.root().toRealPath();
    Path drafts = drafts(root);
    return study
        .files()
        .alone(
            () -> {
              Files.createDirectories(drafts);
              for (Path client : files(drafts, true)) {
                if (!alive(client)) {
                  Files.deleteIfExists(client);
                }
              }
              Path own = drafts.resolve(CLIENT + UUID.randomUUID());
              FileChannel channel =
                  FileChannel.open(own, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
              if (channel.tryLock() == null) {
                throw new IOException("a new file is locked: " + own);
              }
              HERE.add(own);
              return new DraftFolder(study.files(), root, own, channel);
            });
  }

  /** The files in the folder in order of their names: those of clients, or all others. */
  private static List<Path> files(Path drafts, boolean ofClients) throws IOException {
    try (Stream<Path> all = Files.list(drafts)) {
      return all.filter(file -> name(file).startsWith(ofClients ? CLIENT : ".") == ofClients)
          .sorted()
          .toList();
    }
  }

  private static String name(Path file) {
    return String.valueOf(file.getFileName());
  }

  /** Whether a client lives. Asked while others are kept out, since asking takes its lock. */
  private static boolean alive(Path client) throws IOException {
    if (HERE.contains(client)) {
      return true;
    }
    try (FileChannel channel = FileChannel.open(client, StandardOpenOption.WRITE)) {
      return channel.tryLock() == null;
    } catch (NoSuchFileException e) {
      return false;
    }
  }

  /** Does something while other writers are kept out. */
  public <T> T alone(Work<T> work) throws IOException {
    return files.alone(work);
  }

  /** The name under which this client holds drafts. */
  public String client() {
    return name(own);
  }

  /** All drafts. */
  public Listing list() throws IOException {
    List<RunDraft> found = new ArrayList<>();
    List<String> damaged = new ArrayList<>();
    for (Path file : files(drafts, false)) {
      read(file).ifPresentOrElse(found::add, () -> damaged.add(place(file)));
    }
    return new Listing(found, damaged);
  }

  /** Whether somebody has a draft in hand, this client or another. */
  public boolean isHeld(RunDraft draft) throws IOException {
    return !draft.client().isEmpty() && alive(drafts.resolve(draft.client()));
  }

  /** Writes a draft in place of the one of its person and run. */
  public void put(RunDraft draft) throws IOException {
    List<String> fields =
        new ArrayList<>(
            List.of(draft.run(), draft.person(), draft.since().toString(), draft.client()));
    fields.addAll(draft.content());
    files.put(place(file(draft)), CsvText.line(fields).getBytes(StandardCharsets.UTF_8));
  }

  /** Gives a draft out of the hand of its client. */
  public void release(RunDraft draft) throws IOException {
    put(new RunDraft(draft.run(), draft.person(), draft.since(), "", draft.content()));
  }

  /** Removes a draft. */
  public void remove(RunDraft draft) throws IOException {
    Files.deleteIfExists(file(draft));
  }

  /** The draft of one person and run, if there is one that can be read. */
  public Optional<RunDraft> of(String run, String person) throws IOException {
    Path file = file(run, person);
    return Files.isRegularFile(file) ? read(file) : Optional.empty();
  }

  /** The draft in a file of one whole line; nothing when it holds something else. */
  private static Optional<RunDraft> read(Path file) throws IOException {
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
      return Optional.of(new RunDraft(fields.get(0), fields.get(1), since, fields.get(3), content));
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  /** Where a draft is. */
  public Path file(RunDraft draft) {
    return file(draft.run(), draft.person());
  }

  /** How a file of the study folder is named to people. */
  public String place(Path file) {
    return root.relativize(file).toString().replace('\\', '/');
  }

  /** Readable for people; the hash keeps names apart that differ in other characters only. */
  private Path file(String run, String person) {
    String hash = ReceivedFile.hash((run + "\n" + person).getBytes(StandardCharsets.UTF_8));
    return drafts.resolve(
        plain("run-" + run) + "." + plain(person) + "." + hash.substring(0, 6) + ENDING);
  }

  private static String plain(String text) {
    String plain = text.replaceAll("[^A-Za-z0-9-]", "_");
    return plain.substring(0, Math.min(plain.length(), 40));
  }

  /** Leaves: what this client has in hand is free for others from now on. */
  @Override
  public void close() throws IOException {
    alone(
        () -> {
          for (RunDraft draft : list().drafts()) {
            if (draft.client().equals(client())) {
              release(draft);
            }
          }
          lock.close();
          HERE.remove(own);
          Files.deleteIfExists(own);
          return true;
        });
  }
}
