package lotproof.gather;

import java.util.List;
import java.util.function.Supplier;
import lotproof.folder.Appended;
import lotproof.study.DataIssue;
import lotproof.study.Result;

/**
 * Something that was looked at and is not kept yet.
 *
 * @param preview what keeping it would do
 * @param keeper puts it into the study, all of it or nothing
 */
public record Inspected(Preview preview, Supplier<Result<Appended>> keeper) {
  /** Nothing was understood, and why. */
  public static Inspected refused(List<DataIssue> issues) {
    return new Inspected(Preview.refused(issues), () -> Result.refused(issues));
  }

  /** Keeps it. */
  public Result<Appended> keep() {
    return keeper.get();
  }
}
