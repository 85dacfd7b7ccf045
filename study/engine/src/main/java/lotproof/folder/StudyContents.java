package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.KeptSeries;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * All that a study folder holds, read at one moment and free of errors.
 *
 * @param readings the readings that count, one for each step of each run, in file order
 * @param beside readings that are kept beside others of the same step of a run and are not used
 * @param decisions what people decided, in file order, withdrawn ones included
 * @param series long captures that are kept beside the readings, in file order
 * @param recordHash SHA-256 over the bytes of study.yaml, readings.csv, decisions.csv and
 *     series.csv in this order, a missing file counting as empty; the same as {@code cat study.yaml
 *     readings.csv decisions.csv series.csv | sha256sum}
 * @param warnings what a person should know although the data can be used
 */
public record StudyContents(
    Study study,
    List<Reading> readings,
    List<Reading> beside,
    List<Decision> decisions,
    List<KeptSeries> series,
    String recordHash,
    List<DataIssue> warnings) {
  public StudyContents {
    readings = List.copyOf(readings);
    beside = List.copyOf(beside);
    decisions = List.copyOf(decisions);
    series = List.copyOf(series);
    warnings = List.copyOf(warnings);
  }
}
