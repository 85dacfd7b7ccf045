package lotproof.app.cli;

import lotproof.folder.StudyContents;

/** Where an answer in JSON comes from: the title of a study or name of a file, and its hash. */
public record Origin(String command, String version, String title, String hash, int exit) {
  public static Origin of(String command, StudyContents contents, int exit) {
    return new Origin(
        command, programVersion(), contents.study().title(), contents.recordHash(), exit);
  }

  /** Version of the jar. */
  public static String programVersion() {
    String version = Origin.class.getPackage().getImplementationVersion();
    return version == null ? "development" : version;
  }
}
