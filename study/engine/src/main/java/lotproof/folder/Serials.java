package lotproof.folder;

import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** The serials that a study knows, those of the check standard and of reference partners included. */
final class Serials {
  private final Set<String> cells;
  private final Set<String> boards;

  Serials(Study study) {
    cells = of(study, UnitKind.CELL);
    boards = of(study, UnitKind.BOARD);
    study.checkStandard().ifPresent(check -> cells.add(check.cell()));
    study.checkStandard().ifPresent(check -> boards.add(check.board()));
    study.design().reference().ifPresent(partners -> cells.add(partners.cell()));
    study.design().reference().ifPresent(partners -> boards.add(partners.board()));
  }

  private static Set<String> of(Study study, UnitKind kind) {
    Set<String> serials = new LinkedHashSet<>();
    study.lots(kind).forEach(lot -> serials.addAll(lot.serials()));
    return serials;
  }

  /** Why this is no cell of the study; empty when it is one. */
  Optional<String> whyNotCell(String serial) {
    return whyNot(serial, "cell", cells, "board", boards);
  }

  /** Why this is no board of the study; empty when it is one. */
  Optional<String> whyNotBoard(String serial) {
    return whyNot(serial, "board", boards, "cell", cells);
  }

  private static Optional<String> whyNot(
      String serial, String kind, Set<String> wanted, String otherKind, Set<String> others) {
    if (wanted.contains(serial)) {
      return Optional.empty();
    }
    if (others.contains(serial)) {
      return Optional.of("\"" + serial + "\" is a " + otherKind + " of the study, not a " + kind);
    }
    String hint =
        Nearest.to(serial, wanted)
            .map(near -> "did you mean \"" + near + "\"?")
            .orElse("study.yaml lists the " + kind + "s of each lot");
    return Optional.of("\"" + serial + "\" is no " + kind + " of the study; " + hint);
  }
}
