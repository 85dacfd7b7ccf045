package lotproof.app;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import lotproof.study.DataIssue;

/** Messages of commands as JSON, by docs/messages.schema.json. */
final class Json {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private Json() {}

  /** An empty message of a command. */
  static ObjectNode message(String command, int exit) {
    return JsonNodeFactory.instance
        .objectNode()
        .put("command", command)
        .put("version", LotproofCommand.Version.number())
        .put("exit", exit);
  }

  /** Adds the issues. */
  static void put(ObjectNode node, List<DataIssue> issues) {
    ArrayNode array = node.putArray("issues");
    for (DataIssue issue : issues) {
      array
          .addObject()
          .put("severity", issue.severity().name().toLowerCase(Locale.ROOT))
          .put("code", issue.code().name().toLowerCase(Locale.ROOT).replace('_', '-'))
          .put("file", issue.file())
          .put("line", issue.line())
          .put("column", issue.column())
          .put("unit", issue.unit())
          .put("message", issue.message());
    }
  }

  static void print(PrintWriter to, JsonNode node) {
    try {
      to.println(
          MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(node).replace("\r\n", "\n"));
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a tree of plain values must be writable", e);
    }
  }
}
