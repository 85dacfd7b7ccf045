package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.report.model.Identity;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Section;

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
            readings + " readings from " + files + (files == 1 ? " file" : " files"));
    List<RecordedRun> runs = RecordedRun.of(result);
    List<Section> sections = new ArrayList<>();
    sections.add(FigureSection.of(result));
    sections.add(DetailSection.of(result));
    JigSection.of(result).ifPresent(sections::add);
    sections.add(ErrorSection.of(result));
    sections.add(SpreadSection.of(result, runs));
    sections.add(ReviewSection.of(result));
    sections.add(LimitsSection.of(result));
    sections.add(BenchSection.of(result));
    sections.add(StabilitySection.of(result));
    sections.add(StudySection.of(result, runs));
    sections.add(units(result, runs));
    sections.add(MethodSection.of(result));
    sections.add(ReadingSection.of(result));
    return new Report(identity, HeadlineAssembly.of(result), sections);
  }

  /** What was found on each pair, unit and run. */
  private static Section units(StudyResult result, List<RecordedRun> runs) {
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
