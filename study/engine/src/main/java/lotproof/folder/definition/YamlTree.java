package lotproof.folder.definition;

import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.MissingNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.databind.node.TextNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLParser;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** A YAML document with the place of every key and value, and what was found wrong at which. */
final class YamlTree {
  private static final YAMLFactory FACTORY = new YAMLFactory();
  private static final ObjectMapper MAPPER =
      new ObjectMapper(FACTORY).enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS);
  private static final Pattern POSITION = Pattern.compile("line (\\d+), column (\\d+)");

  /** What a person reads as YAML does; 010, 0x10 and 1_0 are other numbers there. */
  private static final Pattern PLAIN_NUMBER =
      Pattern.compile("[+-]?(?:0|[1-9][0-9]*)?(?:\\.[0-9]*)?(?:[eE][+-]?[0-9]+)?");

  private final String file;
  private final JsonNode root;
  private final Map<JsonPointer, Position> keys = new HashMap<>();
  private final Map<JsonPointer, Position> values = new HashMap<>();
  private final List<DataIssue> issues = new ArrayList<>();
  private final List<DataIssue> unmade = new ArrayList<>();
  private final Set<JsonPointer> judged = new HashSet<>();

  /** A place in the file, both counted from 1. */
  private record Position(int line, int column) {
    private static Position of(JsonLocation location) {
      return new Position(location.getLineNr(), location.getColumnNr());
    }
  }

  private YamlTree(String file, String text) throws IOException {
    this.file = file;
    try (YAMLParser parser = FACTORY.createParser(text)) {
      boolean any = parser.nextToken() != null;
      root = any ? value(parser, JsonPointer.empty()) : MissingNode.getInstance();
      if (parser.nextToken() != null) {
        String message = "a second document starts here; a study file is one document";
        issues.add(issue(Code.VALUE_INVALID, Position.of(parser.currentTokenLocation()), message));
      }
    }
  }

  static Result<YamlTree> read(String file, String text) {
    try {
      return Result.of(new YamlTree(file, text));
    } catch (JsonProcessingException e) {
      String message = "not readable as YAML: " + problem(e);
      return Result.refused(issue(Code.FILE_UNREADABLE, file, position(e), message));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
  }

  /** The value that begins with the parser's token. */
  private JsonNode value(YAMLParser parser, JsonPointer place) throws IOException {
    Position position = Position.of(parser.currentTokenLocation());
    values.put(place, position);
    if (parser.isCurrentAlias()) {
      String message = "*" + parser.getText() + " refers to another place; write the value itself";
      issues.add(issue(Code.VALUE_INVALID, position, message));
    }
    if (parser.currentToken() == JsonToken.START_ARRAY) {
      ArrayNode list = MAPPER.createArrayNode();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        list.add(value(parser, place.appendIndex(list.size())));
      }
      return list;
    } else if (parser.currentToken() == JsonToken.START_OBJECT) {
      ObjectNode group = MAPPER.createObjectNode();
      while (parser.nextToken() != JsonToken.END_OBJECT) {
        String name = parser.currentName();
        JsonPointer key = place.appendProperty(name);
        Position here = Position.of(parser.currentTokenLocation());
        Position first = keys.putIfAbsent(key, here);
        if (first != null) {
          String message = "the key \"%s\" stands twice, first in line %s";
          issues.add(issue(Code.VALUE_INVALID, here, message.formatted(name, first.line)));
        }
        parser.nextToken();
        group.set(name, value(parser, key));
      }
      return group;
    }
    boolean odd =
        parser.currentToken().isNumeric() && !PLAIN_NUMBER.matcher(parser.getText()).matches();
    return odd ? TextNode.valueOf(parser.getText()) : MAPPER.readTree(parser);
  }

  JsonNode root() {
    return root;
  }

  /** What was found; only if that is nothing, what could not be made all the same. */
  List<DataIssue> issues() {
    return issues.isEmpty() ? unmade : issues;
  }

  /** Whether something was found wrong with the value at a place. */
  boolean isJudged(JsonPointer place) {
    return judged.contains(place);
  }

  /** Something is wrong with a value; a missing one has the place of the nearest around it. */
  void addAtValue(Code code, JsonPointer place, String message) {
    judged.add(place);
    issues.add(issue(code, valueAt(place), message));
  }

  /** Nothing could be made of a value, for which something else should be reported. */
  void addUnmade(JsonPointer place, String message) {
    unmade.add(issue(Code.VALUE_INVALID, valueAt(place), message));
  }

  /** Something is wrong with a key; an item of a list has the place where it starts. */
  void addAtKey(Code code, JsonPointer place, String message) {
    Position key = keys.get(place);
    issues.add(issue(code, key != null ? key : valueAt(place), message));
  }

  private DataIssue issue(Code code, Position at, String message) {
    return issue(code, file, at, message);
  }

  private static DataIssue issue(Code code, String file, Position at, String message) {
    return DataIssue.error(code, file, at.line, String.valueOf(at.column), "", message);
  }

  private Position valueAt(JsonPointer place) {
    Position found = values.get(place);
    if (found != null) {
      return found;
    }
    return place.matches() ? new Position(1, 1) : valueAt(place.head());
  }

  private static Position position(JsonProcessingException e) {
    // The library's own location can be that of the token before; its text names the trouble last.
    Matcher named = POSITION.matcher(e.getOriginalMessage());
    Position position = e.getLocation() == null ? new Position(1, 1) : Position.of(e.getLocation());
    while (named.find()) {
      position = new Position(Integer.parseInt(named.group(1)), Integer.parseInt(named.group(2)));
    }
    return position;
  }

  /** The lines of the library's message that say what is wrong, without its drawing. */
  private static String problem(JsonProcessingException e) {
    List<String> said =
        e.getOriginalMessage()
            .lines()
            .filter(line -> !line.startsWith(" ") && !line.startsWith("while ") && !line.isBlank())
            .toList();
    return said.isEmpty()
        ? "the text cannot be parsed"
        : String.join("; ", said).replaceAll("\\p{Cntrl}", "");
  }
}
