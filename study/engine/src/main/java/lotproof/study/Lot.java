package lotproof.study;

import java.util.List;

/**
 * Units that were made together.
 *
 * @param serials the serials of its units in the study, each once
 */
public record Lot(UnitKind kind, String name, List<String> serials) {
  public Lot {
    Require.text(name, "lot name");
    serials = Require.distinct(serials, "serials of lot " + name);
  }
}
