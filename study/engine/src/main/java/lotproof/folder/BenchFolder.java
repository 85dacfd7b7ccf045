package lotproof.folder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import lotproof.study.BenchPlan;
import lotproof.study.DataIssue;
import lotproof.study.Result;

/** The bench sheets and the plan of the bench, below a study folder. */
public final class BenchFolder {
  /** Its name within the study folder. */
  public static final String NAME = "bench";

  private final StudyFiles files;

  BenchFolder(StudyFiles files) {
    this.files = files;
  }

  /**
   * Writes one of its files whole, in place of what was there; says why not, or nothing when
   * written.
   *
   * @param name plain file name, without folders
   */
  public List<DataIssue> put(String name, byte[] content) {
    String place = place(name);
    return files
        .writeInNew(
            place,
            () -> {
              files.makeDirectory(NAME);
              files.put(place, content);
              return Result.of(place);
            })
        .issues();
  }

  /** The plan of the bench, if there is one. */
  public Result<Optional<BenchPlan>> plan() {
    try {
      return files
          .bytes(place(BenchPlanFile.NAME))
          .map(BenchPlanFile::read)
          .orElseGet(() -> Result.of(Optional.empty()));
    } catch (IOException e) {
      return Result.of(Optional.empty());
    }
  }

  private static String place(String name) {
    if (!name.matches("[A-Za-z0-9][A-Za-z0-9._-]*")) {
      throw new IllegalArgumentException("not a plain file name: " + name);
    }
    return NAME + "/" + name;
  }
}
