package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
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

  private static final Pattern GROUPS =
      Pattern.compile("[+-]?[0-9]{1,3}(?:(?:\\.[0-9]{3})+,|(?:,[0-9]{3})+\\.)[0-9]*");
  private static final Pattern LOOKS_GROUPED =
      Pattern.compile("[+-]?[0-9]{1,3}([., '\u2019\\p{Zs}][0-9]{3}){2,}([.,][0-9]*)?");
  private static final Map<String, String> GROUPINGS =
      Map.of("point", "[.]", "comma", ",", "space", "\\p{Zs}", "apostrophe", "['\u2019]");

  private final boolean typed;
  private final boolean comma;
  private final Optional<String> grouping;

  /** Whether each number has a mark of its own. */
  private final boolean mixed;

  private Numbers(boolean typed, boolean comma, Optional<String> grouping, boolean mixed) {
    this.typed = typed;
    this.comma = comma;
    this.grouping = grouping;
    this.mixed = mixed;
  }

  /**
   * A number as a cell holds it.
   *
   * @param unit what stands behind it; empty where nothing does
   */
  record Written(String number, String unit) {
    private static final Pattern WITH_UNIT =
        Pattern.compile(
            "([+\\-\u2212]?[0-9][0-9.,' ]*(?:[eE][+-]?[0-9]{1,3})?)\\s*([^0-9\\s.,].*)");

    static Written of(String text) {
      Matcher parts = WITH_UNIT.matcher(text);
      return !text.isEmpty()
              && !Character.isDigit(text.charAt(text.length() - 1))
              && parts.matches()
          ? new Written(parts.group(1).strip(), parts.group(2))
          : new Written(text, "");
    }
  }

  /** Looks at what a number shows about the decimal mark; the first way is a comma. */
  static void look(Evidence evidence, String text, int line, String column) {
    int lastComma = text.lastIndexOf(',');
    int lastPoint = text.lastIndexOf('.');
    if (evidence.isFirst().isPresent() || lastComma == lastPoint) {
      return;
    }
    if (UnitsOfMeasure.canBeThousands(text)) {
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
    boolean mixed = context.isTold(Setting.DECIMAL, "mixed");
    Optional<String> grouping = context.told(Setting.GROUPING).filter(GROUPINGS::containsKey);
    if (!typed) {
      context.fact(
          "decimal mark",
          (mixed ? "point or comma, number by number" : comma ? "comma" : "point")
              + grouping.map(mark -> ", thousands mark " + mark).orElse(""));
    }
    return new Numbers(typed, comma, grouping, mixed);
  }

  /** The same for loads in headers, whose decimal mark whoever typed below them did not choose. */
  Numbers inHeaders(Evidence loads, TableContext context) {
    if (loads.isFirst().orElse(comma) == comma) {
      return this;
    }
    context.fact("decimal mark of loads in the header", comma ? "point" : "comma");
    return new Numbers(typed, !comma, Optional.empty(), mixed);
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
    if (mixed) {
      return UnitsOfMeasure.canBeThousands(digits)
          ? Optional.empty()
          : UnitsOfMeasure.number(digits.replace(',', '.'));
    } else if (comma) {
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
    boolean either = UnitsOfMeasure.canBeThousands(text);
    String advice =
        either || LOOKS_GROUPED.matcher(text).matches() || GROUPS.matcher(text).matches()
            ? "; if its mark stands between thousands, say --grouping " + mark(text)
            : "";
    if (mixed && either) {
      return no + " that can mean one thing only" + advice;
    } else if (typed && !comma && UnitsOfMeasure.number(pointed).isPresent()) {
      return ("%s; write %s (beside numbers that are stored as numbers, a decimal comma is read"
              + " only when told, --decimal comma)")
          .formatted(no, pointed);
    } else if (UnitsOfMeasure.number(comma ? text : pointed).isPresent()) {
      return no
          + " here: other numbers of this file have a decimal "
          + (comma ? "comma" : "point")
          + (either ? advice : "; if the bench typed both, say --decimal mixed");
    }
    return no + (advice.isEmpty() ? "; write digits, such as 1234.5" : advice);
  }

  /** The word for the mark behind the first digits of a number. */
  private static String mark(String text) {
    String rest = text.replaceFirst("^[+-]?[0-9]+", "");
    return GROUPINGS.entrySet().stream()
        .filter(grouping -> rest.matches("(?s)(?:" + grouping.getValue() + ").*"))
        .map(Map.Entry::getKey)
        .findFirst()
        .orElse("space");
  }
}
