package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.report.model.Identity;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.spread.CharacteristicSpread;

/** The report of a study. */
public final class StudyReport {
  private StudyReport() {}

  /**
   * Assembles the report.
   *
   * @param result what the record supports
   * @param recordHash hash of the record that was read
   * @param toolVersion version of the program
   */
  public static Report of(StudyResult result, String recordHash, String toolVersion) {
    long files =
        result.runs().stream()
            .flatMap(run -> run.readings().stream())
            .map(reading -> reading.source().sha256())
            .distinct()
            .count();
    long readings = result.runs().stream().mapToLong(run -> run.readings().size()).sum();
    Identity identity =
        new Identity(
            result.study().title(),
            result.study().question(),
            recordHash,
            toolVersion,
            OptionalLong.of(result.study().seed()),
            readings + " readings from " + files + (files == 1 ? " file" : " files"),
            StudySection.facts(result),
            StudySection.conditions(result));
    List<RecordedRun> runs = RecordedRun.of(result);
    ProductionLimits limits = ProductionLimits.ofAllLoads(result);
    List<Section> sections = new ArrayList<>();
    sections.add(FigureSection.of(result));
    sections.add(SpreadSection.of(result, runs));
    SpreadSection.lots(result).ifPresent(sections::add);
    sections.add(ReviewBlocks.section(result));
    sections.add(LimitsSection.of(result.study(), limits));
    LimitsSection.jig(result).ifPresent(sections::add);
    sections.add(BenchSection.of(result));
    sections.add(CaptureBlocks.section(result));
    sections.add(StudySection.units(result, runs));
    sections.add(StudySection.method(result));
    return new Report(identity, VerdictAssembly.of(result), LevelAssembly.of(result), sections);
  }

  /** The section on a bare table of results: spread alone, no claim. */
  public static Section ofTable(CharacteristicSpread spread) {
    return new Section(
        "spread", "How far do units differ, and why?", Prose.none(), SpreadTables.of(spread));
  }
}
