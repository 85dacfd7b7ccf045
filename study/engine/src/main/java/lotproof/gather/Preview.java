package lotproof.gather;

import java.util.List;
import java.util.function.Supplier;
import lotproof.folder.Appended;
import lotproof.folder.Difference;
import lotproof.gather.layout.TableReading.Understood;
import lotproof.gather.tables.Fact;
import lotproof.study.DataIssue;
import lotproof.study.Result;

/**
 * What an import would do, with nothing changed.
 *
 * @param outcome what the import would answer at this moment
 * @param understood how the file was understood, and what it leaves open
 * @param differences where it says something else than the record
 * @param keeper does it, all of it or nothing
 */
public record Preview(
    Result<Appended> outcome,
    Understood understood,
    List<Difference> differences,
    Supplier<Result<Appended>> keeper) {
  public Preview {
    differences = List.copyOf(differences);
  }

  /** What has no table of readings. */
  public static Preview of(
      Result<Appended> outcome, List<Fact> facts, Supplier<Result<Appended>> keeper) {
    Understood understood =
        new Understood(List.of(), outcome.issues(), facts, List.of(), List.of());
    return new Preview(outcome, understood, List.of(), keeper);
  }

  /** Nothing was understood, and why. */
  public static Preview refused(List<DataIssue> issues) {
    return of(Result.refused(issues), List.of(), () -> Result.refused(issues));
  }

  /** Does it. */
  public Result<Appended> keep() {
    return keeper.get();
  }
}
