package lotproof.folder.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.study.DataIssue;
import lotproof.study.Result;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units.Lot;

/**
 * What a serial in a file means. Where the serials of a study start again in every lot, its units
 * are named LOT/SERIAL everywhere, and a serial alone is made such a name at the door: by the lot
 * that stands beside it, or without one where it stands in one lot only.
 */
public final class UnitNames {
  private static final char BETWEEN = '/';

  private final Study study;
  private final Map<UnitKind, Map<String, String>> lotOf = new HashMap<>();
  private final Map<UnitKind, Boolean> perLot = new HashMap<>();
  private final Set<String> ofNoLot = new HashSet<>();

  public UnitNames(Study study) {
    this.study = study;
    for (UnitKind kind : UnitKind.values()) {
      lotOf.put(kind, study.units().lotBySerial(kind));
      perLot.put(kind, startAgain(study.units().lots(kind)));
    }
    study
        .units()
        .checkStandard()
        .ifPresent(check -> ofNoLot.addAll(List.of(check.cell(), check.board())));
    study
        .design()
        .reference()
        .ifPresent(partners -> ofNoLot.addAll(List.of(partners.cell(), partners.board())));
  }

  /** The name of a unit whose serials start again in every lot. */
  public static String of(String lot, String serial) {
    return lot + BETWEEN + serial;
  }

  /** The names that a serial alone can stand for. */
  public static List<String> candidates(String serial, Stream<String> names) {
    return names.filter(name -> name.endsWith(BETWEEN + serial)).sorted().toList();
  }

  private static boolean startAgain(List<Lot> lots) {
    return !lots.isEmpty()
        && lots.stream()
            .allMatch(
                lot ->
                    lot.serials().stream()
                        .allMatch(serial -> serial.startsWith(lot.name() + BETWEEN)));
  }

  /**
   * The name of the unit that a file means, be it known or not.
   *
   * @param lot the lot that the file names beside it; empty when it names none
   */
  public Result<String> meaning(UnitKind kind, String lot, String serial) {
    Map<String, String> lots = lotOf.getOrDefault(kind, Map.of());
    String known = lots.get(serial);
    if (known != null) {
      return contradicts(kind, lot, known)
          ? unclear(
              "\"%s\" is of lot %s in study.yaml, and of lot %s here; correct the lot,"
                  + " or the serial",
              serial, known, lot)
          : Result.of(serial);
    }
    if (!perLot.getOrDefault(kind, false) || serial.isEmpty()) {
      return Result.of(serial);
    }
    if (!lot.isEmpty()) {
      return Result.of(ofNoLot.contains(serial) ? serial : of(lot, serial));
    }
    List<String> candidates = candidates(serial, lots.keySet().stream());
    boolean several = candidates.size() + (ofNoLot.contains(serial) ? 1 : 0) > 1;
    if (several) {
      return unclear(
          "\"%s\" can be %s; add a column \"%s lot\" that names the lot, or write %s",
          serial, String.join(" or ", candidates), kind.key(), candidates.get(0));
    }
    return Result.of(candidates.isEmpty() ? serial : candidates.get(0));
  }

  /** Units of whose serials a spreadsheet would have made this number. */
  public List<String> behindNumber(UnitKind kind, String lot, String shown) {
    Optional<BigDecimal> seen = UnitsOfMeasure.number(shown.replace(',', '.'));
    if (seen.isEmpty()) {
      return List.of();
    }
    // it holds 15 digits, and shows as many of them as stand before a power of ten
    boolean shortened = shown.matches(".*[eE].*");
    MathContext kept = new MathContext(shortened ? seen.get().precision() : 15);
    Map<String, String> lots = lotOf.getOrDefault(kind, Map.of());
    return study.serials(kind).stream()
        .filter(name -> lot.isEmpty() || lots.getOrDefault(name, lot).equals(lot))
        .filter(
            name ->
                UnitsOfMeasure.number(name.substring(name.lastIndexOf(BETWEEN) + 1))
                    .filter(held -> held.round(kept).compareTo(seen.get()) == 0)
                    .isPresent())
        .toList();
  }

  private static Result<String> unclear(String why, Object... values) {
    return Result.refused(DataIssue.Code.AMBIGUOUS, "", DataIssue.say(why, values));
  }

  /**
   * The name of a unit of a later lot.
   *
   * @param startsAgain whether serials start again there even if those of the study do not
   */
  public String inLaterLot(UnitKind kind, String lot, String serial, boolean startsAgain) {
    boolean named = serial.startsWith(lot + BETWEEN) || ofNoLot.contains(serial);
    return !named && (startsAgain || perLot.getOrDefault(kind, false)) ? of(lot, serial) : serial;
  }

  private boolean contradicts(UnitKind kind, String lot, String known) {
    return !lot.isEmpty()
        && !lot.equals(known)
        && study.units().lots(kind).stream().anyMatch(other -> other.name().equals(lot));
  }
}
