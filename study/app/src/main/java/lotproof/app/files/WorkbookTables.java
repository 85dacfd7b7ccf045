package lotproof.app.files;

import java.io.IOException;
import java.io.OutputStream;
import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.zip.ZipInputStream;
import lotproof.folder.ReceivedFile;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import org.apache.poi.hssf.usermodel.HSSFRichTextString;
import org.apache.poi.hssf.usermodel.HSSFWorkbook;
import org.apache.poi.openxml4j.util.ZipSecureFile;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DataFormatter;
import org.apache.poi.ss.usermodel.Date1904Support;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.RichTextString;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFRichTextString;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * Reads .xlsx and .xls workbooks as tables, one candidate for each sheet that holds something. A
 * formula is no data, whatever value is stored beside it; errors and truth values are none either.
 */
public final class WorkbookTables implements TableReaders.OtherKind {
  private static final String OLD_SIGNATURE = "d0cf11e0a1b11ae1";
  private static final int LARGEST_OLD_BYTES = 32 << 20;
  private static final double SMALLEST_INFLATE_RATIO = 0.01;
  private static final long LARGEST_PART_BYTES = 128L << 20;
  private static final long LARGEST_TEXT_CHARACTERS = 32L << 20;
  private static final long MOST_PARTS = 1000;

  /** Begins the record that ends an archive, which tells of the number of its entries. */
  private static final int ARCHIVE_END = 0x06054b50;

  private static final int ARCHIVE_END_LENGTH = 22;
  private static final int ENTRIES_AT = 10;

  /** Stands for a number of entries that is written elsewhere. */
  private static final int MANY_ENTRIES = 0xffff;

  static {
    // A few kilobytes can unpack to gigabytes; these limits hold for the whole process.
    ZipSecureFile.setMinInflateRatio(SMALLEST_INFLATE_RATIO);
    ZipSecureFile.setMaxEntrySize(LARGEST_PART_BYTES);
    ZipSecureFile.setMaxTextSize(LARGEST_TEXT_CHARACTERS);
    ZipSecureFile.setMaxFileCount(MOST_PARTS);
  }

  @Override
  public Optional<Result<List<Grid>>> open(ReceivedFile file, Mapping mapping) {
    return accepts(file) ? Optional.of(read(file, mapping)) : Optional.empty();
  }

  private static boolean accepts(ReceivedFile file) {
    if (!file.firstBytes(4).equals("504b0304")) {
      return isOld(file);
    }
    // The names of the parts stand unpacked in the archive.
    String raw = StandardCharsets.ISO_8859_1.decode(file.content()).toString();
    return raw.contains("[Content_Types].xml") && raw.contains("xl/workbook");
  }

  private static boolean isOld(ReceivedFile file) {
    return file.firstBytes(8).equals(OLD_SIGNATURE);
  }

  private static Result<List<Grid>> read(ReceivedFile file, Mapping mapping) {
    try (Workbook workbook = workbook(file)) {
      List<SheetReader> filled = new ArrayList<>();
      for (Sheet sheet : workbook) {
        SheetReader read = new SheetReader(file, sheet, mapping);
        if (read.isFilled()) {
          filled.add(read);
        }
      }
      return grids(file, filled, mapping.setting(Setting.SHEET));
    } catch (IOException | RuntimeException e) {
      // The library answers damaged files with exceptions of many kinds, unchecked ones included.
      String message =
          isOld(file)
              ? "the .xls workbook cannot be read (%s); a password must be taken off, or save it as"
                  + " .xlsx"
              : "the workbook cannot be read (%s)";
      return refused(Code.FILE_UNREADABLE, file, message.formatted(reason(e)));
    }
  }

  private static Workbook workbook(ReceivedFile file) throws IOException {
    if (!isOld(file)) {
      Workbook workbook = new XSSFWorkbook(file.stream());
      // now the sizes are known to be bearable
      mustBeWhole(file);
      return workbook;
    }
    if (file.size() > LARGEST_OLD_BYTES) {
      throw new IOException("it is larger than 32 MiB");
    }
    return new HSSFWorkbook(file.stream());
  }

  private static Result<List<Grid>> grids(
      ReceivedFile file, List<SheetReader> filled, Optional<String> wanted) {
    if (filled.isEmpty()) {
      return refused(Code.FILE_EMPTY, file, "no sheet of the workbook holds anything");
    }
    List<SheetReader> taken =
        filled.stream().filter(s -> wanted.isEmpty() || s.name().equals(wanted.get())).toList();
    if (taken.isEmpty()) {
      String names = String.join(", ", filled.stream().map(SheetReader::name).toList());
      return refused(
          Code.FILE_TYPE,
          file,
          "no sheet \"" + wanted.orElse("") + "\" holds anything; the sheets are: " + names);
    }
    return Result.of(taken.stream().map(SheetReader::grid).toList());
  }

  private static Result<List<Grid>> refused(Code code, ReceivedFile file, String message) {
    return Result.refused(code, file.name(), message);
  }

  /** The library's words, where they say something to a person; else our own. */
  private static String reason(Exception e) {
    String told = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
    if (told.contains("DOCTYPE")) {
      return "it declares a document type, which could fetch other files and which no spreadsheet"
          + " writes";
    }
    return told.contains("Zip bomb") || told.contains("ZipSecureFile")
        ? "it unpacks to far more than its size, as a file does that is made to fill the memory"
        : told;
  }

  /**
   * Holds the parts of an archive against their checksums. The library does not: a flipped bit can
   * make another number of one, without any other sign.
   */
  private static void mustBeWhole(ReceivedFile file) throws IOException {
    int entries = 0;
    try (ZipInputStream archive = new ZipInputStream(file.stream())) {
      while (archive.getNextEntry() != null) {
        archive.transferTo(OutputStream.nullOutputStream());
        entries++;
      }
    } catch (IOException | IllegalArgumentException e) {
      throw damaged(String.valueOf(e.getMessage()));
    }
    ByteBuffer bytes = file.content().duplicate().order(ByteOrder.LITTLE_ENDIAN);
    int end = bytes.limit() - ARCHIVE_END_LENGTH;
    while (end >= 0 && bytes.getInt(end) != ARCHIVE_END) {
      end--;
    }
    int told = end < 0 ? 0 : Short.toUnsignedInt(bytes.getShort(end + ENTRIES_AT));
    if (told != entries && told != MANY_ENTRIES) {
      throw damaged("it holds " + entries + " parts and tells of " + told);
    }
  }

  private static IOException damaged(String how) {
    return new IOException(
        "its archive is damaged: " + how + "; fetch the file again, or save it anew");
  }

  /** Takes the cells of one sheet, without what a person said to leave out. */
  private static final class SheetReader {
    private static final String GENERAL = "General";

    /** What stands in brackets or quotation marks of a format shows no hours. */
    private static final Pattern NO_HOURS = Pattern.compile("\\[[^\\]]*\\]|\"[^\"]*\"");

    private static final int LONGEST_FORMAT = 255;

    private final ReceivedFile file;
    private final Sheet sheet;
    private final Mapping mapping;
    private final boolean countsFrom1904;
    private final DataFormatter formatter = new DataFormatter(Locale.ROOT);
    private final List<Row> rows = new ArrayList<>();
    private final List<DataIssue> issues = new ArrayList<>();

    /** Hidden columns stand before the other parts. */
    private final List<Grid.Concealed> concealed = new ArrayList<>();

    private final Set<Integer> hiddenColumns = new HashSet<>();
    private boolean filled;

    SheetReader(ReceivedFile file, Sheet sheet, Mapping mapping) {
      this.file = file;
      this.sheet = sheet;
      this.mapping = mapping;
      this.countsFrom1904 = sheet.getWorkbook() instanceof Date1904Support d && d.isDate1904();
      sheet.forEach(this::read);
      sheet.getMergedRegions().forEach(this::fill);
    }

    /** What is merged over several rows of a column holds for each of them. */
    private void fill(CellRangeAddress merged) {
      int column = merged.getFirstColumn();
      List<Cell> first =
          rows.stream()
              .filter(row -> row.number() == merged.getFirstRow() + 1)
              .map(row -> row.cell(column))
              .toList();
      if (column == merged.getLastColumn() && !first.isEmpty()) {
        rows.replaceAll(
            row ->
                row.number() > merged.getFirstRow() + 1 && row.number() <= merged.getLastRow() + 1
                    ? row.with(column, first.get(0))
                    : row);
      }
    }

    String name() {
      return Objects.requireNonNullElse(sheet.getSheetName(), "without name");
    }

    /** Whether it holds anything, left out or not. */
    boolean isFilled() {
      return filled;
    }

    Grid grid() {
      Workbook workbook = sheet.getWorkbook();
      int index = workbook.getSheetIndex(sheet);
      List<Fact> facts = new ArrayList<>(List.of(new Fact("format", "workbook")));
      addFact(facts, Setting.HIDDEN, "hidden rows, columns and cells");
      addFact(facts, Setting.STRUCK, "values struck through");
      return new Grid(
          name(),
          facts,
          '\0',
          Grid.Rows.of(rows),
          issues,
          workbook.isSheetHidden(index) || workbook.isSheetVeryHidden(index),
          concealed);
    }

    private void addFact(List<Fact> facts, Setting setting, String what) {
      long parts = concealed.stream().filter(c -> c.setting() == setting).count();
      if (parts > 0 && mapping.setting(setting).isPresent()) {
        facts.add(
            new Fact(what, parts + (leaves(setting) ? " left out, as told" : " taken, as told")));
      }
    }

    private boolean leaves(Setting setting) {
      return mapping.setting(setting).filter("leave"::equals).isPresent();
    }

    private void read(org.apache.poi.ss.usermodel.Row row) {
      // a height of zero comes to the same
      boolean hidden = row.getZeroHeight() || row.getHeight() == 0;
      boolean left = hidden && leaves(Setting.HIDDEN);
      boolean holds = false;
      List<Cell> cells = new ArrayList<>();
      for (org.apache.poi.ss.usermodel.Cell cell : row) {
        while (cells.size() < cell.getColumnIndex()) {
          cells.add(new Cell.Blank());
        }
        String problem = problem(cell);
        Cell content = problem.isEmpty() ? content(cell) : new Cell.Unusable();
        boolean blank = content instanceof Cell.Blank;
        cells.add(blank ? content : taken(cell, content, left ? "" : problem));
        holds |= !blank;
      }
      filled |= holds;
      if (holds && hidden) {
        conceal(Setting.HIDDEN, row.getRowNum() + 1, -1, "row " + (row.getRowNum() + 1));
      }
      Row done = new Row(row.getRowNum() + 1, cells);
      if (!left && !done.isBlank()) {
        rows.add(done);
      }
    }

    private void conceal(Setting setting, int row, int column, String place) {
      concealed.add(new Grid.Concealed(setting, row, column, place));
    }

    /** What of a cell that holds something is taken. */
    private Cell taken(org.apache.poi.ss.usermodel.Cell cell, Cell content, String problem) {
      int row = cell.getRowIndex() + 1;
      int column = cell.getColumnIndex();
      String letters = CellReference.convertNumToColString(column);
      boolean hiddenColumn = sheet.isColumnHidden(column) || sheet.getColumnWidth(column) == 0;
      if (hiddenColumn && hiddenColumns.add(column)) {
        concealed.add(
            hiddenColumns.size() - 1,
            new Grid.Concealed(Setting.HIDDEN, 0, column, "column " + letters));
      }
      boolean shown = !format(cell).matches(";{2,3}");
      if (!shown) {
        conceal(Setting.HIDDEN, row, column, "cell " + letters + row);
      }
      boolean struck = isStruck(cell);
      if (struck) {
        conceal(Setting.STRUCK, row, column, "cell " + letters + row);
      }
      if ((hiddenColumn || !shown) && leaves(Setting.HIDDEN)) {
        return new Cell.Blank();
      } else if (struck && leaves(Setting.STRUCK)) {
        return new Cell.LeftOut();
      } else if (!problem.isEmpty()) {
        String message = "cell " + letters + row + " " + problem;
        issues.add(
            DataIssue.error(
                DataIssue.Code.VALUE_INVALID, file.name(), row, "column " + letters, "", message));
      }
      return content;
    }

    private static String format(org.apache.poi.ss.usermodel.Cell cell) {
      CellStyle style = cell.getCellStyle();
      String format = style == null ? GENERAL : style.getDataFormatString();
      return format == null ? GENERAL : format;
    }

    /** Whether a cell or its text is struck through, in whole or in part. */
    private boolean isStruck(org.apache.poi.ss.usermodel.Cell cell) {
      Workbook workbook = sheet.getWorkbook();
      CellStyle style = cell.getCellStyle();
      if (style != null && workbook.getFontAt(style.getFontIndex()).getStrikeout()) {
        return true;
      }
      boolean struck = false;
      if (cell.getCellType() == CellType.STRING) {
        RichTextString text = cell.getRichStringCellValue();
        for (int run = 0; run < text.numFormattingRuns(); run++) {
          if (text instanceof HSSFRichTextString old) {
            struck |= workbook.getFontAt(old.getFontOfFormattingRun(run)).getStrikeout();
          } else if (text instanceof XSSFRichTextString rich) {
            XSSFFont font = rich.getFontOfFormattingRun(run);
            struck |= font != null && font.getStrikeout();
          }
        }
      }
      return struck;
    }

    /** Why a cell holds no data; empty where it does. */
    private static String problem(org.apache.poi.ss.usermodel.Cell cell) {
      return switch (cell.getCellType()) {
        case FORMULA ->
            "holds a formula"
                + stored(cell)
                + "; a calculated value is no reading: give the value itself";
        case BOOLEAN -> "holds the truth value " + (cell.getBooleanCellValue() ? "TRUE" : "FALSE");
        case ERROR ->
            "holds the error " + FormulaError.forInt(cell.getErrorCellValue()).getString();
        default -> "";
      };
    }

    /** The number beside a formula, if there is one. */
    private static String stored(org.apache.poi.ss.usermodel.Cell cell) {
      boolean text = cell.getCachedFormulaResultType() == CellType.STRING;
      String value = cell instanceof XSSFCell xlsx && !text ? xlsx.getRawValue() : null;
      return value == null || value.isEmpty() ? "" : " (stored value " + value + ")";
    }

    private Cell content(org.apache.poi.ss.usermodel.Cell cell) {
      return switch (cell.getCellType()) {
        case NUMERIC -> number(cell, cell.getNumericCellValue());
        case STRING -> Cell.of(cell.getStringCellValue());
        default -> new Cell.Blank();
      };
    }

    /** A number, or the date that its format makes of it. */
    private Cell number(org.apache.poi.ss.usermodel.Cell cell, double value) {
      CellStyle style = cell.getCellStyle();
      int index = style == null ? 0 : style.getDataFormat();
      String format = format(cell);
      // Below 1 there is a time of day without a date.
      if (DateUtil.isADateFormat(index, format) && value >= 1 && DateUtil.isValidExcelDate(value)) {
        String words = format.substring(0, Math.min(format.length(), LONGEST_FORMAT));
        boolean hours = NO_HOURS.matcher(words).replaceAll("").matches("(?is).*h.*");
        boolean hasTime = hours || value != Math.rint(value);
        return new Cell.DateTime(DateUtil.getLocalDateTime(value, countsFrom1904, true), hasTime);
      }
      BigDecimal shortest = new BigDecimal(Double.toString(value)).stripTrailingZeros();
      String shown =
          GENERAL.equals(format)
              ? shortest.toPlainString()
              : formatter.formatRawCellContents(value, index, format, countsFrom1904);
      return new Cell.Numeric(shortest, shown);
    }
  }
}
