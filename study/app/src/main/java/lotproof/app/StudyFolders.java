package lotproof.app;

import java.nio.file.Files;
import java.nio.file.Path;
import lotproof.folder.OpenOutcome;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;

/** Opens study folders for commands. */
final class StudyFolders {
  private StudyFolders() {}

  /** The folder's contents; everything that is wrong with it ends the command. */
  static StudyContents open(Path path) {
    OpenOutcome outcome = existing(path).open();
    if (outcome instanceof OpenOutcome.Opened opened) {
      return opened.contents();
    }
    throw new UnusableException(((OpenOutcome.Refused) outcome).issues());
  }

  /** The folder, which must be there. */
  static StudyFolder existing(Path path) {
    if (!Files.exists(path)) {
      throw new UnusableException("there is no study folder " + path);
    }
    if (!Files.isDirectory(path)) {
      throw new UnusableException(path + " is not a folder; name the folder that holds study.yaml");
    }
    return StudyFolder.at(path);
  }
}
