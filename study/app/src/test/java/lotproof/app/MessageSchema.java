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

/** The published schema of what commands print with --json. */
final class MessageSchema {
  private static final Path FILE = Path.of("..", "..", "docs", "messages.schema.json");

  private MessageSchema() {}

  /** The message, after it was held against the schema. */
  static JsonNode checked(String json) throws IOException {
    JsonSchema schema =
        JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
            .getSchema(Files.readString(FILE));
    JsonNode message = new ObjectMapper().readTree(json);
    assertThat(schema.validate(message)).isEmpty();
    return message;
  }
}
