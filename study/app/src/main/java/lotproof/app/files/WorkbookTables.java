package lotproof.app.files;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.zip.ZipInputStream;
import lotproof.folder.ReceivedFile;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import org.apache.poi.hssf.usermodel.HSSFWorkbook;
import org.apache.poi.openxml4j.util.ZipSecureFile;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
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
    return Result.refused(DataIssue.error(code, file.name(), message));
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
}
