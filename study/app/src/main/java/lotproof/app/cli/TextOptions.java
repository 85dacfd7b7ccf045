package lotproof.app.cli;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** Options made from a list; a command asks for their texts by name. */
public class TextOptions {
  private static final int BELOW_OTHERS = 100;

  private final String heading;
  private final Map<String, OptionSpec> options = new LinkedHashMap<>();

  /** Options that stand in help among the others of the command. */
  public TextOptions() {
    this("");
  }

  /** Options that stand in help under a heading of their own. */
  public TextOptions(String heading) {
    this.heading = heading;
  }

  /** One more option, such as {@code --who}, described where the help stands. */
  public final void add(String name, String label) {
    add(name, label, "");
  }

  /** One more option with its description. */
  public final void add(String name, String label, String description) {
    add(OptionSpec.builder(name).type(String.class).paramLabel(label).description(description));
  }

  /** One more option that stands alone. */
  public final void addFlag(String name) {
    add(OptionSpec.builder(name).type(boolean.class));
  }

  /** One more option of any kind. */
  public final void add(OptionSpec.Builder builder) {
    OptionSpec option = builder.build();
    options.put(option.longestName(), option);
  }

  final void addTo(CommandSpec spec) {
    if (heading.isEmpty()) {
      options.values().forEach(spec::addOption);
    } else {
      ArgGroupSpec.Builder group =
          ArgGroupSpec.builder()
              .validate(false)
              .order(BELOW_OTHERS)
              .heading("%n" + heading + ":%n");
      options.values().forEach(group::addArg);
      spec.addArgGroup(group.build());
    }
  }

  private OptionSpec option(String name) {
    return Objects.requireNonNull(options.get(name));
  }

  /** What the help says of an option. */
  protected final String description(String name) {
    return String.join(" ", option(name).description());
  }

  /** What was given for an option of any kind. */
  protected final <T> Optional<T> value(String name) {
    return Optional.ofNullable(option(name).getValue());
  }

  /** What was given for an option. */
  public final Optional<String> given(String name) {
    return value(name);
  }

  /** Whether an option that stands alone was given. */
  public final boolean isGiven(String name) {
    return this.<Boolean>value(name).orElse(false);
  }

  /** Which of these options were given. */
  public final List<String> given(Collection<String> names) {
    return names.stream().filter(name -> value(name).isPresent()).toList();
  }

  /** Which options were given. */
  public final List<String> given() {
    return given(options.keySet());
  }

  /** What was given for an option that this call needs. */
  public final String needed(String name, String what) {
    return CliCommand.needed(given(name).orElse(null), name, what);
  }
}
