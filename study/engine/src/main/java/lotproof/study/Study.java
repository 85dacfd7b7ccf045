package lotproof.study;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lotproof.study.Characteristic.Limits;

/**
 * The definition of a study, checked and in one system of units.
 *
 * @param title short name, shown on every output
 * @param question what the maker wants to know, in words
 * @param seed seed of everything random in this study
 * @param referenceLine line that non-linearity and sensitivity refer to
 * @param limits specification limits by characteristic
 * @param causes causes for which a unit or run may be excluded, agreed before the first reading
 * @param influences what beside the units is taken out of the spread
 */
public record Study(
    String title,
    String question,
    long seed,
    Kit kit,
    Units units,
    Design design,
    ReferenceLine referenceLine,
    Map<Characteristic, Limits> limits,
    List<String> causes,
    ClaimRequest claim,
    Conditions conditions,
    BenchInfluences influences) {
  public Study {
    Require.text(title, "title");
    EnumMap<Characteristic, Limits> ordered = new EnumMap<>(Characteristic.class);
    ordered.putAll(limits);
    limits = Collections.unmodifiableMap(ordered);
    causes = List.copyOf(causes);
  }

  /** The same study with other units. */
  public Study withUnits(Units other) {
    return with(other, design, claim);
  }

  /** The same study, laid out otherwise. */
  public Study withDesign(Design other) {
    return with(units, other, claim);
  }

  /** The same study, asked for something else. */
  public Study withClaim(ClaimRequest other) {
    return with(units, design, other);
  }

  private Study with(Units otherUnits, Design otherDesign, ClaimRequest otherClaim) {
    return new Study(
        title,
        question,
        seed,
        kit,
        otherUnits,
        otherDesign,
        referenceLine,
        limits,
        causes,
        otherClaim,
        conditions,
        influences);
  }

  /** Serials of one kind, those of reference partners and of the check standard included. */
  public List<String> serials(UnitKind kind) {
    List<String> serials = new ArrayList<>(units.serials(kind));
    boolean cell = kind == UnitKind.CELL;
    design.reference().map(it -> cell ? it.cell() : it.board()).ifPresent(serials::add);
    units.checkStandard().map(it -> cell ? it.cell() : it.board()).ifPresent(serials::add);
    return serials;
  }

  /**
   * The pair that is measured again and again to watch the bench. It belongs to no lot and enters
   * no figure.
   */
  public record CheckStandard(String cell, String board) {}

  /** The straight line that non-linearity refers to. */
  public enum ReferenceLine implements Keyed {
    TERMINAL("terminal line, through zero and the largest load"),
    LEAST_SQUARES("best-fit line by least squares through the rising readings");

    private final String description;

    ReferenceLine(String description) {
      this.description = description;
    }

    /** The line in words, for reports. */
    public String description() {
      return description;
    }
  }
}
