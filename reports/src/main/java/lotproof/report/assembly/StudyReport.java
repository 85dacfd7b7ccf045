package lotproof.report.assembly;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Supplier;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.report.model.Identity;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.work.Parallel;

/** The report of a study. */
public final class StudyReport {
  /** With more runs than this the steps from readings to units are numbers, not formulas. */
  static final int MOST_LIVE_RUNS = 3000;

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
    // the one that takes longest begins
    Supplier<Section> limits = Parallel.begin(() -> LimitsSection.of(result));
    List<RecordedRun> runs = RecordedRun.of(result);
    List<Supplier<Optional<Section>>> parts =
        List.of(
            () -> Optional.of(FigureSection.of(result)),
            () -> Optional.of(FigureDetailBlocks.section(result)),
            () -> JigSection.of(result),
            () -> Optional.of(ErrorSection.of(result)),
            () -> Optional.of(SpreadSection.of(result)),
            () -> Optional.of(ReviewSection.of(result)),
            () -> Optional.of(limits.get()),
            () -> Optional.of(BenchSection.of(result)),
            () -> Optional.of(StabilitySection.of(result)),
            () -> Optional.of(StudySection.of(result, runs)),
            () -> Optional.of(UnitSection.of(result, runs)),
            () -> Optional.of(MethodSection.of(result)),
            () -> Optional.of(ReadingSection.of(result)));
    List<Section> sections =
        Parallel.map(parts, Supplier::get).stream().flatMap(Optional::stream).toList();
    return new Report(identity, HeadlineAssembly.of(result), live(result, runs, sections));
  }

  /** The sections with every number that a spreadsheet can compute as a formula. */
  private static List<Section> live(
      StudyResult result, List<RecordedRun> runs, List<Section> sections) {
    LiveTables tables = new LiveTables(sections);
    if (runs.size() <= MOST_LIVE_RUNS) {
      new LiveRuns(result, runs, tables).apply();
    }
    new LiveResults(tables).apply(result);
    return tables.in(sections);
  }
}
