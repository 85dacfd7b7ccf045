package lotproof.app.cli;

import static lotproof.app.cli.CliCommand.refuse;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.MappingFile;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import picocli.CommandLine.Model.OptionSpec;

/** Options that say how files of readings are to be understood. */
public final class MappingOptions extends SettingOptions {
  private static final String NAME = "--mapping";
  private static final String SAVE = "--save-mapping";
  private static final String COLUMN = "--column";
  private static final String VALUE = "--value";

  public MappingOptions(String heading) {
    super(heading);
    add(NAME, "NAME");
    add(SAVE, "NAME");
    addMap(COLUMN, "HEADER=MEANING");
    addMap(VALUE, "COLUMN=VALUE");
    addSettings(EnumSet.range(Setting.ENCODING, Setting.SIGN), Setting::key);
  }

  private void addMap(String option, String label) {
    add(
        OptionSpec.builder(option)
            .type(Map.class)
            .auxiliaryTypes(String.class, String.class)
            .paramLabel(label));
  }

  /** The mapping that was named, with what the options say on top of it. */
  public Mapping mapping(StudyFolder folder) {
    Mapping mapping = onto(saved(folder));
    for (Map.Entry<String, String> column : pairs(COLUMN).entrySet()) {
      Optional<String> why = MappingFile.whyNotMeaning(column.getValue());
      refuse(why.isPresent(), "--column %s: %s", column.getKey(), why.orElse(""));
      mapping = mapping.withColumn(column.getKey(), column.getValue());
    }
    for (Map.Entry<String, String> value : pairs(VALUE).entrySet()) {
      mapping = mapping.withValue(column(value.getKey()), value.getValue());
    }
    return mapping;
  }

  private Map<String, String> pairs(String option) {
    return this.<Map<String, String>>value(option).orElse(Map.of());
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
    Optional<String> given = given(NAME);
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
    refuse(
        !MappingFile.isName(name),
        "a mapping's name has letters, digits, - and _ only, at most 60 of them");
    return StudyFolder.MAPPINGS + "/" + name + ".yaml";
  }

  /** Fails early when the mapping could not be saved later. */
  public void check() {
    given(SAVE).ifPresent(MappingOptions::place);
  }

  /** Saves a mapping if that was asked for; says where. */
  public Optional<String> save(StudyFolder folder, Mapping mapping) {
    Optional<String> as = given(SAVE);
    if (as.isEmpty() || mapping.isEmpty()) {
      return as.map(it -> "no mapping was saved: the file needs none");
    }
    UnusableException.refuse(folder.saveMapping(as.get(), MappingFile.write(mapping)));
    return Optional.of(
        "mapping saved as " + place(as.get()) + "; use it with --mapping " + as.get());
  }
}
