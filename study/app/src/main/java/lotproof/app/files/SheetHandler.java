package lotproof.app.files;

import java.util.ArrayList;
import java.util.List;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;
import org.apache.poi.ss.util.CellReference;
import org.jspecify.annotations.Nullable;
import org.xml.sax.Attributes;
import org.xml.sax.SAXException;
import org.xml.sax.helpers.DefaultHandler;

/**
 * Takes the cells of one sheet from its markup (ECMA-376-1, 18.3.1): rows {@code row}, cells {@code
 * c} with a formula {@code f}, a value {@code v} or text of their own {@code is/t}.
 */
final class SheetHandler extends DefaultHandler {
  private static final int MOST_CELLS = 2_000_000;
  private static final int MOST_COLUMNS = 16_384;

  private final CellMaker maker;
  private final List<Row> rows = new ArrayList<>();
  private final List<SheetContent.Problem> problems = new ArrayList<>();
  private final Marks marks = new Marks();

  /** First and last of columns that are hidden, counted from 0. */
  private final List<int[]> hiddenColumns = new ArrayList<>();

  private final List<Cell> cells = new ArrayList<>();
  private int cellCount;
  private int row;
  private boolean rowIsHidden;

  private int column = -1;
  private String type = "n";
  private int style;
  private boolean hasFormula;
  private boolean hasOwnText;
  private boolean ownTextIsStruck;
  private int values;
  private boolean inPhonetic;
  private boolean taking;
  private final StringBuilder value = new StringBuilder();

  SheetHandler(CellMaker maker) {
    this.maker = maker;
  }

  SheetContent content(String name, boolean hidden) {
    return new SheetContent(name, rows, problems, hidden, marks.all());
  }

  @Override
  public void startElement(String uri, String localName, String name, Attributes attributes)
      throws SAXException {
    switch (localName) {
      case "row" -> startRow(attributes);
      case "c" -> startCell(attributes);
      case "col" -> column(attributes);
      case "strike" -> ownTextIsStruck |= StruckStrings.isStrike(localName, attributes);
      case "f" -> hasFormula = true;
      case "rPh" -> inPhonetic = true;
      case "v" -> {
        taking = true;
        values++;
      }
      case "t" -> {
        taking = !inPhonetic;
        hasOwnText = true;
      }
      default -> {}
    }
  }

  @Override
  public void endElement(String uri, String localName, String name) {
    switch (localName) {
      case "row" -> endRow();
      case "c" -> endCell();
      case "rPh" -> inPhonetic = false;
      case "v", "t" -> taking = false;
      default -> {}
    }
  }

  @Override
  public void characters(char[] text, int start, int length) {
    if (taking) {
      value.append(text, start, length);
    }
  }

  private void startRow(Attributes attributes) {
    String number = attributes.getValue("r");
    row = number == null ? row + 1 : Integer.parseInt(number);
    rowIsHidden = isHidden(attributes, "ht");
    column = -1;
    cells.clear();
  }

  private void endRow() {
    Row done = new Row(row, cells);
    if (!done.isBlank()) {
      rows.add(done);
      if (rowIsHidden) {
        marks.hiddenRow(row);
      }
    }
  }

  /** Hidden, or with a size of zero, which comes to the same. */
  private static boolean isHidden(Attributes attributes, String size) {
    String hidden = attributes.getValue("hidden");
    String extent = attributes.getValue(size);
    return "1".equals(hidden)
        || "true".equals(hidden)
        || (extent != null && extent.matches("0(?:\\.0*)?"));
  }

  private void column(Attributes attributes) {
    if (isHidden(attributes, "width")) {
      int first = Integer.parseInt(orElse(attributes.getValue("min"), "1"));
      int last = Integer.parseInt(orElse(attributes.getValue("max"), "1"));
      hiddenColumns.add(new int[] {first - 1, last - 1});
    }
  }

  private void mark() {
    if (hiddenColumns.stream().anyMatch(c -> column >= c[0] && column <= c[1])) {
      marks.hiddenColumn(column);
    }
    if (maker.showsNothing(style)) {
      marks.hiddenCell(row, column);
    }
    boolean struckText = type.equals("s") && !hasFormula && maker.isStruckText(value.toString());
    if (maker.isStruck(style) || ownTextIsStruck || struckText) {
      marks.struckCell(row, column);
    }
  }

  private void startCell(Attributes attributes) throws SAXException {
    cellCount++;
    if (cellCount > MOST_CELLS) {
      throw new SAXException("a sheet has more than " + MOST_CELLS + " cells");
    }
    String reference = attributes.getValue("r");
    column = reference == null ? column + 1 : new CellReference(reference).getCol();
    if (column < cells.size() || column >= MOST_COLUMNS) {
      throw new SAXException("a cell has the impossible place " + reference);
    }
    type = orElse(attributes.getValue("t"), "n");
    style = Integer.parseInt(orElse(attributes.getValue("s"), "-1"));
    hasFormula = false;
    hasOwnText = false;
    ownTextIsStruck = false;
    values = 0;
    value.setLength(0);
  }

  private void endCell() {
    while (cells.size() < column) {
      cells.add(new Cell.Blank());
    }
    Cell cell = cell();
    cells.add(cell);
    if (!(cell instanceof Cell.Blank)) {
      mark();
    }
  }

  private Cell cell() {
    String stored = value.toString();
    if (hasFormula) {
      // Shared text is stored as a number of its own, which would only mislead.
      boolean tells = !stored.isEmpty() && !type.equals("s");
      return unusable(
          "holds a formula"
              + (tells ? " (stored value " + stored + ")" : "")
              + "; a calculated value is no reading: give the value itself");
    }
    if (values > 1 || (values == 1 && hasOwnText)) {
      return unusable("holds several values");
    }
    if (stored.isEmpty()) {
      return new Cell.Blank();
    }
    return switch (type) {
      case "n" -> maker.number(stored, style);
      case "s" -> maker.shared(stored);
      case "inlineStr", "str", "d" -> Cell.of(stored);
      case "b" -> unusable("holds the truth value " + (stored.equals("1") ? "TRUE" : "FALSE"));
      case "e" -> unusable("holds the error " + stored);
      default -> unusable("holds a value of the unknown type \"" + type + "\"");
    };
  }

  private Cell unusable(String what) {
    problems.add(new SheetContent.Problem(row, column, what));
    return new Cell.Unusable();
  }

  private static String orElse(@Nullable String value, String otherwise) {
    return value == null ? otherwise : value;
  }
}
