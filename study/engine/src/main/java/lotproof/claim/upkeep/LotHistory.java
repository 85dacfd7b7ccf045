package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.study.ClaimVersion;
import lotproof.study.WatchLine;

/** The history of a study's claims and later lots: what is added to it, and what it says. */
public final class LotHistory {
  private LotHistory() {}

  /** The figures of the latest version of the claim, by level. */
  public static Map<String, Double> latestFigures(List<ClaimVersion> versions) {
    Map<String, Double> figures = new LinkedHashMap<>();
    for (ClaimVersion line : versions) {
      if (line.version().equals(versions.get(versions.size() - 1).version())) {
        figures.put(line.level(), line.figureGrams());
      }
    }
    return figures;
  }

  /** Whether the same file was checked against the same record before. */
  public static boolean holds(List<WatchLine> history, ReceivedFile file, String studyHash) {
    return history.stream()
        .anyMatch(
            w ->
                w.source().fileHash().equals(file.sha256())
                    && w.source().studyHash().equals(studyHash));
  }

  /**
   * The next version of the claim: each level that has a figure.
   *
   * @param sentence puts a claim into words
   */
  public static List<ClaimVersion> nextVersion(
      List<ClaimVersion> before,
      StudyResult result,
      Function<LevelClaim, String> sentence,
      String date,
      String who,
      String studyHash) {
    String version = StudyFolder.nextName("V", before.stream().map(ClaimVersion::version));
    return result.asDecided().claims().stream()
        .filter(claim -> claim.figure().isPresent())
        .map(
            claim ->
                new ClaimVersion(
                    version,
                    date,
                    who,
                    claim.label(),
                    claim.figure().orElseThrow().printableGrams(),
                    result.study().claim().content(),
                    result.study().claim().confidence(),
                    sentence.apply(claim),
                    studyHash))
        .toList();
  }

  /** The next check of a later lot, one line for each level. */
  public static List<WatchLine> nextCheck(
      List<WatchLine> before,
      LaterLotCheck check,
      String date,
      String lot,
      ReceivedFile file,
      String studyHash) {
    String name = StudyFolder.nextName("W", before.stream().map(WatchLine::check));
    List<WatchLine> lines = new ArrayList<>();
    for (LaterLotCheck.LevelCheck level : check.levels()) {
      LaterLotCheck.Judgement found = level.judgement();
      lines.add(
          new WatchLine(
              name,
              date,
              lot,
              new WatchLine.Kits(
                  check.kits(), found.single().largestGrams(), found.single().beyond()),
              level.level(),
              level.figureGrams(),
              level.loadKilograms(),
              level.direction().word(),
              new WatchLine.Mean(
                  found.mean().grams(), found.mean().studyGrams(), found.mean().limitGrams()),
              new WatchLine.Spread(
                  found.spread().grams(), found.spread().studyGrams(), found.spread().limitGrams()),
              found.verdict(),
              new WatchLine.Source(file.name(), file.sha256(), studyHash)));
    }
    return lines;
  }
}
