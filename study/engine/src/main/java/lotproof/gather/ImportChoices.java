package lotproof.gather;

import java.util.Optional;
import java.util.Set;
import lotproof.folder.SourceDecision;
import lotproof.gather.tables.Mapping;
import lotproof.study.DataIssue;

/**
 * What a person says about an import.
 *
 * @param mapping about the file
 * @param accepted kinds of trouble that a person looked at and found right; they stay warnings
 * @param decision which values count where the file differs from the record
 */
public record ImportChoices(
    Mapping mapping, Set<DataIssue.Code> accepted, Optional<SourceDecision> decision) {
  public ImportChoices {
    accepted = Set.copyOf(accepted);
  }

  /** Nothing. */
  public static ImportChoices none() {
    return new ImportChoices(Mapping.none(), Set.of(), Optional.empty());
  }
}
