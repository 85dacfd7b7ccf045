package lotproof.report.workbook;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.util.Comparator;
import java.util.Map;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;

/**
 * Packs a workbook again without the time of packing and the language of the machine, so that the
 * same report gives the same bytes.
 */
final class StableZip {
  /**
   * A time that means none. The very first that the format can say would not do: Java then adds
   * another one, which depends on the time zone.
   */
  private static final LocalDateTime NO_TIME = LocalDateTime.of(1980, 2, 1, 0, 0, 0);

  /** Half the time of the usual level for a tenth more bytes. */
  private static final int LEVEL = 3;

  private static final String CONTENT_TYPES = "[Content_Types].xml";
  private static final String CORE_PROPERTIES = "docProps/core.xml";
  private static final String CHARTS = "xl/charts/";

  private StableZip() {}

  /** The same parts, in a fixed order, without times. */
  static byte[] repacked(byte[] workbook) throws IOException {
    // readers expect the list of content types first
    Map<String, byte[]> parts =
        new TreeMap<>(
            Comparator.comparing((String name) -> !name.equals(CONTENT_TYPES))
                .thenComparing(Comparator.naturalOrder()));
    try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(workbook))) {
      for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
        parts.put(entry.getName(), in.readAllBytes());
      }
    }
    ByteArrayOutputStream bytes = new ByteArrayOutputStream(workbook.length);
    try (ZipOutputStream out = new ZipOutputStream(bytes)) {
      out.setLevel(LEVEL);
      for (Map.Entry<String, byte[]> part : parts.entrySet()) {
        ZipEntry entry = new ZipEntry(part.getKey());
        entry.setTimeLocal(NO_TIME);
        out.putNextEntry(entry);
        out.write(stable(part.getKey(), part.getValue()));
        out.closeEntry();
      }
    }
    return bytes.toByteArray();
  }

  private static byte[] stable(String name, byte[] part) {
    if (name.equals(CORE_PROPERTIES)) {
      return replaced(part, "<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\\1>", "");
    }
    if (name.startsWith(CHARTS)) {
      // the library writes the language of the machine; the words are English everywhere
      return replaced(part, "(<a:\\w+ [^>]*?)lang=\"[^\"]*\"", "$1lang=\"en-GB\"");
    }
    return part;
  }

  private static byte[] replaced(byte[] part, String pattern, String replacement) {
    return new String(part, StandardCharsets.UTF_8)
        .replaceAll(pattern, replacement)
        .getBytes(StandardCharsets.UTF_8);
  }
}
