package lotproof.app.cli;

import static lotproof.app.cli.CliCommand.refuse;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;

/** One option for each setting of a mapping, named and described as the setting is. */
public class SettingOptions extends TextOptions {
  /** What a table of any kind may leave open about itself. */
  public static final Set<Setting> OF_TABLES =
      EnumSet.of(
          Setting.ENCODING,
          Setting.SEPARATOR,
          Setting.DECIMAL,
          Setting.GROUPING,
          Setting.SHEET,
          Setting.HEADER_ROW,
          Setting.SKIP_ROWS,
          Setting.HIDDEN,
          Setting.STRUCK);

  private static final Map<String, String> MARKS =
      Map.of(",", "comma", ";", "semicolon", "\t", "tab", " ", "space");

  private final Map<Setting, String> names = new EnumMap<>(Setting.class);

  public SettingOptions(String heading) {
    super(heading);
  }

  /** Adds these settings under these names. */
  public final SettingOptions addSettings(Set<Setting> settings, Function<Setting, String> name) {
    for (Setting setting : settings) {
      String choices = setting.choices().isEmpty() ? "" : ": " + words(setting.choices());
      names.put(setting, "--" + name.apply(setting));
      add("--" + name.apply(setting), "VALUE", setting.words() + choices);
    }
    return this;
  }

  private static String words(List<String> choices) {
    int last = choices.size() - 1;
    return String.join(", ", choices.subList(0, last)) + " or " + choices.get(last);
  }

  /** Whether a setting was given. */
  public final boolean isAnyGiven() {
    return !given(names.values()).isEmpty();
  }

  /** The mapping with the settings that were given; one that cannot be ends the command. */
  public final Mapping onto(Mapping base) {
    Mapping mapping = base;
    for (Map.Entry<Setting, String> name : names.entrySet()) {
      Optional<String> given = given(name.getValue());
      if (given.isPresent()) {
        Setting setting = name.getKey();
        boolean mark = setting == Setting.CAPTURE_SEPARATOR;
        String value = mark ? MARKS.getOrDefault(given.get(), given.get()) : given.get();
        Optional<String> why = setting.whyNot(value);
        refuse(why.isPresent(), "%s: %s", name.getValue(), why.orElse(""));
        mapping = mapping.with(setting, value);
      }
    }
    return mapping;
  }

  /** What a mapping says about captures. */
  public static CaptureFormat captureFormat(Mapping mapping) {
    return CliCommand.checked(() -> CaptureFormat.of(mapping));
  }
}
