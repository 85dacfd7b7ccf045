package lotproof.gather.layout;

import java.util.HashSet;
import java.util.Set;
import lotproof.folder.ReceivedFile;
import lotproof.gather.layout.Question.About;
import lotproof.gather.tables.Mapping;
import lotproof.study.DataIssue.Code;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** The same with the study whose readings the file holds. */
final class ReadingContext extends TableContext {
  private final Study study;
  private final Set<String> units = new HashSet<>();

  ReadingContext(ReceivedFile file, Study study, Mapping mapping) {
    super(file, mapping);
    this.study = study;
    for (UnitKind kind : UnitKind.values()) {
      units.addAll(study.units().serials(kind));
    }
  }

  Study study() {
    return study;
  }

  /** Whether a text is the serial of a cell or a board of the study. */
  boolean isUnit(String text) {
    return units.contains(text);
  }

  /** Whether it is open which column something is, so that none can be called missing. */
  boolean hasUnclearColumn() {
    return questions().stream()
        .anyMatch(
            q -> q.about() instanceof About.Column && q.unanswered().code() == Code.AMBIGUOUS);
  }
}
