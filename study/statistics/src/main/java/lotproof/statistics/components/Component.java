package lotproof.statistics.components;

/**
 * A source of random variation in a model: a kind of unit, lot or pair, or the residual.
 *
 * @param name for people and messages, not blank
 */
public record Component(String name) {
  /** What every model has: the variation from one reading to the next. */
  public static final Component RESIDUAL = new Component("residual");

  public Component {
    if (name.isBlank()) {
      throw new IllegalArgumentException("name of a component must not be blank");
    }
  }

  @Override
  public String toString() {
    return name;
  }
}
