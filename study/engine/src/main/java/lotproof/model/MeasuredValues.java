package lotproof.model;

import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Values of one characteristic with the units and lots that each was measured on.
 *
 * @param unit unit of measure; empty when it is not known
 * @param values one value for each run, finite
 * @param labels for each role that is known the label of each value (serial or lot name); a list is
 *     as long as the values
 * @param influences what else moves the values and is to be taken out; mostly nothing
 */
public record MeasuredValues(
    String key,
    String title,
    String unit,
    List<Double> values,
    Map<Role, List<String>> labels,
    List<KnownInfluence> influences) {
  public MeasuredValues {
    values = List.copyOf(values);
    for (double value : values) {
      if (!Double.isFinite(value)) {
        throw new IllegalArgumentException(key + " must be finite, was " + value);
      }
    }
    EnumMap<Role, List<String>> ordered = new EnumMap<>(Role.class);
    for (Map.Entry<Role, List<String>> entry : labels.entrySet()) {
      if (entry.getValue().size() != values.size()) {
        throw new IllegalArgumentException(
            "labels of role "
                + entry.getKey().key()
                + " must be as many as the values ("
                + values.size()
                + "), were "
                + entry.getValue().size());
      }
      ordered.put(entry.getKey(), List.copyOf(entry.getValue()));
    }
    labels = Collections.unmodifiableMap(ordered);
    influences = List.copyOf(influences);
    for (KnownInfluence influence : influences) {
      int known =
          influence instanceof KnownInfluence.Covariate covariate
              ? covariate.values().size()
              : influence instanceof KnownInfluence.Block block
                  ? block.labels().size()
                  : values.size();
      if (known != values.size()) {
        throw new IllegalArgumentException(
            influence.name() + " must be known for " + values.size() + " values, was for " + known);
      }
    }
  }

  /** Values of which nothing is known but their units and lots. */
  public MeasuredValues(
      String key, String title, String unit, List<Double> values, Map<Role, List<String>> labels) {
    this(key, title, unit, values, labels, List.of());
  }

  /** Other values of the same runs. */
  public MeasuredValues withValues(double[] others) {
    List<Double> boxed = Arrays.stream(others).boxed().toList();
    return new MeasuredValues(key, title, unit, boxed, labels, influences);
  }

  /** The values of some of the runs, by index, with all that is known of them. */
  public MeasuredValues select(List<Integer> kept) {
    Map<Role, List<String>> some = new EnumMap<>(Role.class);
    labels.forEach((role, all) -> some.put(role, kept.stream().map(all::get).toList()));
    return new MeasuredValues(
        key,
        title,
        unit,
        kept.stream().map(values::get).toList(),
        some,
        influences.stream().map(influence -> influence.select(kept)).toList());
  }

  /** The same values, of which these roles are not known. */
  public MeasuredValues without(Set<Role> roles) {
    Map<Role, List<String>> others = new EnumMap<>(Role.class);
    others.putAll(labels);
    others.keySet().removeAll(roles);
    return new MeasuredValues(key, title, unit, values, others, influences);
  }

  /** The same values; if all cells met one board, or all boards one cell, that one not known. */
  public MeasuredValues withoutSharedPartner() {
    boolean manyCells = levels(Role.CELL) > 1;
    boolean manyBoards = levels(Role.BOARD) > 1;
    return manyCells == manyBoards ? this : without(manyCells ? Role.OF_BOARDS : Role.OF_CELLS);
  }

  /** The same values, from which nothing is to be taken out. */
  public MeasuredValues withoutInfluences() {
    return new MeasuredValues(key, title, unit, values, labels);
  }

  /** Labels of one role, if it is known. */
  public Optional<List<String>> labelsOf(Role role) {
    return Optional.ofNullable(labels.get(role));
  }

  /** Number of different labels of a role; 0 when it is not known. */
  public int levels(Role role) {
    return labelsOf(role).map(l -> (int) l.stream().distinct().count()).orElse(0);
  }

  /** The values as an array of its own. */
  public double[] array() {
    return values.stream().mapToDouble(Double::doubleValue).toArray();
  }
}
