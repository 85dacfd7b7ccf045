package lotproof.folder;

import java.time.LocalDateTime;
import java.util.List;

/**
 * A run as far as one person measured it.
 *
 * @param run name of the run
 * @param person who measures it
 * @param since when that person began
 * @param client who has it in hand, by the name of its file in the folder of drafts; empty when
 *     nobody has
 * @param content what was noted so far, field by field
 */
public record RunDraft(
    String run, String person, LocalDateTime since, String client, List<String> content) {
  public RunDraft {
    content = List.copyOf(content);
  }

  RunDraft heldBy(String other) {
    return new RunDraft(run, person, since, other, content);
  }
}
