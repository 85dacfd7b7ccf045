package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import lotproof.app.cli.CliCommand;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyFolder;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.layout.TableReading;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import lotproof.study.Study;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Bench files with random damage: nothing is thrown, nothing hangs, and a number that is read
 * stands in its line just so.
 */
class MutatedFilesTest {
  private static final long SEED = 20261125;
  private static final int QUICK = 2000;
  private static final int THOROUGH = 20_000;

  /** A step, a cell, a board, a load and an output between marks. */
  private static final Pattern READING =
      Pattern.compile(
          ".*[,;\t|][0-9]+[,;\t|]C[AB]-00[12][,;\t|]BA-00[123][,;\t|][0-9.]+[,;\t|][0-9.]+.*");

  private static final Duration PATIENCE = Duration.ofSeconds(5);

  private static final Pattern WITH_POINT =
      Pattern.compile("[+\\-\u2212]?(?:[0-9][0-9.,'\u00A0 ]*|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?");

  private static final Pattern WITH_COMMA =
      Pattern.compile("[+\\-\u2212]?(?:[0-9][0-9.,'\u00A0 ]*|,[0-9]+)(?:[eE][+-]?[0-9]+)?");

  /** What one unit of a file is in the record, by the words of its conversion. */
  private static final Map<String, Double> FACTORS =
      Map.of(
          "",
          1.0,
          "g to kg",
          0.001,
          "oz to kg",
          0.45359237 / 16,
          "lb to kg",
          0.45359237,
          "N to kg",
          1 / 9.80665,
          "% of capacity to kg by the capacity of study.yaml",
          0.5,
          "ppm of capacity to kg by the capacity of study.yaml",
          0.5e-4,
          "mV/V to counts by the converter scale of study.yaml",
          2147483.648,
          "\u00B5V/V to counts by the converter scale of study.yaml",
          2147.483648);

  @TempDir Path temp;

  @Test
  void damageIsReadAsWrittenOrRefused() {
    damage(QUICK, SEED);
  }

  @Test
  @Tag("slow")
  void muchDamageIsReadAsWrittenOrRefused() {
    damage(THOROUGH, SEED + 1);
  }

  private void damage(int times, long seed) {
    StudyFolder folder = BenchFile.emptyStudy(temp.resolve("study"));
    Study study = folder.open().get().study();
    List<BenchFile> files =
        BenchFile.all().stream().filter(f -> !f.name().startsWith("zip-bomb")).toList();
    TableReaders readers = CliCommand.readers();
    Random random = new Random(seed);
    int kept = 0;
    for (int i = 0; i < times; i++) {
      BenchFile file = files.get(random.nextInt(files.size()));
      byte[] damaged = damaged(file.content(), random);
      String about = "seed " + seed + ", mutation " + i + " of " + file.name();
      long start = BenchFile.processorNanos();
      try {
        kept += look(folder, study, readers, file, damaged, i % 10 == 0, about) ? 1 : 0;
      } catch (RuntimeException | Error e) {
        if (e instanceof AssertionError) {
          throw e;
        }
        fail(about, e);
      }
      assertThat(Duration.ofNanos(BenchFile.processorNanos() - start))
          .as(about)
          .isLessThan(PATIENCE);
    }
    // The check would be empty if nearly all damage were refused.
    assertThat(kept).isGreaterThan(times / 20);
  }

  /** Reads a damaged file; says whether anything of it would be kept. */
  private static boolean look(
      StudyFolder folder,
      Study study,
      TableReaders readers,
      BenchFile file,
      byte[] damaged,
      boolean whole,
      String about) {
    ReceivedFile received = ReceivedFile.of(file.name(), damaged);
    Mapping mapping = file.told().mapping();
    if (whole) {
      Preview preview = Importer.inspect(folder, received, readers, file.told());
      boolean kept = Imports.isNew(preview.outcome());
      if (kept) {
        check(
            damaged,
            preview.understood().facts(),
            preview.understood().columns(),
            preview.understood().readings(),
            file,
            about);
      }
      return kept;
    }
    TableReading.Understood result =
        TableReading.read(received, readers.open(received, mapping), study, mapping);
    boolean kept =
        result.issues().stream().noneMatch(DataIssue::isError) && !result.readings().isEmpty();
    if (kept) {
      check(damaged, result.facts(), result.columns(), result.readings(), file, about);
    }
    return kept;
  }

  private static void check(
      byte[] damaged,
      List<Fact> facts,
      List<ColumnUse> columns,
      List<Reading> readings,
      BenchFile file,
      String about) {
    if (file.name().contains(".xls")) {
      return;
    }
    String[] lines = text(damaged, facts).split("\r\n|\r|\n", -1);
    boolean tidy =
        fact(facts, "layout").equals("one reading a row")
            || fact(facts, "layout").startsWith("load-run");
    boolean comma = fact(facts, "decimal mark").startsWith("comma");
    double load = factor(columns, "load [kg]", fact(facts, "unit of load"));
    double output = factor(columns, "output [counts]", fact(facts, "unit of output"));
    if (fact(facts, "layout").equals("one reading a row")) {
      assertNoneLeftUnread(lines, readings, about);
    }
    boolean reversed = file.one("told").equals("sign = reversed");
    for (Reading reading : readings) {
      int row = reading.source().row();
      List<Double> written = numbers(lines, row, comma);
      if (tidy) {
        assertWritten(reading.loadKilograms(), written, load, about + ", load, line " + row);
      }
      double counts = reversed ? -reading.outputCounts() : reading.outputCounts();
      assertWritten(counts, written, output, about + ", output, line " + row);
    }
  }

  /** Each line with a cell, a board and numbers is a reading, behind a comment mark, or refused. */
  private static void assertNoneLeftUnread(String[] lines, List<Reading> readings, String about) {
    Set<Integer> read = new HashSet<>();
    readings.forEach(reading -> read.add(reading.source().row()));
    for (int i = 0; i < lines.length; i++) {
      String line = lines[i].replace("\"", "").replace("\uFEFF", "").strip();
      boolean comment = line.startsWith("#") || line.startsWith("//");
      if (!comment && READING.matcher(line).matches()) {
        assertThat(read).as("%s: line %d stays unread", about, i + 1).contains(i + 1);
      }
    }
  }

  private static void assertWritten(
      double read, List<Double> written, double factor, String about) {
    boolean found =
        written.stream()
            .anyMatch(w -> Math.abs(w * factor - read) <= 1e-9 * Math.max(1e-6, Math.abs(read)));
    assertThat(found).as("%s: %s is not written there, but %s", about, read, written).isTrue();
  }

  private static double factor(List<ColumnUse> columns, String meaning, String cellUnit) {
    String symbol = cellUnit.replace(", as its cells say", "");
    if (!symbol.isEmpty() && !symbol.equals("kg") && !symbol.equals("counts")) {
      return FACTORS.entrySet().stream()
          .filter(e -> e.getKey().startsWith(symbol + " to"))
          .findFirst()
          .orElseThrow()
          .getValue();
    }
    String conversion =
        columns.stream()
            .filter(c -> c.meaning().startsWith(meaning))
            .map(ColumnUse::conversion)
            .findFirst()
            .orElse("");
    return FACTORS.get(conversion);
  }

  private static String fact(List<Fact> facts, String name) {
    return facts.stream()
        .filter(f -> f.name().equals(name))
        .map(Fact::value)
        .findFirst()
        .orElse("");
  }

  private static String text(byte[] bytes, List<Fact> facts) {
    String encoding = fact(facts, "encoding");
    if (encoding.startsWith("UTF-16")) {
      boolean big = bytes[0] == (byte) 0xFE || bytes[0] == 0;
      return new String(bytes, big ? StandardCharsets.UTF_16BE : StandardCharsets.UTF_16LE);
    }
    return encoding.startsWith("windows")
        ? new String(bytes, Charset.forName("windows-1252"))
        : new String(bytes, StandardCharsets.UTF_8);
  }

  /** The numbers of a line and, for values in quotation marks, of the few lines behind it. */
  private static List<Double> numbers(String[] lines, int row, boolean comma) {
    List<Double> all = new ArrayList<>();
    int to = Math.min(lines.length, row + 3);
    for (String line : Arrays.copyOfRange(lines, row - 1, to)) {
      for (MatchResult match : (comma ? WITH_COMMA : WITH_POINT).matcher(line).results().toList()) {
        for (String part : parts(match.group(), comma)) {
          try {
            all.add(Double.parseDouble(part.replace('\u2212', '-')));
          } catch (NumberFormatException e) {
            // It is no number in this part; others of the line can be.
          }
        }
      }
    }
    return all;
  }

  /** A token as a whole, without marks between thousands, and its pieces between separators. */
  private static List<String> parts(String token, boolean comma) {
    List<String> parts = new ArrayList<>();
    String mark = comma ? "," : ".";
    String other = comma ? "." : ",";
    boolean grouped = token.strip().matches("[+-]?[0-9]{1,3}([ '\u00A0" + other + "][0-9]{3})+.*");
    if (grouped) {
      parts.add(token.replaceAll("[ '\u00A0]", "").replace(other, "").replace(mark, "."));
    }
    parts.add(token.strip().replace(mark, "."));
    if (!comma) {
      parts.addAll(Arrays.asList(token.split(",", -1)));
    }
    parts.addAll(Arrays.asList(token.replace(mark, ".").split("[ ']", -1)));
    return parts;
  }

  private static byte[] damaged(byte[] content, Random random) {
    byte[] damaged = content;
    int times = 1 + random.nextInt(3);
    for (int i = 0; i < times && damaged.length > 2; i++) {
      damaged = once(damaged, random);
    }
    return damaged;
  }

  private static byte[] once(byte[] content, Random random) {
    int at = random.nextInt(content.length - 1);
    byte[] changed = content.clone();
    return switch (random.nextInt(12)) {
      case 0 -> {
        changed[at] ^= (byte) (1 << random.nextInt(8));
        yield changed;
      }
      case 1 -> joined(Arrays.copyOf(content, at), rest(content, at + 1));
      case 2 -> {
        String marks = ",;.\t|\"#-+eE \0\n\r'0123456789kgN%/:()[]";
        byte[] one = {(byte) marks.charAt(random.nextInt(marks.length()))};
        yield joined(Arrays.copyOf(content, at), one, rest(content, at));
      }
      case 3 -> {
        changed[at] = content[at + 1];
        changed[at + 1] = content[at];
        yield changed;
      }
      case 4 -> Arrays.copyOf(content, at + 1);
      case 5 -> lines(content, random, 0);
      case 6 -> lines(content, random, 1);
      case 7 -> lines(content, random, 2);
      case 8 -> digit(changed, at);
      case 9 -> narrowerTable(content, random);
      default -> mark(changed, at);
    };
  }

  /** The next digit becomes another. */
  private static byte[] digit(byte[] content, int from) {
    for (int i = from; i < content.length; i++) {
      if (content[i] >= '0' && content[i] <= '9') {
        content[i] = (byte) ('0' + (content[i] - '0' + 7) % 10);
        break;
      }
    }
    return content;
  }

  /** The next point becomes a comma, or the next comma a point. */
  private static byte[] mark(byte[] content, int from) {
    for (int i = from; i < content.length; i++) {
      if (content[i] == '.' || content[i] == ',') {
        content[i] = content[i] == '.' ? (byte) ',' : (byte) '.';
        break;
      }
    }
    return content;
  }

  /** One line left out, repeated, or exchanged with another. */
  private static byte[] lines(byte[] content, Random random, int how) {
    String text = new String(content, StandardCharsets.ISO_8859_1);
    List<String> lines = new ArrayList<>(Arrays.asList(text.split("(?<=\n)", -1)));
    int one = random.nextInt(lines.size());
    int other = random.nextInt(lines.size());
    if (how == 0) {
      lines.remove(one);
    } else if (how == 1) {
      lines.add(other, lines.get(one));
    } else {
      String held = lines.get(one);
      lines.set(one, lines.get(other));
      lines.set(other, held);
    }
    byte[] changed = String.join("", lines).getBytes(StandardCharsets.ISO_8859_1);
    return changed.length < 3 ? content : changed;
  }

  /** The first lines once more above or below, without what stands behind their last mark. */
  private static byte[] narrowerTable(byte[] content, Random random) {
    String text = new String(content, StandardCharsets.ISO_8859_1);
    List<String> first = text.lines().limit(2 + random.nextInt(5)).toList();
    StringBuilder narrower = new StringBuilder();
    for (String line : first) {
      int mark = Math.max(line.lastIndexOf(','), line.lastIndexOf(';'));
      narrower.append(mark < 0 ? line : line.substring(0, mark)).append('\n');
    }
    byte[] table = narrower.toString().getBytes(StandardCharsets.ISO_8859_1);
    return random.nextBoolean() ? joined(table, content) : joined(content, table);
  }

  private static byte[] rest(byte[] content, int from) {
    return Arrays.copyOfRange(content, Math.min(from, content.length), content.length);
  }

  private static byte[] joined(byte[]... parts) {
    int length = Arrays.stream(parts).mapToInt(p -> p.length).sum();
    byte[] all = new byte[length];
    int at = 0;
    for (byte[] part : parts) {
      System.arraycopy(part, 0, all, at, part.length);
      at += part.length;
    }
    return all;
  }
}
