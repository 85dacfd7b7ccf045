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
import java.util.stream.StreamSupport;
import lotproof.folder.text.Nearest;
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
   * Reports what the schema finds, but for values that are judged already: there its pattern would
   * only say it again, and less well.
   */
  static void check(YamlTree tree) {
    for (ValidationMessage message : SCHEMA.validate(tree.root())) {
      JsonPointer place = JsonPointer.compile(message.getInstanceLocation().toString());
      if (!tree.isJudged(place)) {
        report(tree, place, message);
      }
    }
  }

  private static void report(YamlTree tree, JsonPointer place, ValidationMessage message) {
    String property = message.getProperty();
    switch (message.getType()) {
      case "additionalProperties" -> {
        List<String> known = new ArrayList<>();
        beside(message).path("properties").fieldNames().forEachRemaining(known::add);
        String hint = Nearest.hint(property, known, "known here");
        String said = "unknown key \"" + property + "\"" + in(place) + "; " + hint;
        tree.addAtKey(Code.KEY_UNKNOWN, place.appendProperty(property), said);
      }
      case "required" -> {
        String said = "the key \"" + property + "\" is missing" + in(place);
        tree.addAtKey(Code.KEY_MISSING, place, said);
      }
      case "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum" ->
          tree.addAtValue(Code.OUT_OF_RANGE, place, name(place) + misfit(tree, place, message));
      default ->
          tree.addAtValue(Code.VALUE_INVALID, place, name(place) + misfit(tree, place, message));
    }
  }

  /** What is wrong with a value, to follow its name. */
  private static String misfit(YamlTree tree, JsonPointer place, ValidationMessage message) {
    JsonNode value = tree.root().at(place);
    JsonNode rule = message.getSchemaNode();
    JsonNode rules = beside(message);
    return switch (message.getType()) {
      case "enum", "const" -> {
        List<String> known =
            rule.isArray()
                ? StreamSupport.stream(rule.spliterator(), false).map(JsonNode::asText).toList()
                : List.of(rule.asText());
        String hint = Nearest.hint(value.asText(), known, "allowed");
        yield " cannot be " + show(value) + "; " + hint;
      }
      case "type" -> wrongType(value, rule);
      case "minimum", "maximum" ->
          between(rules.path("minimum"), rules.path("maximum")) + ", is " + show(value);
      case "exclusiveMinimum", "exclusiveMaximum" ->
          (rules.has("exclusiveMaximum")
                  ? between(rules.path("exclusiveMinimum"), rules.path("exclusiveMaximum"))
                  : " must be above " + rules.path("exclusiveMinimum").asText())
              + ", is "
              + show(value);
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

  /** The rules of the value of which one was broken. */
  private static JsonNode beside(ValidationMessage message) {
    JsonPointer rule = JsonPointer.compile(message.getSchemaLocation().getFragment().toString());
    return SCHEMA.getSchemaNode().at(rule.head());
  }

  private static String wrongType(JsonNode value, JsonNode rule) {
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
    return " must be " + should + ", is " + is + hint;
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
