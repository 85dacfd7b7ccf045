package lotproof.gather;

import java.util.function.Supplier;
import lotproof.folder.Appended;
import lotproof.study.Result;

/**
 * Something that was looked at and is not kept yet.
 *
 * @param preview what keeping it would do
 * @param keeper puts it into the study, all of it or nothing
 */
public record Inspected(Preview preview, Supplier<Result<Appended>> keeper) {
  /** Keeps it. */
  public Result<Appended> keep() {
    return keeper.get();
  }
}
