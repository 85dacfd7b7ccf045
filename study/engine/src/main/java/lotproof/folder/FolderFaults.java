package lotproof.folder;

import java.io.IOException;
import java.nio.file.Path;
import lotproof.folder.definition.StudyFile;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** What a study folder says when it cannot be read or written. */
final class FolderFaults {
  private FolderFaults() {}

  static DataIssue missing(Path root) {
    return issue(
        Code.FILE_MISSING,
        StudyFile.NAME,
        "there is no " + StudyFile.NAME + " in " + root + "; it defines the study");
  }

  static DataIssue busy() {
    return issue(
        Code.FOLDER_BUSY,
        FolderLock.NAME,
        "another import or decision is being written; try again when it is done");
  }

  static DataIssue unreadable(IOException e) {
    return issue(Code.FILE_UNREADABLE, describe(e), "the file cannot be read");
  }

  static DataIssue notWritten(String file, IOException e) {
    return issue(
        Code.WRITE_FAILED,
        file,
        "writing failed (" + describe(e) + "); the folder is whole, and the step can be repeated");
  }

  private static String describe(IOException e) {
    return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
  }

  /** A fault of a whole file. */
  static DataIssue issue(Code code, String file, String message) {
    return DataIssue.error(code, file, 0, "", "", message);
  }
}
