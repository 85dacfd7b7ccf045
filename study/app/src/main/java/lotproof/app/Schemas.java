package lotproof.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import lotproof.claim.StudyResult;
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
    Map<String, String> schemas = new LinkedHashMap<>();
    schemas.put(
        "messages.schema.json",
        ResultSchema.of(
            ADDRESS + "messages.schema.json",
            "What lotproof import, status, noise, review, spread, claim, limits, watch and report"
                + " --verify print with --json",
            List.of(
                Messages.Plan.class,
                Messages.SideSheets.class,
                Messages.Rehearsed.class,
                Messages.Import.class,
                Messages.Status.class,
                Messages.Noise.class,
                Messages.Review.class,
                Messages.Decided.class,
                Messages.Split.class,
                Messages.Limits.class,
                Messages.Watched.class,
                Messages.Spread.class,
                Messages.Claim.class,
                Messages.Verified.class,
                Messages.Draft.class)));
    schemas.put(
        "result.schema.json",
        ResultSchema.of(
            ADDRESS + "result.schema.json",
            "The whole result of a study: result.json of a report, and lotproof report --json",
            List.of(StudyResult.class)));
    return schemas;
  }
}
