package lotproof.gather;

import java.util.List;
import lotproof.study.Reading;

/**
 * What an import would do, with nothing changed.
 *
 * @param outcome what {@link Importer#importFile} would answer at this moment
 * @param columns how the columns were understood; empty when it did not come to that
 * @param readings the readings that were understood, also when others were not
 */
public record Preview(ImportOutcome outcome, List<ColumnUse> columns, List<Reading> readings) {
  public Preview {
    columns = List.copyOf(columns);
    readings = List.copyOf(readings);
  }
}
