package lotproof.gather;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import lotproof.folder.ReadingChecks;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.text.UnitNames;
import lotproof.gather.layout.TableReading;
import lotproof.gather.plausibility.PlausibilityChecks;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;

/**
 * The readings of a lot that was made after the study: of cells and boards that the study does not
 * know. Runs of the check standard are left out.
 *
 * @param file the file as received
 * @param readings readings of the later lot's kits
 */
public record LaterLot(ReceivedFile file, List<Reading> readings) {
  public LaterLot {
    readings = List.copyOf(readings);
  }

  /**
   * Reads a file; nothing is written.
   *
   * @param contents the study that the lot is to be held against
   * @param choices what people said about the file, and what they accepted
   * @param lot what the later lot is called
   * @param perLot whether its serials start again, so that its units are named LOT/SERIAL; so they
   *     are in any case where those of the study are
   */
  public static Result<LaterLot> read(
      StudyContents contents,
      Path path,
      TableReaders readers,
      ImportChoices choices,
      String lot,
      boolean perLot) {
    Study study = contents.study();
    Result<ReceivedFile> receipt = Importer.receive(path);
    if (receipt.isRefused()) {
      return Result.refused(receipt.issues());
    }
    ReceivedFile file = receipt.get();
    UnitNames names = new UnitNames(study);
    // serials alone are those of the later lot, not of a lot of the study that has them, too
    TableReading.Understood tidy =
        TableReading.read(
            file,
            readers.open(file, choices.mapping()),
            study.withUnits(new Units(List.of(), List.of(), study.units().checkStandard())),
            choices.mapping());
    List<DataIssue> issues = new ArrayList<>(tidy.issues());
    List<Reading> kits =
        tidy.readings().stream()
            .filter(r -> !study.units().isCheckStandard(r.cell(), r.board()))
            .map(
                r ->
                    r.withUnits(
                        names.inLaterLot(UnitKind.CELL, lot, r.cell(), perLot),
                        names.inLaterLot(UnitKind.BOARD, lot, r.board(), perLot)))
            .toList();
    knownUnits(study, file, kits, issues);
    if (Result.of(kits, issues).isRefused()) {
      return Result.refused(byLine(issues));
    } else if (kits.isEmpty()) {
      return Result.refused(Code.FILE_EMPTY, file.name(), "the file holds no kit of a later lot");
    }
    Study withLater = withLater(study, kits);
    issues.addAll(ReadingChecks.check(withLater, List.of(), kits, ReadingChecks.Place.SOURCE));
    // a comparison goes without such runs and says so
    ImportChecks.ofLoads(withLater, List.of(), kits)
        .forEach(issue -> issues.add(issue.as(Severity.WARNING, issue.message())));
    List<DataIssue> asked = PlausibilityChecks.ofReadings(study, recorded(contents, kits), kits);
    issues.addAll(ImportChecks.accepting(tidy.inItsHeaders(asked), choices.accepted()));
    return Result.of(new LaterLot(file, kits), byLine(issues));
  }

  private static List<DataIssue> byLine(List<DataIssue> issues) {
    return issues.stream().sorted(Comparator.comparingInt(DataIssue::line)).toList();
  }

  /** The record, without runs that happen to have the name of one of the lot's. */
  private static List<Reading> recorded(StudyContents contents, List<Reading> kits) {
    Set<String> names = new TreeSet<>(kits.stream().map(Reading::run).toList());
    return contents.readings().stream().filter(r -> !names.contains(r.run())).toList();
  }

  private static void knownUnits(
      Study study, ReceivedFile file, List<Reading> kits, List<DataIssue> issues) {
    String message =
        "%s is a %s of the study; a later lot has units of its own. Readings of studied units go in"
            + " with import; if serials start again in every lot, say --serials per-lot";
    for (UnitKind kind : UnitKind.values()) {
      Map<String, Integer> rows = rows(kits, kind);
      rows.keySet().retainAll(study.units().lotBySerial(kind).keySet());
      rows.forEach(
          (serial, row) ->
              issues.add(
                  DataIssue.error(
                      Code.VALUE_INVALID,
                      file.name(),
                      row,
                      kind.key(),
                      serial,
                      message.formatted(serial, kind.key()))));
    }
  }

  /** The row at which each serial stands first. */
  private static Map<String, Integer> rows(List<Reading> kits, UnitKind kind) {
    Map<String, Integer> rows = new TreeMap<>();
    for (Reading kit : kits) {
      rows.putIfAbsent(kit.unit(kind), kit.source().row());
    }
    return rows;
  }

  private static Study withLater(Study study, List<Reading> kits) {
    List<List<Lot>> lots = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      List<Lot> all = new ArrayList<>(study.units().lots(kind));
      all.add(new Lot(kind, "later", List.copyOf(rows(kits, kind).keySet())));
      lots.add(all);
    }
    return study.withUnits(new Units(lots.get(0), lots.get(1), study.units().checkStandard()));
  }
}
