package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.FilterWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import lotproof.folder.text.CsvText;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Reading;

/**
 * readings.csv, the record. It is written by this program alone, so anything that it would not have
 * written is damage.
 */
final class ReadingsFile {
  static final String NAME = "readings.csv";

  private static final String SOURCE_FILE = "source file";
  private static final String SOURCE_SHEET = "source sheet";
  private static final String SOURCE_HASH = "source hash";
  private static final String SOURCE_ROW = "source row";
  private static final List<String> HEADER = header();
  private static final Pattern COUNT = Pattern.compile("[1-9][0-9]{0,8}");
  private static final Map<String, Integer> PLACES = places();

  private final List<DataIssue> issues = new ArrayList<>();
  private final List<Reading> readings = new ArrayList<>();
  private final Map<String, String> texts = new HashMap<>();

  private ReadingsFile() {}

  /** Reads the record; a record of no bytes has no readings. */
  static Batch read(byte[] content) {
    ReadingsFile file = new ReadingsFile();
    if (content.length > 0
        && !RecordText.forEach(NAME, content, HEADER, file.issues, file::readLine)) {
      return new Batch(List.of(), file.issues);
    }
    return new Batch(file.readings, file.issues);
  }

  /** The record with readings added; what it held is kept byte by byte. */
  static FileOperations.Content append(byte[] content, List<Reading> fresh) {
    return out -> {
      out.write(content);
      Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
      try (CsvWriter writer =
          CsvWriter.builder().lineDelimiter(LineDelimiter.LF).build(new Unclosed(text))) {
        if (content.length == 0) {
          writer.writeRecord(HEADER);
        }
        for (Reading reading : fresh) {
          writer.writeRecord(fields(reading));
        }
      } catch (UncheckedIOException e) {
        throw e.getCause();
      }
      text.flush();
    };
  }

  /** The stream belongs to the caller, who has to wait for the disk before it is closed. */
  private static final class Unclosed extends FilterWriter {
    private Unclosed(Writer text) {
      super(text);
    }

    @Override
    public void close() throws IOException {
      flush();
    }
  }

  private static List<String> header() {
    List<String> header = new ArrayList<>(ReadingColumn.headers());
    header.addAll(List.of(SOURCE_FILE, SOURCE_SHEET, SOURCE_HASH, SOURCE_ROW));
    return List.copyOf(header);
  }

  private static Map<String, Integer> places() {
    Map<String, Integer> places = new HashMap<>();
    HEADER.forEach(column -> places.put(column, HEADER.indexOf(column)));
    return Map.copyOf(places);
  }

  private static List<String> fields(Reading r) {
    List<String> fields = new ArrayList<>(measured(r));
    fields.add(r.source().file());
    fields.add(r.source().sheet());
    fields.add(r.source().sha256());
    fields.add(Integer.toString(r.source().row()));
    return fields;
  }

  /** What a reading says, apart from where it came from; in the order of {@link ReadingColumn}. */
  static List<String> measured(Reading r) {
    return List.of(
        r.session(),
        r.time().map(LocalDateTime::toString).orElse(""),
        r.run(),
        Integer.toString(r.step()),
        r.cell(),
        r.board(),
        plain(r.loadKilograms()),
        plain(r.outputCounts()),
        optional(r.noiseCounts()),
        optional(r.cellTemperatureCelsius()),
        optional(r.boardTemperatureCelsius()),
        r.remark());
  }

  private static String optional(OptionalDouble value) {
    return value.isPresent() ? plain(value.getAsDouble()) : "";
  }

  private void readLine(CsvText.Line line) {
    LineReader in = new LineReader(line);
    Optional<LocalDateTime> time = in.time();
    String run = in.text(ReadingColumn.RUN.header());
    int step = in.count(ReadingColumn.STEP.header());
    String cell = in.text(ReadingColumn.CELL.header());
    String board = in.text(ReadingColumn.BOARD.header());
    OptionalDouble load = in.number(ReadingColumn.LOAD);
    OptionalDouble output = in.number(ReadingColumn.OUTPUT);
    OptionalDouble noise = in.number(ReadingColumn.NOISE);
    OptionalDouble cellTemperature = in.number(ReadingColumn.CELL_TEMPERATURE);
    OptionalDouble boardTemperature = in.number(ReadingColumn.BOARD_TEMPERATURE);
    String file = in.text(SOURCE_FILE);
    String hash = in.hash();
    int row = in.count(SOURCE_ROW);
    if (in.sound) {
      readings.add(
          new Reading(
              in.field(ReadingColumn.SESSION.header()),
              time,
              run,
              step,
              cell,
              board,
              load.getAsDouble(),
              output.getAsDouble(),
              noise,
              cellTemperature,
              boardTemperature,
              in.field(ReadingColumn.REMARK.header()),
              provenance(file, in.field(SOURCE_SHEET), hash, row),
              line.number()));
    }
  }

  /** Texts that many readings share are held once. */
  private String shared(String text) {
    return texts.computeIfAbsent(text, same -> same);
  }

  private Provenance provenance(String file, String sheet, String hash, int row) {
    return new Provenance(shared(file), shared(sheet), shared(hash), row);
  }

  /** Takes the fields of one line, and reports each that the record cannot hold. */
  private final class LineReader {
    private final CsvText.Line line;
    private boolean sound = true;

    private LineReader(CsvText.Line line) {
      this.line = line;
    }

    private String raw(String column) {
      return line.fields().get(PLACES.getOrDefault(column, 0));
    }

    private String field(String column) {
      return shared(raw(column));
    }

    private void damaged(String column, String what) {
      sound = false;
      issues.add(
          DataIssue.error(
              Code.RECORD_DAMAGED,
              NAME,
              line.number(),
              column,
              "",
              what + "; " + RecordText.ADVICE));
    }

    private String text(String column) {
      if (field(column).isBlank()) {
        damaged(column, "the value is missing");
      }
      return field(column);
    }

    private int count(String column) {
      String text = raw(column);
      if (COUNT.matcher(text).matches()) {
        return Integer.parseInt(text);
      }
      damaged(column, "\"" + text + "\" is not a whole number from 1");
      return 0;
    }

    private String hash() {
      if (!Sha256.isHash(field(SOURCE_HASH))) {
        damaged(SOURCE_HASH, "\"" + field(SOURCE_HASH) + "\" is not a SHA-256 hash");
      }
      return field(SOURCE_HASH);
    }

    private Optional<LocalDateTime> time() {
      String text = raw(ReadingColumn.TIME.header());
      try {
        return text.isEmpty() ? Optional.empty() : Optional.of(RecordTime.parse(text));
      } catch (DateTimeParseException e) {
        damaged(
            ReadingColumn.TIME.header(), "\"" + text + "\" is not a time such as 2026-03-04T09:30");
        return Optional.empty();
      }
    }

    private OptionalDouble number(ReadingColumn column) {
      String text = raw(column.header());
      if (text.isEmpty()) {
        if (column.required()) {
          damaged(column.header(), "the value is missing");
        }
        return OptionalDouble.empty();
      }
      OptionalDouble value =
          UnitsOfMeasure.number(text)
              .map(n -> OptionalDouble.of(n.doubleValue()))
              .orElse(OptionalDouble.empty());
      if (value.isEmpty()) {
        damaged(column.header(), "\"" + text + "\" is not a number");
      } else {
        column
            .outOfRange(value.getAsDouble())
            .ifPresent(rule -> damaged(column.header(), "\"" + text + "\" is impossible: " + rule));
      }
      return value;
    }
  }
}
