package lotproof.app.files;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import lotproof.gather.tables.Concealed;
import lotproof.gather.tables.Setting;
import org.apache.poi.ss.util.CellReference;

/** Collects what of a sheet is hidden or struck through and holds something. */
final class Marks {
  /** A number format that shows nothing, whatever the number is. */
  private static final Pattern SHOWS_NOTHING = Pattern.compile(";{2,3}");

  private final List<Concealed> all = new ArrayList<>();
  private final Map<Integer, Concealed> columns = new LinkedHashMap<>();

  static boolean showsNothing(String format) {
    return SHOWS_NOTHING.matcher(format).matches();
  }

  void hiddenRow(int row) {
    all.add(new Concealed(Setting.HIDDEN, row, -1, "row " + row));
  }

  /** Columns are counted from 0; one is kept once, however many cells of it hold something. */
  void hiddenColumn(int column) {
    String place = "column " + CellReference.convertNumToColString(column);
    columns.computeIfAbsent(column, c -> new Concealed(Setting.HIDDEN, 0, c, place));
  }

  void hiddenCell(int row, int column) {
    all.add(new Concealed(Setting.HIDDEN, row, column, cell(row, column)));
  }

  void struckCell(int row, int column) {
    all.add(new Concealed(Setting.STRUCK, row, column, cell(row, column)));
  }

  private static String cell(int row, int column) {
    return "cell " + CellReference.convertNumToColString(column) + row;
  }

  List<Concealed> all() {
    List<Concealed> both = new ArrayList<>(columns.values());
    both.addAll(all);
    return both;
  }
}
