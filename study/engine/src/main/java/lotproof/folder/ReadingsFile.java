package lotproof.folder;

import static lotproof.folder.UnitsOfMeasure.plain;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
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
  private static final String SOURCE_HASH = "source hash";
  private static final String SOURCE_ROW = "source row";
  private static final List<String> HEADER = header();

  private final List<DataIssue> issues = new ArrayList<>();
  private final List<Reading> readings = new ArrayList<>();

  private ReadingsFile() {}

  /** Reads the record; a record of no bytes has no readings. */
  static Batch read(byte[] content) {
    ReadingsFile file = new ReadingsFile();
    if (content.length > 0) {
      RecordText.lines(NAME, content, HEADER, file.issues).forEach(file::readLine);
    }
    return new Batch(file.readings, file.issues);
  }

  /** The record with readings added; what it held is kept byte by byte. */
  static byte[] append(byte[] content, List<Reading> fresh) {
    StringBuilder text = new StringBuilder();
    if (content.length == 0) {
      text.append(CsvText.line(HEADER));
    }
    fresh.forEach(reading -> text.append(CsvText.line(fields(reading))));
    byte[] added = text.toString().getBytes(StandardCharsets.UTF_8);
    return ByteBuffer.allocate(content.length + added.length).put(content).put(added).array();
  }

  private static List<String> header() {
    List<String> header = new ArrayList<>(ReadingColumn.headers());
    header.addAll(List.of(SOURCE_FILE, SOURCE_HASH, SOURCE_ROW));
    return List.copyOf(header);
  }

  private static List<String> fields(Reading r) {
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
        r.remark(),
        r.source().file(),
        r.source().sha256(),
        Integer.toString(r.source().row()));
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
              new Provenance(file, hash, row),
              line.number()));
    }
  }

  /** Takes the fields of one line, and reports each that the record cannot hold. */
  private final class LineReader {
    private final CsvText.Line line;
    private boolean sound = true;

    private LineReader(CsvText.Line line) {
      this.line = line;
    }

    private String field(String column) {
      return line.fields().get(HEADER.indexOf(column));
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
      String text = field(column);
      if (text.matches("[1-9][0-9]{0,8}")) {
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
      String text = field(ReadingColumn.TIME.header());
      try {
        return text.isEmpty() ? Optional.empty() : Optional.of(LocalDateTime.parse(text));
      } catch (DateTimeParseException e) {
        damaged(
            ReadingColumn.TIME.header(), "\"" + text + "\" is not a time such as 2026-03-04T09:30");
        return Optional.empty();
      }
    }

    private OptionalDouble number(ReadingColumn column) {
      String text = field(column.header());
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
