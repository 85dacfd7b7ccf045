package lotproof.report.workbook;

import java.awt.Font;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import org.apache.commons.compress.archivers.zip.Zip64Mode;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** A workbook whose rows go to the file as they are made, packed so that it carries no time. */
final class StableWorkbook extends SXSSFWorkbook {
  private static final int ROWS_IN_MEMORY = 100;

  /**
   * A workbook around another.
   *
   * @param template sheets with everything but the rows that are streamed; of no use afterwards
   */
  StableWorkbook(XSSFWorkbook template) {
    this(template, template.getFontAt(0).getFontName());
  }

  private StableWorkbook(XSSFWorkbook template, String font) {
    super(withKnownFont(template), ROWS_IN_MEMORY);
    template.getFontAt(0).setFontName(font);
    // the larger form of the archive's lengths cannot be read back as a stream
    setZip64Mode(Zip64Mode.Never);
  }

  /**
   * The library measures a letter of the normal font for each sheet, for widths that nobody asks
   * for; where the system has no such font, it would look through all that there are.
   */
  private static XSSFWorkbook withKnownFont(XSSFWorkbook template) {
    template.getFontAt(0).setFontName(Font.DIALOG);
    return template;
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
}
