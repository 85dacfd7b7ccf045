package lotproof.report.data;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.file.Path;
import lotproof.report.assembly.DemoResult;
import org.junit.jupiter.api.Test;

/**
 * docs/result.schema.json describes what the report writes. That the file is the one of the records
 * is tested in the command line, which also writes it anew.
 */
class ResultSchemaTest {
  private static final Path PUBLISHED = Path.of("..", "docs", "result.schema.json");
  private static final ObjectMapper MAPPER = new ObjectMapper();

  @Test
  void theDemoResultKeepsTheSchema() throws IOException {
    JsonSchema schema =
        JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
            .getSchema(MAPPER.readTree(PUBLISHED.toFile()));
    JsonNode result = MAPPER.readTree(ResultJson.of(DemoResult.get()));
    assertThat(schema.validate(result)).isEmpty();
  }
}
