package lotproof.model;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tech.tablesaw.api.DoubleColumn;

/** Values by the labels beside them. */
public final class GroupedValues {
  private GroupedValues() {}

  /**
   * A column of values for each label, which knows its mean, spread and extremes; in the order in
   * which the labels appear, so that sums are the same to the last digit on every Java machine.
   */
  public static <K> Map<K, DoubleColumn> of(List<K> labels, double[] values) {
    Map<K, DoubleColumn> groups = new LinkedHashMap<>();
    for (int i = 0; i < labels.size(); i++) {
      groups
          .computeIfAbsent(labels.get(i), label -> DoubleColumn.create(label.toString()))
          .append(values[i]);
    }
    return groups;
  }
}
