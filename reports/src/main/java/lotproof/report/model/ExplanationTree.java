package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Why a number is what it is, from the claim down to the file and row.
 *
 * @param id plain id, unique in the report
 * @param title what is explained
 * @param root the number itself
 */
public record ExplanationTree(String id, String title, Node root) implements Block {
  public ExplanationTree {
    Check.id(id, "explanation id");
    Check.text(title, "explanation title");
  }

  /** A step and how many steps lead to it. */
  public record Step(Node node, int depth) {}

  /** All steps in reading order. */
  public List<Step> steps() {
    List<Step> steps = new ArrayList<>();
    add(root, 0, steps);
    return steps;
  }

  private static void add(Node node, int depth, List<Step> steps) {
    steps.add(new Step(node, depth));
    node.children().forEach(child -> add(child, depth + 1, steps));
  }

  /**
   * One step of the explanation.
   *
   * @param label what it is
   * @param value its value, if it has one
   * @param how how it was computed, or what it is; may be empty
   * @param place file and row, for a number that was read; else empty
   * @param children what it was computed from
   */
  public record Node(
      String label, Optional<Quantity> value, String how, String place, List<Node> children) {
    public Node {
      Check.text(label, "label");
      children = List.copyOf(children);
    }
  }
}
