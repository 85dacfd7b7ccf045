package lotproof.folder.definition;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.JsonNode;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.PathType;
import com.networknt.schema.SchemaValidatorsConfig;
import com.networknt.schema.SpecVersion;
import com.networknt.schema.ValidationMessage;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.StreamSupport;
import lotproof.folder.text.Nearest;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** The published schema of study.yaml, and its findings in this program's words. */
final class StudySchema {
  static final String RESOURCE = "study.schema.json";

  private static final JsonSchema SCHEMA = load();

  private StudySchema() {}

  private static JsonSchema load() {
    SchemaValidatorsConfig config =
        SchemaValidatorsConfig.builder()
            .pathType(PathType.JSON_POINTER)
            .locale(Locale.ROOT)
            .build();
    try (InputStream in = StudySchema.class.getResourceAsStream("/lotproof/folder/" + RESOURCE)) {
      if (in == null) {
        throw new IllegalStateException("the program was built without " + RESOURCE);
      }
      return JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012).getSchema(in, config);
    } catch (IOException e) {
      throw new UncheckedIOException("reading " + RESOURCE, e);
    }
  }

  /**
   * What the schema finds.
   *
   * @param judged places about which the reader of values has already said what is wrong; the
   *     schema's pattern there would only say it again, and less well
   */
  static List<DataIssue> check(YamlTree tree, Set<JsonPointer> judged) {
    List<DataIssue> issues = new ArrayList<>();
    for (ValidationMessage message : SCHEMA.validate(tree.root())) {
      JsonPointer place = JsonPointer.compile(message.getInstanceLocation().toString());
      if (!judged.contains(place)) {
        issues.add(issue(tree, place, message));
      }
    }
    return issues;
  }

  private static DataIssue issue(YamlTree tree, JsonPointer place, ValidationMessage message) {
    JsonNode value = tree.root().at(place);
    JsonNode rule = message.getSchemaNode();
    String name = name(place);
    return switch (message.getType()) {
      case "additionalProperties" -> {
        JsonPointer key = place.appendProperty(message.getProperty());
        List<String> known = new ArrayList<>();
        properties(message).fieldNames().forEachRemaining(known::add);
        String hint = Nearest.hint(message.getProperty(), known, "known here");
        String said = "unknown key \"" + message.getProperty() + "\"" + in(place) + "; " + hint;
        yield YamlTree.issue(Code.KEY_UNKNOWN, tree.file(), tree.keyAt(key), said);
      }
      case "required" -> {
        String said = "the key \"" + message.getProperty() + "\" is missing" + in(place);
        yield YamlTree.issue(Code.KEY_MISSING, tree.file(), tree.keyAt(place), said);
      }
      case "enum", "const" -> {
        List<String> known =
            rule.isArray()
                ? StreamSupport.stream(rule.spliterator(), false).map(JsonNode::asText).toList()
                : List.of(rule.asText());
        String hint = Nearest.hint(value.asText(), known, "allowed");
        yield invalid(
            tree, place, Code.VALUE_INVALID, name + " cannot be " + show(value) + "; " + hint);
      }
      case "type" -> invalid(tree, place, Code.VALUE_INVALID, wrongType(name, value, rule));
      case "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum" ->
          invalid(tree, place, Code.OUT_OF_RANGE, name + outOfRange(message, value));
      default -> invalid(tree, place, Code.VALUE_INVALID, name + misfit(message, value, rule));
    };
  }

  private static String outOfRange(ValidationMessage message, JsonNode value) {
    JsonNode rules = beside(message);
    String range =
        switch (message.getType()) {
          case "minimum", "maximum" -> between(rules.path("minimum"), rules.path("maximum"));
          default ->
              rules.has("exclusiveMaximum")
                  ? between(rules.path("exclusiveMinimum"), rules.path("exclusiveMaximum"))
                  : " must be above " + rules.path("exclusiveMinimum").asText();
        };
    return range + ", is " + show(value);
  }

  private static String misfit(ValidationMessage message, JsonNode value, JsonNode rule) {
    return switch (message.getType()) {
      case "minItems" -> " needs " + rule.asText() + " or more, has " + value.size();
      case "uniqueItems" -> " names the same thing twice";
      case "minLength" -> " must not be empty";
      case "minProperties" -> " needs a lower or an upper value";
      case "pattern" ->
          " cannot be " + show(value) + "; a serial has no line break and no space around it";
      default -> ": " + message.getMessage();
    };
  }

  private static String between(JsonNode lowest, JsonNode highest) {
    if (lowest.isMissingNode()) {
      return " must be " + highest.asText() + " or below";
    }
    if (highest.isMissingNode()) {
      return " must be " + lowest.asText() + " or above";
    }
    String share = highest.asDouble() <= 1 ? " (0.95 means 95 %)" : "";
    return " must lie between " + lowest.asText() + " and " + highest.asText() + share;
  }

  /** The properties beside the rule that was broken. */
  private static JsonNode properties(ValidationMessage message) {
    return beside(message).path("properties");
  }

  /** The rules of the value of which one was broken. */
  private static JsonNode beside(ValidationMessage message) {
    JsonPointer rule = JsonPointer.compile(message.getSchemaLocation().getFragment().toString());
    return SCHEMA.getSchemaNode().at(rule.head());
  }

  private static String wrongType(String name, JsonNode value, JsonNode rule) {
    boolean text = rule.asText().equals("string") || rule.isArray();
    String is =
        switch (value.getNodeType()) {
          case NUMBER -> "the number " + value.asText();
          case BOOLEAN -> "read as " + value.asText();
          case STRING -> "the text " + show(value);
          case ARRAY -> "a list";
          case OBJECT -> "a group of keys";
          default -> "empty";
        };
    String should =
        switch (text ? "string" : rule.asText()) {
          case "string" -> "text";
          case "integer" -> "a whole number";
          case "number" -> "a number";
          case "array" -> "a list";
          default -> "a group of keys";
        };
    String hint = text && value.isValueNode() && !value.isNull() ? "; put it in quotes" : "";
    if (rule.asText().equals("number")) {
      hint = "; 0.95 means 95 %";
    }
    return name + " must be " + should + ", is " + is + hint;
  }

  private static DataIssue invalid(YamlTree tree, JsonPointer place, Code code, String message) {
    return YamlTree.issue(code, tree.file(), tree.valueAt(place), message);
  }

  private static String show(JsonNode value) {
    return value.isTextual() ? "\"" + value.asText() + "\"" : value.toString();
  }

  private static String in(JsonPointer place) {
    return place.matches() ? "" : " in " + name(place);
  }

  /** A place for people: {@code lots.cells[1].units}, lists counted from 1. */
  static String name(JsonPointer place) {
    StringBuilder name = new StringBuilder();
    for (JsonPointer rest = place; !rest.matches(); rest = rest.tail()) {
      if (rest.mayMatchElement()) {
        name.append('[').append(rest.getMatchingIndex() + 1).append(']');
      } else {
        name.append(name.isEmpty() ? "" : ".").append(rest.getMatchingProperty());
      }
    }
    return name.isEmpty() ? "the study file" : name.toString();
  }
}
