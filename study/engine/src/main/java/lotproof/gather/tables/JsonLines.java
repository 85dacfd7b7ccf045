package lotproof.gather.tables;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.io.JsonEOFException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.cfg.JsonNodeFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Text with one JSON object a line, as rows: the names of all objects are the header. */
final class JsonLines {
  private static final int LONGEST_LINE = 1 << 20;
  private static final int MOST_NAMES = 1000;
  private static final int MOST_DIGITS = 400;
  private static final ObjectMapper JSON =
      JsonMapper.builder(
              JsonFactory.builder()
                  .streamReadConstraints(
                      StreamReadConstraints.builder()
                          .maxNestingDepth(8)
                          .maxNumberLength(MOST_DIGITS)
                          .build())
                  .build())
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES)
          .build();

  private final ReceivedFile file;
  private final Map<String, Integer> columns = new LinkedHashMap<>();
  private final List<Row> rows = new ArrayList<>();
  private final List<DataIssue> issues = new ArrayList<>();

  private JsonLines(ReceivedFile file) {
    this.file = file;
  }

  /** Whether the first thing in the file is an object. */
  static boolean accepts(ReceivedFile file) {
    return file.firstBytes(64).matches("(?:efbbbf)?(?:20|0a|0d|09)*7b.*");
  }

  static Result<List<Grid>> of(ReceivedFile file) {
    JsonLines lines = new JsonLines(file);
    Optional<DataIssue> trouble = lines.read();
    if (trouble.isPresent()) {
      return Result.refused(trouble.get());
    }
    List<Row> all = new ArrayList<>();
    all.add(new Row(0, lines.columns.keySet().stream().map(Cell::of).toList()));
    lines.rows.forEach(row -> all.add(lines.whole(row)));
    return Result.of(
        List.of(
            new Grid(
                "",
                List.of(new Fact("format", "JSON lines, one object a reading")),
                '\0',
                Grid.Rows.of(all),
                lines.issues)));
  }

  private Optional<DataIssue> read() {
    OptionalInt broken = CsvText.notUtf8(file.content());
    if (broken.isPresent()) {
      return unreadable(broken.getAsInt(), "a byte is not UTF-8 text, and JSON is UTF-8");
    }
    int number = 0;
    try (BufferedReader reader =
        new BufferedReader(new InputStreamReader(file.stream(), StandardCharsets.UTF_8))) {
      for (String line = reader.readLine(); line != null; line = reader.readLine()) {
        number++;
        String text = number == 1 && line.startsWith("\uFEFF") ? line.substring(1) : line;
        if (text.length() >= LONGEST_LINE) {
          return unreadable(number, "the line is too long to be one reading");
        }
        if (text.isBlank()) {
          continue;
        }
        JsonNode object = JSON.readTree(text);
        if (!object.isObject()) {
          return unreadable(number, "the line is no JSON object: it does not start with {");
        }
        take(number, object);
        if (columns.size() > MOST_NAMES) {
          return unreadable(
              0, "the objects have more than %s different names".formatted(MOST_NAMES));
        }
      }
      return Optional.empty();
    } catch (JsonEOFException e) {
      return unreadable(number, "the line ends in the middle of a reading; is it cut short?");
    } catch (JsonProcessingException e) {
      String why = e.getOriginalMessage().lines().findFirst().orElse("");
      return unreadable(number, "the line is no JSON object: " + why.replaceAll("\\p{Cntrl}", ""));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
  }

  private Optional<DataIssue> unreadable(int line, String why) {
    return Optional.of(DataIssue.error(Code.FILE_UNREADABLE, file.name(), line, why));
  }

  private void take(int line, JsonNode object) {
    object.fieldNames().forEachRemaining(name -> columns.putIfAbsent(name, columns.size()));
    Cell[] cells = new Cell[columns.size()];
    Arrays.fill(cells, new Cell.Blank());
    for (Map.Entry<String, JsonNode> field : object.properties()) {
      cells[columns.getOrDefault(field.getKey(), 0)] = cell(line, field.getKey(), field.getValue());
    }
    rows.add(new Row(line, List.of(cells)));
  }

  /** A row with a cell for every name of the file. */
  private Row whole(Row row) {
    return new Row(row.number(), IntStream.range(0, columns.size()).mapToObj(row::cell).toList());
  }

  private Cell cell(int line, String name, JsonNode value) {
    if (value.isNumber()) {
      BigDecimal number = value.decimalValue();
      boolean usual = Math.abs((long) number.scale()) < MOST_DIGITS;
      return usual && Double.isFinite(number.doubleValue())
          ? new Cell.Numeric(number, value.asText())
          : unusable(Code.NOT_A_NUMBER, line, name, "the number is beyond all range");
    }
    return value.isTextual() || value.isNull()
        ? Cell.of(value.isNull() ? "" : value.asText())
        : unusable(
            Code.VALUE_INVALID, line, name, "neither a number nor a text; a reading is flat");
  }

  private Cell unusable(Code code, int line, String name, String why) {
    issues.add(DataIssue.error(code, file.name(), line, name, "", why));
    return new Cell.Unusable();
  }
}
