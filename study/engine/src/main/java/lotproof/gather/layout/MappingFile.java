package lotproof.gather.layout;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLGenerator;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
    Map<String, String> settings = new LinkedHashMap<>();
    mapping.settings().forEach((setting, value) -> settings.put(setting.key(), value));
    Map<String, String> values = new LinkedHashMap<>();
    mapping.values().forEach((column, value) -> values.put(column.word(), value));
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("format", FORMAT);
    all.put("file", settings);
    all.put("columns", mapping.columns());
    all.put("values", values);
    all.values().removeIf(Map.of()::equals);
    try {
      return YAML.writeValueAsString(all);
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("texts can always be written", e);
    }
  }

  /** Reads a mapping; unknown keys and impossible values are issues. */
  public static Result<Mapping> read(String place, byte[] text) {
    MappingFile file = new MappingFile(place);
    try {
      JsonNode root = YAML.readTree(text);
      if (root == null || !root.isObject()) {
        file.issue("", "a mapping has the keys " + String.join(", ", KEYS));
      } else {
        file.take(root);
      }
    } catch (JsonProcessingException e) {
      int line = e.getLocation() == null ? 0 : Math.max(0, e.getLocation().getLineNr());
      String why =
          e.getOriginalMessage().lines().findFirst().orElse("").replaceAll("\\p{Cntrl}", "");
      file.issues.add(
          DataIssue.error(
              Code.MAPPING_INVALID, place, line, "", "", "not readable as YAML: " + why));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
    return Result.of(file.mapping, file.issues);
  }

  private void take(JsonNode root) {
    for (Map.Entry<String, JsonNode> field : root.properties()) {
      String key = field.getKey();
      if (!KEYS.contains(key)) {
        issue(key, "\"" + key + "\" is no key; " + Nearest.hint(key, KEYS, "the keys are"));
      }
    }
    if (!root.path("format").asText().equals(FORMAT)) {
      issue("format", "the format must be " + FORMAT);
    }
    texts(root, "file").forEach(this::setting);
    texts(root, "columns").forEach(this::column);
    texts(root, "values").forEach(this::value);
  }

  private Map<String, String> texts(JsonNode root, String key) {
    JsonNode node = root.path(key);
    Map<String, String> texts = new LinkedHashMap<>();
    if (node.isMissingNode()) {
      return texts;
    } else if (!node.isObject()) {
      issue(key, key + " must have names with values below it");
      return texts;
    }
    for (Map.Entry<String, JsonNode> field : node.properties()) {
      if (field.getValue().isValueNode() && !field.getValue().isNull()) {
        texts.put(field.getKey(), field.getValue().asText());
      } else {
        issue(field.getKey(), "the value must be a text");
      }
    }
    return texts;
  }

  private void setting(String key, String value) {
    Optional<Setting> setting = Setting.ofKey(key);
    if (setting.isEmpty()) {
      List<String> known = Arrays.stream(Setting.values()).map(Setting::key).toList();
      issue(key, "\"" + key + "\" is no key here; " + Nearest.hint(key, known, "the keys are"));
      return;
    }
    whyNot(setting.get(), value).ifPresent(why -> issue(key, why));
    mapping = mapping.with(setting.get(), value);
  }

  /** Why a setting cannot have this value; nothing when it can. */
  public static Optional<String> whyNot(Setting setting, String value) {
    boolean free = setting.choices().isEmpty() && !value.isBlank();
    return free || setting.choices().contains(value)
        ? Optional.empty()
        : Optional.of("\"" + value + "\" is none of: " + String.join(", ", setting.choices()));
  }

  private void column(String header, String meaning) {
    whyNotMeaning(meaning).ifPresent(why -> issue(header, why));
    mapping = mapping.withColumn(header, meaning);
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
            .orElseGet(() -> Suggestions.hint(meaning) + " (" + Mapping.IGNORE + " leaves it out)");
    return Optional.of("\"" + meaning + "\" is no column; " + hint);
  }

  private void value(String column, String value) {
    Optional<ReadingColumn> known = ReadingColumn.ofWord(column);
    if (known.isEmpty()) {
      List<String> words = Arrays.stream(ReadingColumn.values()).map(ReadingColumn::word).toList();
      String hint = Nearest.hint(column, words, "the columns are");
      issue(column, "\"" + column + "\" is no column; " + hint);
      return;
    }
    mapping = mapping.withValue(known.get(), value);
  }

  private void issue(String key, String message) {
    issues.add(DataIssue.error(Code.MAPPING_INVALID, place, 0, key, "", message));
  }
}
