package lotproof.folder;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.folder.StudyFiles.FileOperations;
import lotproof.folder.StudyRecord.RecordSnapshot;
import lotproof.folder.definition.StudyFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import lotproof.study.Study;

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

  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final StudyFiles files;

  private StudyFolder(StudyFiles files) {
    this.files = files;
  }

  /** The folder at this path, which need not exist yet. */
  public static StudyFolder at(Path root) {
    return at(root, new FileOperations(), PATIENCE);
  }

  static StudyFolder at(Path root, FileOperations operations, Duration patience) {
    return new StudyFolder(new StudyFiles(root, operations, patience));
  }

  /** Where it is. */
  public Path root() {
    return files.root();
  }

  /** What is done while other writers are kept out. */
  public interface Work<T> {
    /** Does it. */
    T run() throws IOException;
  }

  /** Does something while other writers are kept out. */
  public <T> T alone(Work<T> work) throws IOException {
    return files.alone(work);
  }

  /** Replaces a file in one step; for work that keeps other writers out. */
  public void put(String place, byte[] content) throws IOException {
    files.put(place, content);
  }

  /** Its readings, decisions and series. */
  public StudyRecord record() {
    return new StudyRecord(files);
  }

  /** Its bench sheets and the plan of the bench. */
  public BenchFolder bench() {
    return new BenchFolder(files);
  }

  /** The checks of later lots and the versions of its claim. */
  public StudyHistory history() {
    return new StudyHistory(files);
  }

  /** Reads and checks all of it. */
  public Result<StudyContents> open() {
    try {
      return RecordSnapshot.of(files).check();
    } catch (IOException e) {
      return StudyFiles.unreadable(e);
    }
  }

  /** Writes study.yaml into a folder that has none; says why not, or nothing when written. */
  public List<DataIssue> create(Study study) {
    return files
        .writeInNew(
            StudyFile.NAME,
            () -> {
              if (holdsStudy()) {
                return Result.refused(
                    Code.WRITE_FAILED,
                    StudyFile.NAME,
                    "the folder holds a study already; nothing was written");
              }
              files.put(StudyFile.NAME, StudyFile.write(study).getBytes(StandardCharsets.UTF_8));
              return Result.of(study);
            })
        .issues();
  }

  /** Whether it holds a study. */
  public boolean holdsStudy() {
    return Files.exists(files.at(StudyFile.NAME));
  }

  /** The text of a mapping that was saved under this name, if there is one. */
  public Optional<byte[]> mapping(String name) throws IOException {
    return files.bytes(MAPPINGS + "/" + name + ".yaml");
  }

  /** Saves the text of a mapping; says why not, or nothing when saved. */
  public List<DataIssue> saveMapping(String name, String text) {
    return files.putIn(MAPPINGS, name + ".yaml", text.getBytes(StandardCharsets.UTF_8));
  }

  /** Where captures/ keeps the original of this name and hash, whether it is there or not. */
  public Path capture(String fileName, String sha256) {
    return files.at(capturePlace(fileName, sha256));
  }

  static String capturePlace(String fileName, String sha256) {
    return CAPTURES + "/" + ReceivedFile.captureName(fileName, sha256);
  }

  /** The name after the largest so far, such as D4 after D3; names of another form are ignored. */
  public static String nextName(String letter, Stream<String> names) {
    int largest =
        names
            .filter(name -> name.matches(letter + "[0-9]{1,8}"))
            .mapToInt(name -> Integer.parseInt(name.substring(1)))
            .max()
            .orElse(0);
    return letter + (largest + 1);
  }
}
