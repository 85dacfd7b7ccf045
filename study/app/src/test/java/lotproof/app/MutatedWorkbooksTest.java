package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import lotproof.app.cli.CliCommand;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.tables.TableReaders;
import lotproof.study.Reading;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Workbooks damaged in their archive and in their XML: nothing is thrown, nothing hangs, the study
 * stays as it was, and a number that is read is written in the workbook.
 */
class MutatedWorkbooksTest {
  private static final long SEED = 20261127;
  private static final int QUICK = 60;
  private static final int THOROUGH = 3000;
  private static final Duration PATIENCE = Duration.ofSeconds(10);
  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?");
  private static final List<String> ODD =
      List.of(
          "r=\"ZZZ9999999\"",
          "r=\"A0\"",
          "r=\"\"",
          "s=\"99999\"",
          "s=\"-1\"",
          "t=\"s\"",
          "t=\"b\"",
          "t=\"e\"",
          "t=\"inlineStr\"",
          "t=\"d\"",
          "t=\"nonsense\"",
          "spans=\"x:y\"",
          "hidden=\"1\"",
          "ht=\"0\"",
          "width=\"0\"",
          "state=\"veryHidden\"");
  private static final List<String> INSERTED =
      List.of(
          "<v>",
          "</v>",
          "<v>NaN</v>",
          "<v>1E999</v>",
          "<v></v>",
          "<c>",
          "</row>",
          "<row r=\"3\">",
          "&#0;",
          "&nosuch;",
          "<![CDATA[7]]>",
          "<!-- 5 -->",
          "<f>1+1</f>",
          "<x:y/>",
          "]]>",
          "\u0001",
          "<mergeCell ref=\"A1:XFD1048576\"/>",
          "<strike/>",
          "<cols><col min=\"1\" max=\"99999999\" hidden=\"1\"/></cols>",
          "<cols><col min=\"x\" max=\"\" width=\"0\"/></cols>",
          "<v>99999999999999999999</v>");

  @TempDir private Path temp;

  @Test
  void damagedWorkbooksAreReadAsWrittenOrRefused() {
    damage(QUICK, SEED);
  }

  @Test
  @Tag("slow")
  void manyDamagedWorkbooksAreReadAsWrittenOrRefused() {
    damage(THOROUGH, SEED + 1);
  }

  private void damage(int times, long seed) {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    String before = hash(folder);
    List<BenchFile> files =
        BenchFile.all().stream().filter(f -> f.name().endsWith(".xlsx") && f.isKept()).toList();
    TableReaders readers = CliCommand.readers();
    Random random = new Random(seed);
    int kept = 0;
    for (int i = 0; i < times; i++) {
      BenchFile file = files.get(random.nextInt(files.size()));
      byte[] damaged = damaged(file.content(), random);
      String about = "seed " + seed + ", mutation " + i + " of " + file.name();
      long start = BenchFile.processorNanos();
      try {
        ReceivedFile received = ReceivedFile.of(file.name(), damaged);
        Preview preview = Importer.inspect(folder, received, readers, file.told());
        if (Imports.isNew(preview.outcome())) {
          kept++;
          // where the archive is damaged, what can be unpacked at all is what was there before
          check(List.of(damaged, file.content()), preview.understood().readings(), about);
        }
      } catch (RuntimeException | StackOverflowError | OutOfMemoryError e) {
        fail(about, e);
      }
      assertThat(Duration.ofNanos(BenchFile.processorNanos() - start))
          .as(about)
          .isLessThan(PATIENCE);
    }
    assertThat(hash(folder)).isEqualTo(before);
    // the check would be empty if nearly all damage were refused
    assertThat(kept).isGreaterThan(times / 20);
  }

  private static String hash(StudyFolder folder) {
    return folder.open().get().recordHash();
  }

  private static void check(List<byte[]> workbooks, List<Reading> readings, String about) {
    Set<Double> written = new HashSet<>();
    for (byte[] workbook : workbooks) {
      for (byte[] part : parts(workbook).values()) {
        String text = new String(part, StandardCharsets.UTF_8).replace(',', '.');
        for (MatchResult match : NUMBER.matcher(text).results().toList()) {
          written.add(Double.parseDouble(match.group()));
        }
      }
    }
    for (Reading reading : readings) {
      assertThat(written)
          .as("%s: output of row %d", about, reading.source().row())
          .contains(reading.outputCounts());
    }
  }

  private static byte[] damaged(byte[] content, Random random) {
    if (random.nextInt(4) == 0) {
      return damagedArchive(content, random);
    }
    Map<String, byte[]> parts = parts(content);
    List<String> names = new ArrayList<>(parts.keySet());
    List<String> sheets = names.stream().filter(n -> n.contains("sheet")).toList();
    int times = 1 + random.nextInt(3);
    for (int i = 0; i < times; i++) {
      List<String> from = random.nextInt(3) > 0 ? sheets : names;
      String name = from.get(random.nextInt(from.size()));
      String text = new String(parts.getOrDefault(name, new byte[0]), StandardCharsets.UTF_8);
      switch (random.nextInt(12)) {
        case 0 -> parts.remove(name);
        case 1 ->
            parts.put("xl/worksheets/more" + i + ".xml", parts.getOrDefault(name, new byte[0]));
        default -> parts.put(name, damagedText(text, random).getBytes(StandardCharsets.UTF_8));
      }
    }
    return zipped(parts);
  }

  /** Bytes of the archive itself. */
  private static byte[] damagedArchive(byte[] content, Random random) {
    byte[] changed = content.clone();
    switch (random.nextInt(4)) {
      case 0 -> changed = Arrays.copyOf(content, 1 + random.nextInt(content.length));
      case 1 -> changed = Arrays.copyOf(content, content.length + 1 + random.nextInt(100));
      case 2 ->
          changed[random.nextInt(Math.min(60, content.length))] ^= (byte) (1 << random.nextInt(8));
      default -> {
        for (int i = 0; i < 1 + random.nextInt(4); i++) {
          changed[random.nextInt(content.length)] ^= (byte) (1 << random.nextInt(8));
        }
      }
    }
    return changed;
  }

  private static String damagedText(String text, Random random) {
    if (text.length() < 10) {
      return text + "<";
    }
    int at = random.nextInt(text.length() - 1);
    int tag = Math.max(0, text.indexOf('<', at));
    int end = Math.max(tag, text.indexOf('>', tag));
    return switch (random.nextInt(9)) {
      case 0 -> text.substring(0, at);
      case 1 ->
          text.substring(0, at)
              + (char) (text.charAt(at) ^ 1 << random.nextInt(6))
              + text.substring(at + 1);
      // a digit becomes another
      case 2, 3 -> digit(text, at, random);
      case 4 ->
          text.substring(0, tag)
              + INSERTED.get(random.nextInt(INSERTED.size()))
              + text.substring(tag);
      case 5 -> attribute(text, at, random);
      // an element or an end of one is left out
      case 6 -> text.substring(0, tag) + text.substring(Math.min(text.length(), end + 1));
      // a stretch is there twice
      case 7 -> text.substring(0, end) + text.substring(tag);
      default -> text.substring(0, tag) + text.substring(end);
    };
  }

  private static String digit(String text, int from, Random random) {
    for (int i = from; i < text.length(); i++) {
      if (Character.isDigit(text.charAt(i))) {
        return text.substring(0, i) + random.nextInt(10) + text.substring(i + 1);
      }
    }
    return text;
  }

  private static String attribute(String text, int from, Random random) {
    int at = text.indexOf("=\"", from);
    int start = at < 0 ? -1 : text.lastIndexOf(' ', at);
    int end = at < 0 ? -1 : text.indexOf('"', at + 2);
    return start < 0 || end < 0
        ? text
        : text.substring(0, start + 1)
            + ODD.get(random.nextInt(ODD.size()))
            + text.substring(end + 1);
  }

  private static Map<String, byte[]> parts(byte[] workbook) {
    Map<String, byte[]> parts = new LinkedHashMap<>();
    try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(workbook))) {
      for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
        parts.put(entry.getName(), zip.readAllBytes());
      }
    } catch (IOException e) {
      // what could be unpacked before is there
    }
    return parts;
  }

  private static byte[] zipped(Map<String, byte[]> parts) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      for (Map.Entry<String, byte[]> part : parts.entrySet()) {
        zip.putNextEntry(new ZipEntry(part.getKey()));
        zip.write(part.getValue());
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return out.toByteArray();
  }
}
