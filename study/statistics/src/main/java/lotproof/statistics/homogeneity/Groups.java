package lotproof.statistics.homogeneity;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Checks;

/** Checks of grouped values. */
public final class Groups {
  private Groups() {}

  static List<double[]> checked(List<double[]> groups) {
    Checks.atLeast(groups.size(), 2, "number of groups");
    List<double[]> copies = new ArrayList<>();
    for (int i = 0; i < groups.size(); i++) {
      copies.add(Checks.sample(groups.get(i), 2, "group " + (i + 1)));
    }
    return copies;
  }
}
