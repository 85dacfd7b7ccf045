package lotproof.gather;

import java.util.List;
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
 */
public record Preview(
    Result<Appended> outcome,
    List<Fact> facts,
    List<ColumnUse> columns,
    List<Reading> readings,
    List<Question> questions,
    List<Difference> differences) {
  public Preview {
    facts = List.copyOf(facts);
    columns = List.copyOf(columns);
    readings = List.copyOf(readings);
    questions = List.copyOf(questions);
    differences = List.copyOf(differences);
  }

  /** Nothing was understood, and why. */
  public static Preview refused(List<DataIssue> issues) {
    return new Preview(
        Result.refused(issues), List.of(), List.of(), List.of(), List.of(), List.of());
  }
}
