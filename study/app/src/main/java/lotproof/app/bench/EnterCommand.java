package lotproof.app.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneId;
import java.util.List;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.EntryDrafts;
import lotproof.gather.TypedEntry;
import lotproof.study.DataIssue;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Guided typing at the bench. */
@Command(name = "enter")
public final class EnterCommand extends CliCommand {

  @Parameters(index = "0", paramLabel = "STUDY")
  private Path study = Path.of("");

  @Option(names = "--who", paramLabel = "NAME")
  private String who = System.getProperty("user.name", "");

  @Override
  public Integer call() {
    refuse(who.isBlank(), "--who is empty: who types?");
    StudyContents contents = open(study);
    StudyFolder folder = StudyFolder.at(study);
    TypedEntry entry = TypedEntry.of(folder, contents, benchPlan(folder));
    refuse(
        entry.planned() == 0, "study.yaml lists no planned pairs, so there is no order to type in");
    try (EntryDrafts drafts =
        EntryDrafts.open(folder, entry, who.strip(), Clock.system(ZoneId.systemDefault()))) {
      new EnterSession(io, entry, drafts).run();
    } catch (IOException e) {
      String message = "drafts cannot be kept in bench/drafts (" + e.getMessage() + ")";
      throw new UnusableException(
          List.of(DataIssue.error(DataIssue.Code.WRITE_FAILED, "bench/drafts", message)));
    }
    int open = entry.open().size();
    io.say(
        open == 0
            ? "All planned runs are recorded."
            : open == 1 ? "1 planned run is open." : open + " planned runs are open.");
    return Exit.DONE;
  }
}
