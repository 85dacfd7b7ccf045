package lotproof.report.workbook;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import org.apache.commons.compress.archivers.zip.Zip64Mode;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.jspecify.annotations.Nullable;

/** A workbook whose rows go to the file as they are made, packed so that it carries no time. */
final class StableWorkbook extends SXSSFWorkbook {
  private static final int ROWS_IN_MEMORY = 100;

  /**
   * A workbook around another.
   *
   * @param template sheets with everything but the rows that are streamed; of no use afterwards
   */
  StableWorkbook(XSSFWorkbook template) {
    super(template, ROWS_IN_MEMORY);
    // the larger form of the archive's lengths cannot be read back as a stream
    setZip64Mode(Zip64Mode.Never);
  }

  /** The bytes of a workbook all of whose rows are there; the same for the same content. */
  static byte[] packed(XSSFWorkbook workbook) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (StableWorkbook stable = new StableWorkbook(workbook)) {
      stable.write(bytes);
    }
    return bytes.toByteArray();
  }

  @Override
  protected ZipArchiveOutputStream createArchiveOutputStream(OutputStream out) {
    return new StableArchive(out);
  }

  /** Only the files of rows are given back: closing the template would pack it for nobody. */
  @Override
  @SuppressWarnings("deprecation") // the part of closing that is wanted has no other name
  public void close() {
    dispose();
  }

  /** Packs a workbook without the time of packing, so that the same report gives the same bytes. */
  private static final class StableArchive extends ZipArchiveOutputStream {
    /**
     * A time that means none. The very first that the format can say would not do: Java then adds
     * another one, which depends on the time zone.
     */
    private static final LocalDateTime NO_TIME = LocalDateTime.of(1980, 2, 1, 0, 0, 0);

    /** Half the time of the usual level for a tenth more bytes. */
    private static final int LEVEL = 3;

    private static final String CORE_PROPERTIES = "docProps/core.xml";

    /** Bytes of the part that has to be changed, once it is complete. */
    private @Nullable ByteArrayOutputStream held;

    StableArchive(OutputStream out) {
      super(out);
      setLevel(LEVEL);
    }

    @Override
    public void putArchiveEntry(ZipArchiveEntry entry) throws IOException {
      String name = entry.getName();
      ZipArchiveEntry timeless = new ZipArchiveEntry(name);
      timeless.setTimeLocal(NO_TIME);
      super.putArchiveEntry(timeless);
      held = name.equals(CORE_PROPERTIES) ? new ByteArrayOutputStream() : null;
    }

    @Override
    public void write(byte[] bytes, int offset, int length) throws IOException {
      ByteArrayOutputStream part = held;
      if (part == null) {
        super.write(bytes, offset, length);
      } else {
        part.write(bytes, offset, length);
      }
    }

    @Override
    public void closeArchiveEntry() throws IOException {
      ByteArrayOutputStream part = held;
      if (part != null) {
        held = null;
        byte[] stable = stable(part);
        super.write(stable, 0, stable.length);
      }
      super.closeArchiveEntry();
    }

    private static byte[] stable(ByteArrayOutputStream part) {
      return part.toString(StandardCharsets.UTF_8)
          .replaceAll("<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\\1>", "")
          .getBytes(StandardCharsets.UTF_8);
    }
  }
}
