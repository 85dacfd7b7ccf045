package lotproof.gather.layout;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLGenerator;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.regex.Pattern;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** A mapping as text: YAML with the keys format, file, columns and values. */
public final class MappingFile {
  private static final String FORMAT = "lotproof-mapping-1";
  private static final List<String> KEYS = List.of("format", "file", "columns", "values");

  /** Names that cannot leave the folder of mappings. */
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9_-]{0,59}");

  private static final YAMLMapper YAML =
      new YAMLMapper(
          YAMLFactory.builder()
              .enable(com.fasterxml.jackson.core.StreamReadFeature.STRICT_DUPLICATE_DETECTION)
              .disable(YAMLGenerator.Feature.WRITE_DOC_START_MARKER)
              .build());

  private final String place;
  private final List<DataIssue> issues = new ArrayList<>();
  private Mapping mapping = Mapping.none();

  private MappingFile(String place) {
    this.place = place;
  }

  /** Whether a mapping may be called so. */
  public static boolean isName(String name) {
    return NAME.matcher(name).matches();
  }

  /** The mapping as text. */
  public static String write(Mapping mapping) {
    ObjectNode root = YAML.createObjectNode().put("format", FORMAT);
    mapping.settings().forEach((key, value) -> root.withObject("/file").put(key.key(), value));
    mapping.columns().forEach((header, is) -> root.withObject("/columns").put(header, is));
    mapping.values().forEach((key, value) -> root.withObject("/values").put(key.word(), value));
    try {
      return YAML.writeValueAsString(root);
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("texts can always be written", e);
    }
  }

  /** Reads a mapping; unknown keys and impossible values are issues. */
  public static Result<Mapping> read(String place, byte[] text) {
    MappingFile file = new MappingFile(place);
    try {
      JsonNode root = YAML.readTree(text);
      if (root != null && root.isObject()) {
        file.take(root);
      } else {
        file.issue(0, "", "a mapping has the keys " + String.join(", ", KEYS));
      }
    } catch (JsonProcessingException e) {
      int line = e.getLocation() == null ? 0 : Math.max(0, e.getLocation().getLineNr());
      String why = e.getOriginalMessage().lines().findFirst().orElse("");
      file.issue(line, "", "not readable as YAML: " + why.replaceAll("\\p{Cntrl}", ""));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
    return Result.of(file.mapping, file.issues);
  }

  private void take(JsonNode root) {
    root.fieldNames().forEachRemaining(key -> known(key, KEYS, "key", "the keys are"));
    if (!root.path("format").asText().equals(FORMAT)) {
      issue(0, "format", "the format must be " + FORMAT);
    }
    List<String> settings = Arrays.stream(Setting.values()).map(Setting::key).toList();
    forEach(
        root,
        "file",
        (key, value) -> {
          if (known(key, settings, "key here", "the keys are")) {
            Setting setting = Setting.ofKey(key).orElseThrow();
            setting.whyNot(value).ifPresent(why -> issue(0, key, why));
            mapping = mapping.with(setting, value);
          }
        });
    forEach(
        root,
        "columns",
        (header, meaning) -> {
          whyNotMeaning(meaning).ifPresent(why -> issue(0, header, why));
          mapping = mapping.withColumn(header, meaning);
        });
    List<String> columns = Arrays.stream(ReadingColumn.values()).map(ReadingColumn::word).toList();
    forEach(
        root,
        "values",
        (column, value) -> {
          if (known(column, columns, "column", "the columns are")) {
            mapping = mapping.withValue(ReadingColumn.ofWord(column).orElseThrow(), value);
          }
        });
  }

  /** Hands over the texts below a key by their names. */
  private void forEach(JsonNode root, String key, BiConsumer<String, String> taker) {
    JsonNode node = root.path(key);
    if (!node.isObject() && !node.isMissingNode()) {
      issue(0, key, key + " must have names with values below it");
    }
    for (Map.Entry<String, JsonNode> field : node.properties()) {
      if (field.getValue().isValueNode() && !field.getValue().isNull()) {
        taker.accept(field.getKey(), field.getValue().asText());
      } else {
        issue(0, field.getKey(), "the value must be a text");
      }
    }
  }

  private boolean known(String word, List<String> known, String what, String all) {
    if (!known.contains(word)) {
      String hint = Nearest.hint(word, known, all);
      issue(0, word, "\"%s\" is no %s; %s".formatted(word, what, hint));
    }
    return known.contains(word);
  }

  /** Why a column cannot mean this; nothing when it can. */
  public static Optional<String> whyNotMeaning(String meaning) {
    if (meaning.equals(Mapping.IGNORE)
        || !(HeaderCell.of(meaning, Mapping.none()) instanceof HeaderCell.Unknown)) {
      return Optional.empty();
    }
    String hint =
        Nearest.to(meaning, List.of(Mapping.IGNORE))
            .map(near -> "did you mean \"" + near + "\"?")
            .orElseGet(
                () -> ColumnSynonyms.hint(meaning) + " (" + Mapping.IGNORE + " leaves it out)");
    return Optional.of("\"" + meaning + "\" is no column; " + hint);
  }

  private void issue(int line, String key, String message) {
    issues.add(DataIssue.error(Code.MAPPING_INVALID, place, line, key, "", message));
  }
}
