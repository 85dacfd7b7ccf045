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
 * Packs a workbook again without the time of packing, so that the same report gives the same bytes.
 */
final class StableZip {
  /** The earliest time that the format can say; it means that none is given. */
  private static final LocalDateTime NO_TIME = LocalDateTime.of(1980, 1, 1, 0, 0, 0);

  private static final String CONTENT_TYPES = "[Content_Types].xml";
  private static final String CORE_PROPERTIES = "docProps/core.xml";

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
      for (Map.Entry<String, byte[]> part : parts.entrySet()) {
        ZipEntry entry = new ZipEntry(part.getKey());
        entry.setTimeLocal(NO_TIME);
        out.putNextEntry(entry);
        out.write(
            part.getKey().equals(CORE_PROPERTIES) ? withoutTimes(part.getValue()) : part.getValue());
        out.closeEntry();
      }
    }
    return bytes.toByteArray();
  }

  private static byte[] withoutTimes(byte[] coreProperties) {
    return new String(coreProperties, StandardCharsets.UTF_8)
        .replaceAll("<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\\1>", "")
        .getBytes(StandardCharsets.UTF_8);
  }
}
