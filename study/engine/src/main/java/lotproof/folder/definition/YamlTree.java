package lotproof.folder.definition;

import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLParser;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** A YAML document with the position of every key and value. */
final class YamlTree {
  private static final YAMLFactory FACTORY = new YAMLFactory();
  private static final ObjectMapper MAPPER =
      new ObjectMapper(FACTORY).enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS);
  private static final Pattern POSITION = Pattern.compile("line (\\d+), column (\\d+)");

  private final String file;
  private final JsonNode root;
  private final Map<JsonPointer, Position> keys = new HashMap<>();
  private final Map<JsonPointer, Position> values = new HashMap<>();
  private final List<DataIssue> issues = new ArrayList<>();

  /** A place in the file, both counted from 1. */
  record Position(int line, int column) {}

  private YamlTree(String file, String text) throws IOException {
    this.file = file;
    try (YAMLParser parser = FACTORY.createParser(text)) {
      for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
        note(parser, token);
      }
    }
    this.root = MAPPER.readTree(text);
  }

  static Result<YamlTree> read(String file, String text) {
    try {
      return Result.of(new YamlTree(file, text));
    } catch (JsonProcessingException e) {
      Position position = position(e);
      return Result.refused(
          issue(Code.FILE_UNREADABLE, file, position, "not readable as YAML: " + problem(e)));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
  }

  private void note(YAMLParser parser, JsonToken token) throws IOException {
    if (token == JsonToken.END_OBJECT || token == JsonToken.END_ARRAY) {
      return;
    }
    JsonLocation at = parser.currentTokenLocation();
    Position position = new Position(at.getLineNr(), at.getColumnNr());
    JsonPointer pointer = parser.getParsingContext().pathAsPointer();
    if (token == JsonToken.FIELD_NAME) {
      Position first = keys.putIfAbsent(pointer, position);
      if (first != null) {
        issues.add(
            issue(
                Code.VALUE_INVALID,
                file,
                position,
                "the key \"%s\" stands twice, first in line %s"
                    .formatted(parser.getText(), first.line())));
      }
    } else if (values.putIfAbsent(pointer, position) != null && pointer.matches()) {
      String message = "a second document starts here; a study file is one document";
      issues.add(issue(Code.VALUE_INVALID, file, position, message));
    }
    if (parser.isCurrentAlias()) {
      issues.add(
          issue(
              Code.VALUE_INVALID,
              file,
              position,
              "*" + parser.getText() + " refers to another place; write the value itself"));
    }
  }

  JsonNode root() {
    return root;
  }

  String file() {
    return file;
  }

  /** Trouble with the notation itself. */
  List<DataIssue> issues() {
    return List.copyOf(issues);
  }

  /** Where a value stands, or where the nearest thing around it starts. */
  Position valueAt(JsonPointer pointer) {
    Position found = values.get(pointer);
    if (found != null) {
      return found;
    }
    return pointer.matches() ? new Position(1, 1) : valueAt(pointer.head());
  }

  /** Where the key of a value stands; for an item of a list, where the item starts. */
  Position keyAt(JsonPointer pointer) {
    Position found = keys.get(pointer);
    return found != null ? found : valueAt(pointer);
  }

  static DataIssue issue(Code code, String file, Position position, String message) {
    return DataIssue.error(
        code, file, position.line(), Integer.toString(position.column()), "", message);
  }

  private static Position position(JsonProcessingException e) {
    // The library's own location can be that of the token before; its text names the trouble last.
    Matcher named = POSITION.matcher(e.getOriginalMessage());
    Position position = new Position(1, 1);
    if (e.getLocation() != null) {
      position = new Position(e.getLocation().getLineNr(), e.getLocation().getColumnNr());
    }
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
