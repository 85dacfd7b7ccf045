package lotproof.folder;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.UnitNames;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * The serials that a study knows, those of the check standard and of reference partners included.
 */
final class Serials {
  private static final Pattern POWER_OF_TEN = Pattern.compile("[0-9](?:[.,][0-9]+)?[eE]\\+?[0-9]+");
  private static final Pattern DATE =
      Pattern.compile(
          "[0-9]{1,2}[-. ](?:[A-Z][a-z]{2})(?:[-. ][0-9]{2,4})?|[A-Z][a-z]{2}[-. ][0-9]{2,4}"
              + "|[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[T ].*)?");
  private static final Pattern DIGITS = Pattern.compile("[0-9]+");

  private final Set<String> cells;
  private final Set<String> boards;

  Serials(Study study) {
    cells = new LinkedHashSet<>(study.serials(UnitKind.CELL));
    boards = new LinkedHashSet<>(study.serials(UnitKind.BOARD));
  }

  /** Why this is no cell of the study; empty when it is one. */
  Optional<String> whyNotCell(String serial) {
    return whyNot(serial, "cell", cells, "board", boards);
  }

  /** Why this is no board of the study; empty when it is one. */
  Optional<String> whyNotBoard(String serial) {
    return whyNot(serial, "board", boards, "cell", cells);
  }

  /** How a spreadsheet damaged this serial; empty when it does not look so. */
  Optional<String> damage(String serial) {
    if (POWER_OF_TEN.matcher(serial).matches()) {
      return Optional.of("a spreadsheet made a number of this serial, and its digits are lost");
    } else if (DATE.matcher(serial).matches()) {
      return Optional.of("a spreadsheet made a date of this serial");
    }
    boolean digits = DIGITS.matcher(serial).matches();
    return Stream.concat(cells.stream(), boards.stream())
        .filter(known -> digits && !known.equals(serial))
        .filter(known -> known.replaceFirst("^0+", "").equals(serial))
        .findFirst()
        .map(known -> "the leading zeros of \"" + known + "\" were lost in a spreadsheet");
  }

  private static Optional<String> whyNot(
      String serial, String kind, Set<String> wanted, String otherKind, Set<String> others) {
    if (wanted.contains(serial)) {
      return Optional.empty();
    }
    if (others.contains(serial)) {
      return Optional.of("\"" + serial + "\" is a " + otherKind + " of the study, not a " + kind);
    }
    List<String> inLots = UnitNames.candidates(serial, wanted.stream());
    String hint =
        (inLots.isEmpty()
                ? Nearest.to(serial, wanted).map(near -> "\"" + near + "\"")
                : Optional.of(String.join(" or ", inLots)))
            .map(near -> "did you mean " + near + "?")
            .orElse("study.yaml lists the " + kind + "s of each lot");
    return Optional.of("\"" + serial + "\" is no " + kind + " of the study; " + hint);
  }
}
