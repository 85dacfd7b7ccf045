package lotproof.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.Result;
import lotproof.study.WatchLine;

/**
 * What was made of a study over time: the checks of later lots and the versions of the claim. It
 * enters no figure.
 */
public final class StudyHistory {
  private final StudyFiles files;

  StudyHistory(StudyFiles files) {
    this.files = files;
  }

  /**
   * The history at one moment.
   *
   * @param watch checks of later lots, in the order in which they were made
   * @param claims versions of the claim, in the order in which they were issued
   */
  public record Lines(List<WatchLine> watch, List<ClaimVersion> claims) {
    public Lines {
      watch = List.copyOf(watch);
      claims = List.copyOf(claims);
    }
  }

  /** The history as it is now. */
  public Result<Lines> read() {
    try {
      List<DataIssue> issues = new ArrayList<>();
      List<WatchLine> watch = lines(RecordFiles.WATCH, issues);
      List<ClaimVersion> claims = lines(RecordFiles.CLAIMS, issues);
      return Result.of(new Lines(watch, claims), issues);
    } catch (IOException e) {
      return Result.refused(StudyFiles.unreadable(e));
    }
  }

  private <T> List<T> lines(RecordFile<T> file, List<DataIssue> issues) throws IOException {
    return file.read(files.bytesOrNone(file.name()), issues);
  }

  /**
   * Adds the check of a later lot, and keeps the original of its readings first.
   *
   * @param lines makes the lines, given the history; called while other writers are kept out
   * @return the history with them
   */
  public Result<Lines> addWatch(ReceivedFile file, Function<Lines, List<WatchLine>> lines) {
    return add(
        RecordFiles.WATCH,
        known -> {
          files.keep(file);
          return lines.apply(known);
        });
  }

  /** Adds a version of the claim; gives the history with it. */
  public Result<Lines> addClaims(Function<Lines, List<ClaimVersion>> lines) {
    return add(RecordFiles.CLAIMS, lines::apply);
  }

  private interface Maker<T> {
    List<T> after(Lines known) throws IOException;
  }

  private <T> Result<Lines> add(RecordFile<T> file, Maker<T> lines) {
    return files.write(
        file.name(),
        () -> {
          Result<Lines> before = read();
          if (before.isRefused()) {
            return before;
          }
          byte[] old = files.bytesOrNone(file.name());
          byte[] added = file.append(old, lines.after(before.get()));
          List<DataIssue> issues = new ArrayList<>();
          file.read(added, issues);
          if (!issues.isEmpty()) {
            return Result.refused(issues);
          }
          files.put(file.name(), added);
          return read();
        });
  }
}
