package lotproof.app.files;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.ParserConfigurationException;
import lotproof.folder.ReceivedFile;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.TableReader;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import org.apache.poi.openxml4j.exceptions.OpenXML4JException;
import org.apache.poi.openxml4j.opc.OPCPackage;
import org.apache.poi.openxml4j.util.ZipSecureFile;
import org.apache.poi.util.XMLHelper;
import org.apache.poi.xssf.eventusermodel.XSSFReader;
import org.xml.sax.ContentHandler;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;
import org.xml.sax.XMLReader;

/**
 * Reads .xlsx workbooks as tables, as a stream of events and not as a workbook in memory.
 *
 * <p>The table is on the sheet named "readings", or else on the only sheet that holds anything. A
 * formula is no data, whatever value is stored beside it; errors and truth values are none either.
 */
public final class WorkbookTables implements TableReader {
  private static final double SMALLEST_INFLATE_RATIO = 0.01;
  private static final long LARGEST_PART_BYTES = 256L << 20;
  private static final long LARGEST_TEXT_CHARACTERS = 32L << 20;
  private static final long MOST_PARTS = 1000;

  static {
    // A few kilobytes can unpack to gigabytes; these limits hold for the whole process.
    ZipSecureFile.setMinInflateRatio(SMALLEST_INFLATE_RATIO);
    ZipSecureFile.setMaxEntrySize(LARGEST_PART_BYTES);
    ZipSecureFile.setMaxTextSize(LARGEST_TEXT_CHARACTERS);
    ZipSecureFile.setMaxFileCount(MOST_PARTS);
  }

  @Override
  public boolean accepts(ReceivedFile file) {
    if (!file.firstBytes(4).equals("504b0304")) {
      return false;
    }
    // The names of the parts stand unpacked in the archive.
    String raw = StandardCharsets.ISO_8859_1.decode(file.content()).toString();
    return raw.contains("[Content_Types].xml") && raw.contains("xl/workbook");
  }

  @Override
  public Result<List<Grid>> open(ReceivedFile file, Mapping mapping) {
    try {
      return SheetGrids.of(file, sheets(file), mapping);
    } catch (IOException e) {
      return Result.refused(unreadable(file, e));
    }
  }

  private static DataIssue unreadable(ReceivedFile file, IOException e) {
    String message = "the workbook cannot be read (" + e.getMessage() + ")";
    return DataIssue.error(Code.FILE_UNREADABLE, file.name(), 0, "", "", message);
  }

  private static List<SheetContent> sheets(ReceivedFile file) throws IOException {
    try (OPCPackage workbook = OPCPackage.open(file.stream())) {
      List<SheetContent> sheets = sheets(workbook);
      // now the sizes are known to be bearable
      ArchiveCheck.mustBeWhole(file);
      return sheets;
    } catch (IOException
        | OpenXML4JException
        | SAXException
        | ParserConfigurationException
        | RuntimeException e) {
      // The library answers damaged files with exceptions of many kinds, unchecked ones included.
      throw new IOException(reason(e));
    }
  }

  private static List<SheetContent> sheets(OPCPackage workbook)
      throws IOException, OpenXML4JException, SAXException, ParserConfigurationException {
    XSSFReader reader = new XSSFReader(workbook, true);
    reader.setUseReadOnlySharedStringsTable(true);
    WorkbookFacts facts = new WorkbookFacts();
    try (InputStream data = reader.getWorkbookData()) {
      parse(data, facts);
    }
    StruckStrings struck = new StruckStrings();
    try (InputStream data = reader.getSharedStringsData()) {
      if (data != null) {
        parse(data, struck);
      }
    }
    CellMaker cells =
        new CellMaker(
            reader.getSharedStringsTable(),
            struck,
            reader.getStylesTable(),
            facts.countsFrom1904());
    List<SheetContent> sheets = new ArrayList<>();
    XSSFReader.SheetIterator parts = reader.getSheetIterator();
    while (parts.hasNext()) {
      try (InputStream data = parts.next()) {
        SheetHandler handler = new SheetHandler(cells);
        parse(data, handler);
        String name = parts.getSheetName();
        sheets.add(handler.content(name, facts.isHidden(name)));
      }
    }
    return sheets;
  }

  private static void parse(InputStream data, ContentHandler handler)
      throws IOException, SAXException, ParserConfigurationException {
    XMLReader xml = XMLHelper.newXMLReader();
    xml.setContentHandler(handler);
    xml.parse(new InputSource(data));
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
}
