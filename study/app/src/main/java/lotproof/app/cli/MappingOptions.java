package lotproof.app.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.MappingFile;
import lotproof.gather.tables.Mapping;
import lotproof.study.DataIssue;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** Options that say how files are to be understood. */
public final class MappingOptions {
  private static final String NAME = "--mapping";
  private static final String SAVE_AS = "--save-mapping";

  private final TextOptions names =
      new TextOptions()
          .add(NAME, "NAME", "use the settings saved under this name in the study folder")
          .add(SAVE_AS, "NAME", "save these settings and answers as NAME");
  private final OptionSpec columns =
      map("--column", "HEADER=MEANING", "what a column is, such as \"Last=load [kg]\", or ignore");
  private final OptionSpec values =
      map("--value", "COLUMN=VALUE", "a value of all readings of the file, such as session=S1");
  private final SettingOptions settings = SettingOptions.ofReadings();

  private static OptionSpec map(String option, String label, String description) {
    return OptionSpec.builder(option)
        .type(Map.class)
        .auxiliaryTypes(String.class, String.class)
        .paramLabel(label)
        .description(description)
        .build();
  }

  /** Adds them to a command under a heading. */
  public void addTo(CommandSpec spec, String heading) {
    ArgGroupSpec.Builder group =
        ArgGroupSpec.builder().validate(false).heading("%n" + heading + ":%n");
    names.addTo(group);
    group.addArg(columns).addArg(values);
    settings.options().addTo(group);
    spec.addArgGroup(group.build());
  }

  /** The mapping that was named, with what the options say on top of it. */
  public Mapping mapping(StudyFolder folder) {
    Mapping mapping = settings.onto(saved(folder));
    for (Map.Entry<String, String> column : given(columns).entrySet()) {
      Optional<String> why = MappingFile.whyNotMeaning(column.getValue());
      if (why.isPresent()) {
        throw new UnusableException("--column " + column.getKey() + ": " + why.get());
      }
      mapping = mapping.withColumn(column.getKey(), column.getValue());
    }
    for (Map.Entry<String, String> value : given(values).entrySet()) {
      mapping = mapping.withValue(column(value.getKey()), value.getValue());
    }
    return mapping;
  }

  private static Map<String, String> given(OptionSpec option) {
    Map<String, String> given = option.getValue();
    return given == null ? Map.of() : given;
  }

  private static ReadingColumn column(String word) {
    List<String> words = Arrays.stream(ReadingColumn.values()).map(ReadingColumn::word).toList();
    return ReadingColumn.ofWord(word)
        .orElseThrow(
            () ->
                new UnusableException(
                    "--value: \"%s\" is no column; %s",
                    word, Nearest.hint(word, words, "the columns are")));
  }

  private Mapping saved(StudyFolder folder) {
    Optional<String> given = names.given(NAME);
    if (given.isEmpty()) {
      return Mapping.none();
    }
    String place = place(given.get());
    try {
      byte[] text =
          folder
              .mapping(given.get())
              .orElseThrow(() -> new UnusableException("there is no mapping " + place));
      return UnusableException.needed(MappingFile.read(place, text));
    } catch (IOException e) {
      throw new UncheckedIOException("the mapping " + place + " cannot be read", e);
    }
  }

  /** Where a mapping of this name lies; ends the command when it cannot be a name. */
  private static String place(String name) {
    if (!MappingFile.isName(name)) {
      throw new UnusableException(
          "a mapping's name has letters, digits, - and _ only, at most 60 of them");
    }
    return StudyFolder.MAPPINGS + "/" + name + ".yaml";
  }

  /** Fails early when the mapping could not be saved later. */
  public void check() {
    names.given(SAVE_AS).ifPresent(MappingOptions::place);
  }

  /** Saves a mapping if that was asked for; says where. */
  public Optional<String> save(StudyFolder folder, Mapping mapping) {
    Optional<String> as = names.given(SAVE_AS);
    if (as.isEmpty() || mapping.isEmpty()) {
      return as.map(it -> "no mapping was saved: the file needs none");
    }
    List<DataIssue> issues = folder.saveMapping(as.get(), MappingFile.write(mapping));
    UnusableException.refuse(issues);
    return Optional.of(
        "mapping saved as " + place(as.get()) + "; use it with --mapping " + as.get());
  }
}
