package lotproof.report.model;

import java.util.List;
import java.util.Optional;

/**
 * Why a number is what it is, from the claim down to the file and row.
 *
 * @param treeId plain id, unique in the report
 * @param title what is explained
 * @param root the number itself
 */
public record ExplanationTree(String treeId, String title, Node root) implements Block {
  public ExplanationTree {
    Check.id(treeId, "explanation id");
    Check.text(title, "explanation title");
  }

  @Override
  public Optional<String> id() {
    return Optional.of(treeId);
  }

  /**
   * One step of the explanation.
   *
   * @param label what it is
   * @param value its value, if it has one
   * @param how how it was computed, or what it is; may be empty
   * @param place where it was read, for a number that was read
   * @param children what it was computed from
   */
  public record Node(
      String label,
      Optional<Quantity> value,
      String how,
      Optional<Place> place,
      List<Node> children) {
    public Node {
      Check.text(label, "label");
      children = List.copyOf(children);
    }

    /** A number computed from others. */
    public static Node computed(String label, Quantity value, String how, List<Node> children) {
      return new Node(label, Optional.of(value), how, Optional.empty(), children);
    }

    /** A number that was read. */
    public static Node read(String label, Quantity value, Place place) {
      return new Node(label, Optional.of(value), "", Optional.of(place), List.of());
    }

    /** A choice, setting or heading. */
    public static Node stated(String label, String how, List<Node> children) {
      return new Node(label, Optional.empty(), how, Optional.empty(), children);
    }
  }

  /**
   * Where a number came from.
   *
   * @param file name of the file
   * @param row line or sheet row, counted from 1
   */
  public record Place(String file, int row) {
    public Place {
      Check.text(file, "file");
      if (row < 1) {
        throw new IllegalArgumentException("row is counted from 1, was " + row);
      }
    }
  }
}
