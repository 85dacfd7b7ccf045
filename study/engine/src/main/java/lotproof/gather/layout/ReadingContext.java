package lotproof.gather.layout;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.ColumnMap.Conversion;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** What is said and found out about a file of readings, with the study that they belong to. */
final class ReadingContext extends TableContext {
  private static final Pattern PAIR =
      Pattern.compile("(.+?)\\s*(?:/|\\+|&|\\bx\\b|\\u00D7|\\|)\\s*(.+)");

  private final Study study;
  private final Map<UnitKind, Set<String>> units = new EnumMap<>(UnitKind.class);

  /** What headers say, since each row near the top of a table is tried as one. */
  private final Map<String, HeaderCell> headers = new HashMap<>();

  ReadingContext(ReceivedFile file, Study study, Mapping mapping) {
    super(file, mapping);
    this.study = study;
    for (UnitKind kind : UnitKind.values()) {
      units.put(kind, Set.copyOf(study.serials(kind)));
    }
  }

  Study study() {
    return study;
  }

  /** What a header says; a number alone that is a load of the study is the output at it. */
  HeaderCell header(String text) {
    return headers.computeIfAbsent(text, this::read);
  }

  private HeaderCell read(String text) {
    HeaderCell cell = HeaderCell.of(text, mapping());
    OptionalDouble number = UnitsOfMeasure.nearest(text.replace(',', '.'));
    boolean load =
        number.isPresent() && study.design().loadsKilograms().contains(number.getAsDouble());
    return load && cell instanceof HeaderCell.Unknown
        ? new HeaderCell.AtLoad(text, Unit.KILOGRAM, OptionalInt.empty(), Optional.empty(), "")
        : cell;
  }

  /** Whether a text is the serial of such a unit of the study. */
  boolean is(UnitKind kind, String text) {
    return units.getOrDefault(kind, Set.of()).contains(text);
  }

  /** Whether a text is the serial of a cell or a board of the study. */
  boolean isUnit(String text) {
    return is(UnitKind.CELL, text) || is(UnitKind.BOARD, text);
  }

  /** A cell and a board. */
  record Pair(String cell, String board) {}

  /** The cell and the board that a text names together, in either order. */
  Optional<Pair> pair(String text) {
    Matcher parts = PAIR.matcher(text);
    if (text.length() > HeaderCell.LONGEST || !parts.matches()) {
      return Optional.empty();
    }
    return Stream.of(
            new Pair(parts.group(1), parts.group(2)), new Pair(parts.group(2), parts.group(1)))
        .filter(p -> is(UnitKind.CELL, p.cell()) && is(UnitKind.BOARD, p.board()))
        .findFirst();
  }

  /** How numbers in this unit become numbers of a column of the record. */
  Conversion conversion(ReadingColumn column, Unit from) {
    return Conversion.of(column, from, study.kit());
  }

  /** Names a column that every reading needs, unless it is open what another one is. */
  void missing(ReadingColumn column, Row header) {
    boolean unclear =
        questions().stream()
            .anyMatch(q -> q.setting().isEmpty() && q.unanswered().code() == Code.AMBIGUOUS);
    if (!unclear) {
      error(
          Code.COLUMN_MISSING,
          header.number(),
          column.header(),
          "there is no column \"%s\"; every reading needs it: say which it is with --column"
              + " \"HEADER=%1$s\", or one value for all with --value \"%s=...\"",
          column.header(),
          column.word());
    }
  }
}
