package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.folder.StudyFolder;
import lotproof.gather.EntryDrafts;
import lotproof.gather.TypedEntry;

/** A planned study of runs with five loads, for tests that type into it. */
final class EntryStudy {
  private EntryStudy() {}

  /** Plans it, with so many cells and boards. */
  static void plan(Path folder, int units) {
    Ran ran =
        Ran.lotproof(
            Tutorial.words(
                    "plan "
                        + folder
                        + " --title Scale --capacity \"50 kg\" --loads 0,25,50,25,0"
                        + " --default-factor \"83886.08 counts/kg\""
                        + " --converter-scale \"2097152 counts/(mV/V)\""
                        + " --temperature 18..26 --bench-masses F2 --cell-sd 240 --board-sd 90"
                        + " --repeat-sd 10 --design rotation-3"
                        + " --cells A="
                        + units
                        + " --boards X="
                        + units)
                .toArray());
    assertThat(ran.exit()).as(ran.err()).isEqualTo(Exit.DONE);
  }

  /** What a person may type. */
  static TypedEntry entry(Path folder) {
    StudyFolder study = StudyFolder.at(folder);
    return TypedEntry.of(study, CliCommand.open(folder), CliCommand.benchPlan(study));
  }

  /** A person who types. */
  static EntryDrafts client(Path folder, String person) throws IOException {
    return EntryDrafts.open(StudyFolder.at(folder), entry(folder), person, Clock.systemUTC());
  }
}
