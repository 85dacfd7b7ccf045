package lotproof.app.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** Options made from a list, whose values are texts; a command asks for them by name. */
public final class TextOptions {
  private final Map<String, OptionSpec> options = new LinkedHashMap<>();

  /** One more option, such as {@code --who}. */
  public TextOptions add(String name, String label, String description) {
    options.put(
        name,
        OptionSpec.builder(name)
            .type(String.class)
            .paramLabel(label)
            .description(description)
            .build());
    return this;
  }

  public void addTo(CommandSpec spec) {
    options.values().forEach(spec::addOption);
  }

  public void addTo(ArgGroupSpec.Builder group) {
    options.values().forEach(group::addArg);
  }

  /** What was given for an option. */
  public Optional<String> given(String name) {
    return Optional.ofNullable(
        (@Nullable String) Objects.requireNonNull(options.get(name)).getValue());
  }

  /** The options that were given. */
  public List<String> given() {
    return options.keySet().stream().filter(name -> given(name).isPresent()).toList();
  }

  /** What was given for an option that this call needs. */
  public String needed(String name, String what) {
    return CliCommand.needed(given(name).orElse(null), name, what);
  }
}
