package lotproof.app.cli;

import java.util.Collection;
import java.util.Collections;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureSettings;
import lotproof.gather.layout.MappingFile;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** One option for each setting of a mapping, named and described as the setting is. */
public final class SettingOptions {
  private static final Map<String, String> MARKS =
      Map.of(",", "comma", ";", "semicolon", "\t", "tab", " ", "space");

  /** What a file with a table of any kind may leave open about itself. */
  public static final Set<Setting> OF_TABLE =
      Collections.unmodifiableSet(
          EnumSet.of(
              Setting.ENCODING,
              Setting.SEPARATOR,
              Setting.DECIMAL,
              Setting.GROUPING,
              Setting.SHEET,
              Setting.HEADER_ROW,
              Setting.HIDDEN,
              Setting.STRUCK));

  private final Map<Setting, OptionSpec> options = new EnumMap<>(Setting.class);

  public SettingOptions(Set<Setting> settings) {
    for (Setting setting : settings) {
      add(setting, setting.key());
    }
  }

  /** Gives the setting's option another name than the setting's. */
  public SettingOptions named(Setting setting, String name) {
    add(setting, name);
    return this;
  }

  private void add(Setting setting, String name) {
    String choices = setting.choices().isEmpty() ? "" : ": " + words(setting.choices());
    options.put(setting, text("--" + name, "VALUE", setting.words() + choices));
  }

  private static String words(List<String> choices) {
    int last = choices.size() - 1;
    return String.join(", ", choices.subList(0, last)) + " or " + choices.get(last);
  }

  /** An option with a text. */
  public static OptionSpec text(String name, String label, String description) {
    return OptionSpec.builder(name)
        .type(String.class)
        .paramLabel(label)
        .description(description)
        .build();
  }

  /** What was given for an option. */
  public static Optional<String> given(OptionSpec option) {
    return Optional.ofNullable((@Nullable String) option.getValue());
  }

  public Collection<OptionSpec> options() {
    return options.values();
  }

  /** Adds them to a command under a heading. */
  public void addTo(CommandSpec spec, String heading) {
    ArgGroupSpec.Builder group =
        ArgGroupSpec.builder().validate(false).heading("%n" + heading + ":%n");
    options().forEach(group::addArg);
    spec.addArgGroup(group.build());
  }

  /** Whether one of them was given. */
  public boolean given() {
    return options.values().stream().anyMatch(option -> given(option).isPresent());
  }

  /** The mapping with the settings that were given; one that cannot be ends the command. */
  public Mapping onto(Mapping base) {
    Mapping mapping = base;
    for (Map.Entry<Setting, OptionSpec> option : options.entrySet()) {
      Optional<String> given = given(option.getValue());
      if (given.isPresent()) {
        Setting setting = option.getKey();
        String value =
            setting == Setting.CAPTURE_SEPARATOR
                ? MARKS.getOrDefault(given.get(), given.get())
                : given.get();
        MappingFile.whyNot(setting, value)
            .ifPresent(
                why -> {
                  throw new UnusableException(option.getValue().longestName() + ": " + why);
                });
        mapping = mapping.with(setting, value);
      }
    }
    return mapping;
  }

  /** What a mapping says about captures. */
  public static CaptureFormat captureFormat(Mapping mapping) {
    return CliCommand.checked(() -> CaptureSettings.format(mapping));
  }
}
