package lotproof.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.layout.MappingFile;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Options that say how files are to be understood. */
final class MappingOptions {
  @Option(
      names = "--mapping",
      paramLabel = "NAME",
      description = "use what was saved under this name in the study folder")
  private @Nullable String name;

  @Option(
      names = "--save-mapping",
      paramLabel = "NAME",
      description = "save all that was told and answered under this name")
  private @Nullable String saveAs;

  @Option(
      names = "--column",
      paramLabel = "HEADER=MEANING",
      description = "what a column is, such as \"Last=load [kg]\", or ignore")
  private Map<String, String> columns = Map.of();

  @Option(
      names = "--value",
      paramLabel = "COLUMN=VALUE",
      description = "a value that all readings of the file have, such as session=S1")
  private Map<String, String> values = Map.of();

  @Option(names = "--separator", paramLabel = "MARK", description = "comma, semicolon, tab or bar")
  private @Nullable String separator;

  @Option(names = "--decimal", paramLabel = "MARK", description = "point or comma")
  private @Nullable String decimal;

  @Option(
      names = "--grouping",
      paramLabel = "MARK",
      description = "mark between thousands: none, point, comma, space or apostrophe")
  private @Nullable String grouping;

  @Option(names = "--dates", paramLabel = "ORDER", description = "day-first or month-first")
  private @Nullable String dates;

  @Option(names = "--encoding", paramLabel = "PAGE", description = "code page of a text file")
  private @Nullable String encoding;

  @Option(names = "--sheet", paramLabel = "NAME", description = "sheet of a workbook")
  private @Nullable String sheet;

  @Option(
      names = "--header-row",
      paramLabel = "N",
      description = "row that names the columns of the table that is meant, counted from 1")
  private @Nullable Integer headerRow;

  @Option(
      names = "--hidden",
      paramLabel = "HOW",
      description = "take or leave hidden rows, columns and cells")
  private @Nullable String hidden;

  @Option(
      names = "--struck",
      paramLabel = "HOW",
      description = "take or leave readings with a value that is struck through")
  private @Nullable String struck;

  @Option(
      names = "--output-unit",
      paramLabel = "UNIT",
      description = "unit of outputs that stand without one: counts or mV/V")
  private @Nullable String outputUnit;

  @Option(
      names = "--sign",
      paramLabel = "HOW",
      description = "as-written, or reversed to turn the sign of all outputs")
  private @Nullable String sign;

  /** The mapping that was named, with what the options say on top of it. */
  Mapping mapping(StudyFolder folder) {
    Mapping mapping = saved(folder);
    mapping = with(mapping, Setting.SEPARATOR, separator);
    mapping = with(mapping, Setting.DECIMAL, decimal);
    mapping = with(mapping, Setting.GROUPING, grouping);
    mapping = with(mapping, Setting.DATES, dates);
    mapping = with(mapping, Setting.ENCODING, encoding);
    mapping = with(mapping, Setting.SHEET, sheet);
    mapping =
        with(mapping, Setting.HEADER_ROW, headerRow == null ? null : String.valueOf(headerRow));
    mapping = with(mapping, Setting.HIDDEN, hidden);
    mapping = with(mapping, Setting.STRUCK, struck);
    mapping = with(mapping, Setting.OUTPUT_UNIT, outputUnit);
    mapping = with(mapping, Setting.SIGN, sign);
    for (Map.Entry<String, String> column : columns.entrySet()) {
      Optional<String> why = MappingFile.whyNotMeaning(column.getValue());
      if (why.isPresent()) {
        throw new UnusableException("--column " + column.getKey() + ": " + why.get());
      }
      mapping = mapping.withColumn(column.getKey(), column.getValue());
    }
    for (Map.Entry<String, String> value : values.entrySet()) {
      mapping = mapping.withValue(column(value.getKey()), value.getValue());
    }
    return mapping;
  }

  private static ReadingColumn column(String word) {
    List<String> words =
        java.util.Arrays.stream(ReadingColumn.values()).map(ReadingColumn::word).toList();
    return ReadingColumn.ofWord(word)
        .orElseThrow(
            () ->
                new UnusableException(
                    "--value: \""
                        + word
                        + "\" is no column; "
                        + Nearest.hint(word, words, "the columns are")));
  }

  /** A mapping with one setting more; ends the command when it cannot have this value. */
  static Mapping with(Mapping mapping, Setting setting, @Nullable String value) {
    if (value == null) {
      return mapping;
    }
    Optional<String> why = MappingFile.whyNot(setting, value);
    if (why.isPresent()) {
      throw new UnusableException("--" + setting.key() + ": " + why.get());
    }
    return mapping.with(setting, value);
  }

  private Mapping saved(StudyFolder folder) {
    if (name == null) {
      return Mapping.none();
    }
    checkName(name);
    String place = StudyFolder.MAPPINGS + "/" + name + ".yaml";
    try {
      byte[] text =
          folder
              .mapping(name)
              .orElseThrow(() -> new UnusableException("there is no mapping " + place));
      MappingFile.Outcome outcome = MappingFile.read(place, text);
      if (outcome instanceof MappingFile.Outcome.Refused refused) {
        throw new UnusableException(refused.issues());
      }
      return ((MappingFile.Outcome.Read) outcome).mapping();
    } catch (IOException e) {
      throw new UncheckedIOException("the mapping " + place + " cannot be read", e);
    }
  }

  /** Fails early when the mapping could not be saved later. */
  void check() {
    if (saveAs != null) {
      checkName(saveAs);
    }
  }

  private static void checkName(String name) {
    if (!MappingFile.isName(name)) {
      throw new UnusableException(
          "a mapping's name has letters, digits, - and _ only, at most 60 of them");
    }
  }

  /** Saves a mapping if that was asked for; says where. */
  Optional<String> save(StudyFolder folder, Mapping mapping) {
    if (saveAs == null) {
      return Optional.empty();
    }
    if (mapping.isEmpty()) {
      return Optional.of("no mapping was saved: the file needs none");
    }
    var issues = folder.saveMapping(saveAs, MappingFile.write(mapping));
    if (!issues.isEmpty()) {
      throw new UnusableException(issues);
    }
    return Optional.of(
        "mapping saved as "
            + StudyFolder.MAPPINGS
            + "/"
            + saveAs
            + ".yaml; use it with --mapping "
            + saveAs);
  }
}
