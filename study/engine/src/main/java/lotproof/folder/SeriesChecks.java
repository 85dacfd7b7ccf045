package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.KeptSeries;
import lotproof.study.Study;

/** Whether the series that are kept beside the readings fit the study. */
public final class SeriesChecks {
  private SeriesChecks() {}

  /** What is wrong with them; all of it keeps a series out. */
  public static List<DataIssue> check(Study study, List<KeptSeries> series) {
    Serials serials = new Serials(study);
    Set<String> hashes = new HashSet<>();
    List<DataIssue> issues = new ArrayList<>();
    for (KeptSeries each : series) {
      serials
          .whyNotCell(each.cell())
          .ifPresent(why -> issues.add(error(Code.UNKNOWN_SERIAL, each, each.cell(), why)));
      serials
          .whyNotBoard(each.board())
          .ifPresent(why -> issues.add(error(Code.UNKNOWN_SERIAL, each, each.board(), why)));
      double capacity = study.kit().capacityKilograms();
      if (each.loadKilograms() > capacity) {
        String message = "the load of %s kg is above the capacity of %s kg";
        String said = message.formatted(plain(each.loadKilograms()), plain(capacity));
        issues.add(error(Code.OUT_OF_RANGE, each, "", said));
      }
      if (!ReceivedFile.isHash(each.sha256())) {
        String message = "\"" + each.sha256() + "\" is no SHA-256 hash; " + RecordFile.ADVICE;
        issues.add(error(Code.RECORD_DAMAGED, each, "", message));
      } else if (!hashes.add(each.sha256())) {
        String message = "the same bytes are kept as a series already";
        issues.add(error(Code.DUPLICATE_READING, each, "", message));
      }
    }
    return issues;
  }

  private static DataIssue error(Code code, KeptSeries series, String unit, String message) {
    return DataIssue.error(code, series.file(), 0, "", unit, message);
  }
}
