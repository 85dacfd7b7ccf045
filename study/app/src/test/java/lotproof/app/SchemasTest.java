package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.file.Files;
import org.junit.jupiter.api.Test;

class SchemasTest {
  @Test
  void thePublishedSchemasAreThoseOfTheProgram() throws IOException {
    for (var schema : Schemas.byName().entrySet()) {
      assertThat(Files.readString(MessageSchema.DOCS.resolve(schema.getKey())))
          .as("docs/%s; write it anew as DEVELOPERS.md says", schema.getKey())
          .isEqualTo(schema.getValue());
    }
  }

  @Test
  void aMessageWithAStrangeKeyIsRefused() throws IOException {
    var schema =
        JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
            .getSchema(Files.readString(MessageSchema.DOCS.resolve("messages.schema.json")));
    String good =
        "{\"command\":\"import\",\"version\":\"1\",\"exit\":0,\"files\":[],\"exchanged\":[],"
            + "\"issues\":[]}";
    assertThat(schema.validate(good, com.networknt.schema.InputFormat.JSON)).isEmpty();
    String strange = good.replace("\"files\"", "\"strange\":1,\"files\"");
    assertThat(schema.validate(strange, com.networknt.schema.InputFormat.JSON)).isNotEmpty();
    String wrong = good.replace("\"exit\":0", "\"exit\":\"none\"");
    assertThat(schema.validate(wrong, com.networknt.schema.InputFormat.JSON)).isNotEmpty();
  }
}
