package lotproof.statistics.homogeneity;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Checks;

/** Checks and cuts of grouped values. */
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

  /**
   * Cuts a sequence into consecutive blocks whose sizes differ by at most one, the shorter blocks
   * first. The rule matters: another one gives another value of every test on the blocks.
   */
  public static List<double[]> blocks(double[] sequence, int count) {
    Checks.atLeast(count, 1, "count");
    Checks.sample(sequence, count, "sequence");
    List<double[]> blocks = new ArrayList<>();
    int from = 0;
    for (int i = 1; i <= count; i++) {
      int to = (int) ((long) sequence.length * i / count);
      double[] block = new double[to - from];
      System.arraycopy(sequence, from, block, 0, block.length);
      blocks.add(block);
      from = to;
    }
    return blocks;
  }
}
