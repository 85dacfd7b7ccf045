package lotproof.report.data;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.claim.StudyResult;
import lotproof.report.assembly.DemoResult;
import org.junit.jupiter.api.Test;

/**
 * docs/result.schema.json describes what the report writes. Run with -Dlotproof.write-schema=true
 * to write it anew.
 */
class ResultSchemaTest {
  private static final Path PUBLISHED = Path.of("..", "docs", "result.schema.json");
  private static final ObjectMapper MAPPER =
      new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

  private static JsonNode generated() {
    return ResultSchema.of(
        StudyResult.class,
        "https://lotproof.invalid/result.schema.json",
        "The full result of a study, as lotproof report writes it to result.json");
  }

  @Test
  void publishedSchemaIsThatOfTheRecords() throws IOException {
    if (Boolean.getBoolean("lotproof.write-schema")) {
      Files.writeString(PUBLISHED, MAPPER.writeValueAsString(generated()) + "\n");
    }
    assertThat(MAPPER.readTree(PUBLISHED.toFile())).isEqualTo(generated());
  }

  @Test
  void theDemoResultKeepsTheSchema() throws IOException {
    JsonSchema schema =
        JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
            .getSchema(MAPPER.readTree(PUBLISHED.toFile()));
    JsonNode result = MAPPER.readTree(ResultJson.of(DemoResult.get()));
    assertThat(schema.validate(result)).isEmpty();
  }
}
