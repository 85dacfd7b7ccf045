package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** The published schemas of what the program prints as JSON. */
final class MessageSchema {
  static final Path DOCS = Path.of("..", "..", "docs");

  private MessageSchema() {}

  /** What a command printed, after it was held against the schema of messages. */
  static JsonNode checked(String json) throws IOException {
    return checked(json, "messages.schema.json");
  }

  /** A document, after it was held against a schema in docs. */
  static JsonNode checked(String json, String schemaName) throws IOException {
    JsonSchema schema =
        JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
            .getSchema(Files.readString(DOCS.resolve(schemaName)));
    JsonNode document = new ObjectMapper().readTree(json);
    assertThat(schema.validate(document)).isEmpty();
    return document;
  }
}
