package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.NumberStyle;
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

  private static final Pattern POINT_GROUPS =
      Pattern.compile("[+-]?[0-9]{1,3}(\\.[0-9]{3})+,[0-9]*");
  private static final Pattern COMMA_GROUPS =
      Pattern.compile("[+-]?[0-9]{1,3}(,[0-9]{3})+\\.[0-9]*");

  private static final Map<String, Character> GROUPINGS =
      Map.of("point", '.', "comma", ',', "space", ' ', "apostrophe", '\'');

  private final NumberStyle style;
  private final boolean comma;
  private final Optional<Character> grouping;
  private final Optional<Pattern> grouped;

  private Numbers(NumberStyle style, boolean comma, Optional<Character> grouping) {
    this.style = style;
    this.comma = comma;
    this.grouping = grouping;
    String mark = comma ? "," : "\\.";
    this.grouped =
        grouping.map(
            g ->
                Pattern.compile(
                    "[+-]?[0-9]{1,3}(?:%s[0-9]{3})+(?:%s[0-9]*)?"
                        .formatted(Pattern.quote(String.valueOf(g)), mark)));
  }

  /** Looks at what a number shows about the decimal mark; true stands for a comma. */
  static void look(Evidence evidence, String text, int line, String column) {
    if (evidence.isSettled()) {
      return;
    }
    if (EITHER.matcher(text).matches()) {
      evidence.doubt(text, line, column);
    } else if (ONE_MARK.matcher(text).matches()) {
      evidence.settle(text.indexOf(',') >= 0);
    } else if (POINT_GROUPS.matcher(text).matches()) {
      evidence.settle(true);
    } else if (COMMA_GROUPS.matcher(text).matches()) {
      evidence.settle(false);
    }
  }

  /** How to read a file; where its decimal mark is not certain, it is asked. */
  static Numbers of(Evidence evidence, Grid grid, TableContext context) {
    boolean typed = grid.numbers() == NumberStyle.TYPED;
    Optional<String> told = context.told(Setting.DECIMAL);
    Optional<Evidence.Sample> doubtful =
        evidence
            .doubt()
            .filter(d -> !typed && told.isEmpty())
            .filter(d -> !(grid.separator() == ',' && d.text().indexOf('.') >= 0));
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
            .orElse(!typed && evidence.way().orElse(isComma && grid.separator() != ','));
    Optional<Character> grouping = context.told(Setting.GROUPING).map(GROUPINGS::get);
    Numbers numbers = new Numbers(grid.numbers(), comma, grouping);
    if (!typed) {
      context.fact("decimal mark", numbers.words());
    }
    return numbers;
  }

  /** The decimal mark, for people. */
  String words() {
    return (comma ? "comma" : "point")
        + grouping.map(g -> ", thousands parted by \"" + g + "\"").orElse("");
  }

  Optional<BigDecimal> read(String text) {
    String digits = text.indexOf('\u2212') >= 0 ? text.replace('\u2212', '-') : text;
    if (grouping.isPresent()) {
      char mark = grouping.get();
      String spaced = mark == ' ' ? digits.replaceAll("[\\p{Zs}]", " ") : digits;
      if (grouped.orElseThrow().matcher(spaced).matches()) {
        digits = spaced.replace(String.valueOf(mark), "");
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
    boolean commaWouldDo = !comma && UnitsOfMeasure.number(text.replace(',', '.')).isPresent();
    if (commaWouldDo && style != NumberStyle.TYPED) {
      return no + " here: other numbers of this file have a decimal point";
    } else if (commaWouldDo) {
      return ("%s; write %s (beside numbers that are stored as numbers, a decimal"
              + " comma is read only when told, --decimal comma)")
          .formatted(no, text.replace(',', '.'));
    } else if (comma && UnitsOfMeasure.number(text).isPresent()) {
      return no + " here: other numbers of this file have a decimal comma";
    } else if (looksGrouped(text)) {
      return "%s; marks between thousands are read only when told (--grouping %s)"
          .formatted(no, String.join(", ", List.of("point", "comma", "space", "apostrophe")));
    }
    return no + "; write digits, such as 1234.5, without grouping marks";
  }

  private static boolean looksGrouped(String text) {
    return text.matches("[+-]?[0-9]{1,3}([., '\u2019\\p{Zs}][0-9]{3}){2,}([.,][0-9]*)?")
        || POINT_GROUPS.matcher(text).matches()
        || COMMA_GROUPS.matcher(text).matches();
  }
}
