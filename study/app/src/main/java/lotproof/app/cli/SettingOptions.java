package lotproof.app.cli;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.layout.MappingFile;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;

/** One option for each setting of a mapping, named and described as the setting is. */
public final class SettingOptions {
  private static final Map<String, String> MARKS =
      Map.of(",", "comma", ";", "semicolon", "\t", "tab", " ", "space");

  /** What a file with a table of any kind may leave open about itself. */
  private static final Set<Setting> OF_TABLE =
      EnumSet.of(
          Setting.ENCODING,
          Setting.SEPARATOR,
          Setting.DECIMAL,
          Setting.GROUPING,
          Setting.SHEET,
          Setting.HEADER_ROW,
          Setting.HIDDEN,
          Setting.STRUCK);

  private final Map<Setting, String> names = new EnumMap<>(Setting.class);
  private final TextOptions options = new TextOptions();

  private SettingOptions(Set<Setting> settings, Function<Setting, String> name) {
    for (Setting setting : settings) {
      String choices = setting.choices().isEmpty() ? "" : ": " + words(setting.choices());
      names.put(setting, "--" + name.apply(setting));
      options.add("--" + name.apply(setting), "VALUE", setting.words() + choices);
    }
  }

  /** Those of captures, under these names. */
  public static SettingOptions ofCaptures(Function<Setting, String> name) {
    return new SettingOptions(EnumSet.range(Setting.CAPTURE_SEPARATOR, Setting.CAPTURE_MARK), name);
  }

  /** Those of a table of any kind. */
  public static SettingOptions ofTables() {
    return new SettingOptions(OF_TABLE, Setting::key);
  }

  /** Those of a table of readings. */
  static SettingOptions ofReadings() {
    return new SettingOptions(EnumSet.range(Setting.ENCODING, Setting.SIGN), Setting::key);
  }

  private static String words(List<String> choices) {
    int last = choices.size() - 1;
    return String.join(", ", choices.subList(0, last)) + " or " + choices.get(last);
  }

  public TextOptions options() {
    return options;
  }

  /** Adds them to a command under a heading. */
  public void addTo(CommandSpec spec, String heading) {
    ArgGroupSpec.Builder group =
        ArgGroupSpec.builder().validate(false).heading("%n" + heading + ":%n");
    options.addTo(group);
    spec.addArgGroup(group.build());
  }

  /** The mapping with the settings that were given; one that cannot be ends the command. */
  public Mapping onto(Mapping base) {
    Mapping mapping = base;
    for (Map.Entry<Setting, String> name : names.entrySet()) {
      Optional<String> given = options.given(name.getValue());
      if (given.isPresent()) {
        Setting setting = name.getKey();
        boolean mark = setting == Setting.CAPTURE_SEPARATOR;
        String value = mark ? MARKS.getOrDefault(given.get(), given.get()) : given.get();
        Optional<String> why = MappingFile.whyNot(setting, value);
        if (why.isPresent()) {
          throw new UnusableException(name.getValue() + ": " + why.get());
        }
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
