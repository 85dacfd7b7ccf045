package lotproof.report.model;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Verdict.Answer;

/**
 * A calibration level: its row on the first screen, what that shows once the level is chosen, and
 * the evidence behind its figure.
 *
 * @param id plain id
 * @param name the level, such as: One-point
 * @param buyer what the buyer does, such as: tared, set at 20 kg (M1)
 * @param leading whether it is chosen before anyone chooses
 * @param row its figures in print
 * @param trial what any wanted figure is judged by; absent without a figure
 * @param charts the chart that decides, and how the figure adds up; empty where nothing is known
 * @param risks what could make it wrong, gravest first
 * @param sentence the claim with its content, confidence and conditions, ready to be quoted;
 *     without a figure the reason
 * @param product words for a product page: a line and its footnote; empty without a figure
 * @param evidence what stands behind the figure
 */
public record Level(
    String id,
    String name,
    String buyer,
    boolean leading,
    Row row,
    Optional<Trial> trial,
    List<Chart> charts,
    List<Risk> risks,
    String sentence,
    List<String> product,
    List<Section> evidence) {
  public Level {
    Check.id(id, "level id");
    Check.text(name, "level name");
    charts = List.copyOf(charts);
    risks = List.copyOf(risks);
    product = List.copyOf(product);
    evidence = List.copyOf(evidence);
  }

  /**
   * Figures in print.
   *
   * @param wanted the wanted figure; empty where none is
   * @param answer whether it is supported; absent where none is wanted
   * @param usedFraction share of the wanted figure that the limit takes
   * @param excludedIn the printable figure with excluded units put back
   * @param restsOnExclusions whether they would take most of the margin
   */
  public record Row(
      String wanted,
      Optional<Answer> answer,
      String printable,
      OptionalDouble usedFraction,
      String excludedIn,
      boolean restsOnExclusions) {}

  /**
   * What any wanted figure is judged by.
   *
   * @param wantedGrams the figure that is wanted
   * @param limitGrams the smallest figure that is supported, before rounding
   * @param signs of the limits that a figure sets, where they are the same at all loads
   * @param confidence how sure the model is of a figure: grams and confidence in 0..1, ascending
   * @param grid the limit for other contents and confidences
   */
  public record Trial(
      OptionalDouble wantedGrams,
      double limitGrams,
      List<Integer> signs,
      List<Point> confidence,
      Grid grid) {
    public Trial {
      signs = List.copyOf(signs);
      confidence = List.copyOf(confidence);
    }
  }

  /**
   * Limits for contents and confidences that someone may ask instead.
   *
   * @param content the one that is asked, in 0..1
   * @param confidence the one that is asked, in 0..1
   * @param stepGrams the step of printable figures
   */
  public record Grid(double content, double confidence, double stepGrams, List<GridLimit> limits) {
    public Grid {
      limits = List.copyOf(limits);
    }
  }

  /** The limit for a content and a confidence, both in 0..1; absent where there is no figure. */
  public record GridLimit(double content, double confidence, OptionalDouble limitGrams) {}

  /** What could make a figure wrong: in a few words, and what is known of it. */
  public record Risk(String lead, Prose more) {
    /** Both together. */
    public Prose prose() {
      return Prose.text(lead + " " + more.text()).restingOn(more.evidence());
    }
  }

  /** All blocks in reading order. */
  Stream<Block> blocks() {
    return Stream.concat(
        charts.stream(), evidence.stream().flatMap(section -> section.blocks().stream()));
  }
}
