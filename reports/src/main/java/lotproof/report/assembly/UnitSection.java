package lotproof.report.assembly;

import java.util.List;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;

/** What was found on each pair. */
final class UnitSection {
  private UnitSection() {}

  static Section of(StudyResult result, List<RecordedRun> runs) {
    return new Section(
        "units",
        "What was found on each pair and unit?",
        Prose.of(
            "Means over the runs of each pair, with the decided exclusions taken out. Non-linearity"
                + " refers to the {}.",
            result.study().referenceLine().description()),
        List.of(
            RunTables.pairs(result, runs),
            RunTables.units(result, runs),
            RunTables.runs(result, runs)));
  }
}
