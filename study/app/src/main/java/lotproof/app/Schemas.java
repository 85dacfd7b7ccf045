package lotproof.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import lotproof.app.bench.ImportCommand;
import lotproof.app.bench.NoiseCommand;
import lotproof.app.bench.PlanCommand;
import lotproof.app.bench.RehearseCommand;
import lotproof.app.bench.StatusCommand;
import lotproof.app.results.ClaimCommand;
import lotproof.app.results.LimitsCommand;
import lotproof.app.results.ReportCommand;
import lotproof.app.results.ReviewCommand;
import lotproof.app.results.SpreadCommand;
import lotproof.app.results.WatchCommand;
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
                PlanCommand.Plan.class,
                PlanCommand.SideSheetFiles.class,
                RehearseCommand.Rehearsed.class,
                ImportCommand.Import.class,
                StatusCommand.Status.class,
                NoiseCommand.Noise.class,
                ReviewCommand.Review.class,
                ReviewCommand.Decided.class,
                ReviewCommand.Split.class,
                LimitsCommand.Limits.class,
                WatchCommand.Watched.class,
                SpreadCommand.Spreads.class,
                ClaimCommand.Claim.class,
                ReportCommand.Verified.class,
                ClaimCommand.Draft.class)));
    schemas.put(
        "result.schema.json",
        ResultSchema.of(
            ADDRESS + "result.schema.json",
            "The whole result of a study: result.json of a report, and lotproof report --json",
            List.of(StudyResult.class)));
    return schemas;
  }
}
