package lotproof.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import lotproof.app.cli.CliCommand;
import lotproof.report.assembly.PublishedResult;
import lotproof.report.data.ResultSchema;

/**
 * Writes the published schemas of what the program prints as JSON.
 *
 * <p>Not a command of the program: it serves those who work on it (DEVELOPERS.md).
 */
public final class Schemas {
  private static final String ADDRESS = "https://lotproof.invalid/";

  private Schemas() {}

  /**
   * Writes the schemas.
   *
   * @param args the folder to write into
   */
  public static void main(String[] args) throws IOException {
    if (args.length != 1) {
      throw new IllegalArgumentException("name the folder to write into, and nothing else");
    }
    for (Map.Entry<String, String> schema : byName().entrySet()) {
      Files.writeString(Path.of(args[0]).resolve(schema.getKey()), schema.getValue());
    }
  }

  /** All schemas by file name. */
  static Map<String, String> byName() {
    List<Class<? extends Record>> messages =
        LotproofCommand.commands().stream()
            .flatMap(command -> Arrays.stream(command.getClass().getDeclaredClasses()))
            .filter(CliCommand.Message.class::isAssignableFrom)
            .sorted(Comparator.comparing(Class::getName))
            .<Class<? extends Record>>map(message -> message.asSubclass(Record.class))
            .toList();
    return Map.of(
        "messages.schema.json",
        ResultSchema.of(
            ADDRESS + "messages.schema.json",
            "What lotproof import, status, noise, review, spread, claim, limits, watch and report"
                + " --verify print with --json",
            messages),
        "result.schema.json",
        ResultSchema.of(
            ADDRESS + "result.schema.json",
            "The whole result of a study: result.json of a report, and lotproof report --json",
            List.of(PublishedResult.class)));
  }
}
