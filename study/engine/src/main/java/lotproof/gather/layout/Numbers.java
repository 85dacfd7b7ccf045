package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Setting;

/**
 * How numbers that are text are read in one file. The decimal mark is that of the first number that
 * leaves no doubt; a number that does not fit is no number. Marks between thousands are read only
 * when a person said so.
 */
final class Numbers {
  private static final Pattern ONE_MARK =
      Pattern.compile("[+-]?[0-9]*[.,][0-9]*(?:[eE][+-]?[0-9]{1,3})?");

  /** Three digits behind the only mark, and a number before it that could be thousands. */
  private static final Pattern EITHER = Pattern.compile("[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}");

  private static final Pattern GROUPS =
      Pattern.compile("[+-]?[0-9]{1,3}(?:(?:\\.[0-9]{3})+,|(?:,[0-9]{3})+\\.)[0-9]*");
  private static final Pattern LOOKS_GROUPED =
      Pattern.compile("[+-]?[0-9]{1,3}([., '\u2019\\p{Zs}][0-9]{3}){2,}([.,][0-9]*)?");
  private static final Map<String, String> GROUPINGS =
      Map.of("point", "[.]", "comma", ",", "space", "\\p{Zs}", "apostrophe", "'");

  private final boolean typed;
  private final boolean comma;
  private final Optional<String> grouping;

  private Numbers(boolean typed, boolean comma, Optional<String> grouping) {
    this.typed = typed;
    this.comma = comma;
    this.grouping = grouping;
  }

  /** Looks at what a number shows about the decimal mark; the first way is a comma. */
  static void look(Evidence evidence, String text, int line, String column) {
    int lastComma = text.lastIndexOf(',');
    int lastPoint = text.lastIndexOf('.');
    if (evidence.isFirst().isPresent() || lastComma == lastPoint) {
      return;
    }
    if (EITHER.matcher(text).matches()) {
      evidence.take(true, true, text, line, column);
    } else if (ONE_MARK.matcher(text).matches() || GROUPS.matcher(text).matches()) {
      evidence.take(lastComma > lastPoint, lastPoint > lastComma, text, line, column);
    }
  }

  /** How to read a file; where its decimal mark is not certain, it is asked. */
  static Numbers of(Evidence evidence, Grid grid, TableContext context) {
    boolean typed = grid.isTyped();
    Optional<String> told = context.told(Setting.DECIMAL);
    Optional<Evidence.Sample> doubtful =
        evidence
            .doubt()
            .filter(d -> !typed && !(grid.separator() == ',' && d.text().indexOf('.') >= 0));
    boolean isComma = doubtful.filter(d -> d.text().indexOf(',') >= 0).isPresent();
    context.askForWay(
        Setting.DECIMAL,
        doubtful,
        "number",
        List.of(
            new Choice(isComma ? "comma" : "point", "the mark parts decimals"),
            new Choice(
                isComma ? "point" : "comma",
                "it parts thousands, and then --grouping is needed too")));
    boolean comma =
        told.map("comma"::equals)
            .orElse(!typed && evidence.isFirst().orElse(isComma && grid.separator() != ','));
    Optional<String> grouping = context.told(Setting.GROUPING).filter(GROUPINGS::containsKey);
    if (!typed) {
      context.fact(
          "decimal mark",
          (comma ? "comma" : "point")
              + grouping.map(mark -> ", thousands mark " + mark).orElse(""));
    }
    return new Numbers(typed, comma, grouping);
  }

  /** The same for loads in headers, whose decimal mark whoever typed below them did not choose. */
  Numbers inHeaders(Evidence loads, TableContext context) {
    if (loads.isFirst().orElse(comma) == comma) {
      return this;
    }
    context.fact("decimal mark of loads in the header", comma ? "point" : "comma");
    return new Numbers(typed, !comma, Optional.empty());
  }

  Optional<BigDecimal> read(String text) {
    String digits = text.replace('\u2212', '-');
    if (grouping.isPresent()) {
      String mark = GROUPINGS.getOrDefault(grouping.get(), "");
      String grouped = "[+-]?[0-9]{1,3}(?:%s[0-9]{3})+(?:%s[0-9]*)?";
      if (digits.matches(grouped.formatted(mark, comma ? "," : "[.]"))) {
        digits = digits.replaceAll(mark, "");
      }
    }
    if (comma) {
      return digits.indexOf('.') >= 0
          ? Optional.empty()
          : UnitsOfMeasure.number(digits.replace(',', '.'));
    }
    return UnitsOfMeasure.number(digits);
  }

  /** Why a text is no number in this file, and what would be right. */
  String whyNot(String text) {
    String no = "\"" + text + "\" is not a number";
    String pointed = text.replace(',', '.');
    if (!comma && UnitsOfMeasure.number(pointed).isPresent()) {
      return typed
          ? ("%s; write %s (beside numbers that are stored as numbers, a decimal comma is read"
                  + " only when told, --decimal comma)")
              .formatted(no, pointed)
          : no + " here: other numbers of this file have a decimal point";
    } else if (comma && UnitsOfMeasure.number(text).isPresent()) {
      return no + " here: other numbers of this file have a decimal comma";
    } else if (LOOKS_GROUPED.matcher(text).matches() || GROUPS.matcher(text).matches()) {
      return no
          + "; marks between thousands are read only when told (--grouping point, comma, space,"
          + " apostrophe)";
    }
    return no + "; write digits, such as 1234.5, without grouping marks";
  }
}
