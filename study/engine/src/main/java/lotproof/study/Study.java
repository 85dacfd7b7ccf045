package lotproof.study;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The definition of a study, checked and in one system of units.
 *
 * @param title short name, shown on every output
 * @param question what the maker wants to know, in words
 * @param seed seed of everything random in this study
 * @param kit what a buyer gets
 * @param cellLots lots of cells, in study order
 * @param boardLots lots of boards, in study order
 * @param checkStandard the pair that watches the bench, if there is one
 * @param design how the study was laid out
 * @param referenceLine line that non-linearity and sensitivity refer to
 * @param limits specification limits by characteristic
 * @param causes causes for which a unit or run may be excluded, agreed before the first reading
 * @param claim what the study is asked to support
 * @param conditions under which conditions the figure holds
 * @param influences what beside the units is taken out of the spread
 */
public record Study(
    String title,
    String question,
    long seed,
    Kit kit,
    List<Lot> cellLots,
    List<Lot> boardLots,
    Optional<CheckStandard> checkStandard,
    Design design,
    ReferenceLine referenceLine,
    Map<Characteristic, Limits> limits,
    List<String> causes,
    ClaimRequest claim,
    Conditions conditions,
    BenchInfluences influences) {
  /** A study that takes nothing out of the spread. */
  public Study(
      String title,
      String question,
      long seed,
      Kit kit,
      List<Lot> cellLots,
      List<Lot> boardLots,
      Optional<CheckStandard> checkStandard,
      Design design,
      ReferenceLine referenceLine,
      Map<Characteristic, Limits> limits,
      List<String> causes,
      ClaimRequest claim,
      Conditions conditions) {
    this(
        title,
        question,
        seed,
        kit,
        cellLots,
        boardLots,
        checkStandard,
        design,
        referenceLine,
        limits,
        causes,
        claim,
        conditions,
        BenchInfluences.NONE);
  }

  public Study {
    Require.text(title, "title");
    cellLots = List.copyOf(cellLots);
    boardLots = List.copyOf(boardLots);
    Require.distinct(
        Stream.concat(cellLots.stream(), boardLots.stream())
            .flatMap(l -> l.serials().stream())
            .toList(),
        "serials");
    EnumMap<Characteristic, Limits> ordered = new EnumMap<>(Characteristic.class);
    ordered.putAll(limits);
    limits = java.util.Collections.unmodifiableMap(ordered);
    causes = List.copyOf(causes);
  }

  /** The same study, asked for something else. */
  public Study withClaim(ClaimRequest other) {
    return new Study(
        title,
        question,
        seed,
        kit,
        cellLots,
        boardLots,
        checkStandard,
        design,
        referenceLine,
        limits,
        causes,
        other,
        conditions,
        influences);
  }

  /** The same study, laid out otherwise. */
  public Study withDesign(Design other) {
    return new Study(
        title,
        question,
        seed,
        kit,
        cellLots,
        boardLots,
        checkStandard,
        other,
        referenceLine,
        limits,
        causes,
        claim,
        conditions,
        influences);
  }

  /** Whether a run with these units is one of the check standard: one of its units is enough. */
  public boolean isCheckStandard(String cell, String board) {
    return checkStandard
        .map(check -> check.cell().equals(cell) || check.board().equals(board))
        .orElse(false);
  }

  /** The same study with other lots. */
  public Study withLots(List<Lot> cells, List<Lot> boards) {
    return new Study(
        title,
        question,
        seed,
        kit,
        cells,
        boards,
        checkStandard,
        design,
        referenceLine,
        limits,
        causes,
        claim,
        conditions,
        influences);
  }

  /** Lots of one kind. */
  public List<Lot> lots(UnitKind kind) {
    return kind == UnitKind.CELL ? cellLots : boardLots;
  }

  /** Name of the lot by serial, for all units of one kind. */
  public Map<String, String> lotBySerial(UnitKind kind) {
    Map<String, String> lotOf = new HashMap<>();
    for (Lot lot : lots(kind)) {
      lot.serials().forEach(serial -> lotOf.put(serial, lot.name()));
    }
    return lotOf;
  }

  /**
   * The pair that is measured again and again to watch the bench. It belongs to no lot and enters
   * no figure.
   *
   * @param cell serial of the check cell
   * @param board serial of the check board
   */
  public record CheckStandard(String cell, String board) {}

  /** The straight line that non-linearity refers to. */
  public enum ReferenceLine {
    TERMINAL("terminal", "terminal line, through zero and the largest load"),
    LEAST_SQUARES("least-squares", "best-fit line by least squares through the rising readings");

    private final String key;
    private final String description;

    ReferenceLine(String key, String description) {
      this.key = key;
      this.description = description;
    }

    /** The name used in study.yaml. */
    public String key() {
      return key;
    }

    /** The line in words, for reports. */
    public String description() {
      return description;
    }
  }
}
