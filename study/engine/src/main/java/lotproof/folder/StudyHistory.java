package lotproof.folder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
      List<WatchLine> watch = RecordFiles.WATCH.read(bytes(RecordFiles.WATCH), issues);
      List<ClaimVersion> claims = RecordFiles.CLAIMS.read(bytes(RecordFiles.CLAIMS), issues);
      return Result.of(new Lines(watch, claims), issues);
    } catch (IOException e) {
      return StudyFiles.unreadable(e);
    }
  }

  private byte[] bytes(RecordFile<?> file) throws IOException {
    return files.bytes(file.name()).orElseGet(() -> new byte[0]);
  }

  /**
   * Adds the check of a later lot, and keeps the original of its readings first.
   *
   * @param lines makes the lines, given the history; called while other writers are kept out
   * @return the history with them
   */
  public Result<Lines> addWatch(ReceivedFile file, Function<Lines, List<WatchLine>> lines) {
    return add(RecordFiles.WATCH, lines, Optional.of(file));
  }

  /** Adds a version of the claim; gives the history with it. */
  public Result<Lines> addClaims(Function<Lines, List<ClaimVersion>> lines) {
    return add(RecordFiles.CLAIMS, lines, Optional.empty());
  }

  private <T> Result<Lines> add(
      RecordFile<T> file, Function<Lines, List<T>> lines, Optional<ReceivedFile> original) {
    return files.write(
        file.name(),
        () -> {
          Result<Lines> before = read();
          if (before.isRefused()) {
            return before;
          }
          if (original.isPresent()) {
            files.keep(original.get());
          }
          byte[] added = file.append(bytes(file), lines.apply(before.get()));
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
