package lotproof.gather;

import java.util.List;
import java.util.function.Supplier;
import lotproof.folder.Appended;
import lotproof.folder.Difference;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.layout.Question;
import lotproof.gather.tables.Fact;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Result;

/**
 * What an import would do, with nothing changed.
 *
 * @param outcome what the import would answer at this moment
 * @param facts how the file was understood
 * @param columns how the columns were understood; empty when it did not come to that
 * @param readings the readings that were understood, also when others were not
 * @param questions what the file leaves open
 * @param differences where it says something else than the record
 * @param keeper does it, all of it or nothing
 */
public record Preview(
    Result<Appended> outcome,
    List<Fact> facts,
    List<ColumnUse> columns,
    List<Reading> readings,
    List<Question> questions,
    List<Difference> differences,
    Supplier<Result<Appended>> keeper) {
  public Preview {
    facts = List.copyOf(facts);
    columns = List.copyOf(columns);
    readings = List.copyOf(readings);
    questions = List.copyOf(questions);
    differences = List.copyOf(differences);
  }

  /** What has no table of readings. */
  public static Preview of(
      Result<Appended> outcome, List<Fact> facts, Supplier<Result<Appended>> keeper) {
    return new Preview(outcome, facts, List.of(), List.of(), List.of(), List.of(), keeper);
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
