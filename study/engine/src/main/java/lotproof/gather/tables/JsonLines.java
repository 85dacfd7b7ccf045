package lotproof.gather.tables;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.io.JsonEOFException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.databind.ObjectReader;
import com.fasterxml.jackson.databind.cfg.JsonNodeFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Flat JSON objects, one a line or in a list, as rows: the names of all of them are the header. */
final class JsonLines {
  private static final int MOST_NAMES = 1000;
  private static final int MOST_DIGITS = 400;
  private static final ObjectReader JSON =
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
          .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES)
          .build()
          .readerFor(JsonNode.class);

  private final ReceivedFile file;
  private final Map<String, Integer> columns = new LinkedHashMap<>();
  private final List<Row> rows = new ArrayList<>();
  private final List<DataIssue> issues = new ArrayList<>();

  private JsonLines(ReceivedFile file) {
    this.file = file;
  }

  /** Whether the first thing in the file is an object, or a list of them. */
  static boolean accepts(ReceivedFile file) {
    return file.firstBytes(64).matches("(?:efbbbf)?(?:20|0a|0d|09|5b(?=(?:20|0a|0d|09)*7b))*7b.*");
  }

  static Result<List<Grid>> of(ReceivedFile file) {
    OptionalInt broken = CsvText.notUtf8(file.content());
    return broken.isPresent()
        ? unreadable(file, broken.getAsInt(), "a byte is not UTF-8 text, and JSON is UTF-8")
        : new JsonLines(file).read();
  }

  private Result<List<Grid>> read() {
    int line = 1;
    try (MappingIterator<JsonNode> objects = JSON.readValues(file.stream())) {
      while (objects.hasNextValue()) {
        line = objects.getParser().currentTokenLocation().getLineNr();
        JsonNode object = objects.nextValue();
        if (!object.isObject()) {
          return unreadable(file, line, "here is no JSON object: it does not start with {");
        }
        take(line, object);
        if (columns.size() > MOST_NAMES) {
          String many = "the objects have more than %s different names".formatted(MOST_NAMES);
          return unreadable(file, 0, many);
        }
      }
    } catch (JsonEOFException e) {
      return unreadable(file, line, "the file ends in the middle of a reading; is it cut short?");
    } catch (JsonProcessingException e) {
      int at = e.getLocation() == null ? line : Math.max(line, e.getLocation().getLineNr());
      String why = e.getOriginalMessage().lines().findFirst().orElse("");
      return unreadable(file, at, "this is no JSON object: " + why.replaceAll("\\p{Cntrl}", ""));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
    Row header = new Row(0, columns.keySet().stream().map(Cell::of).toList());
    Grid.Rows all = Grid.Rows.of(Stream.concat(Stream.of(header), rows.stream()).toList());
    Fact fact = new Fact("format", "JSON, one object a reading");
    return Result.of(List.of(new Grid("", List.of(fact), '\0', all, issues)));
  }

  private static Result<List<Grid>> unreadable(ReceivedFile file, int line, String why) {
    return Result.refused(Code.FILE_UNREADABLE, file.name(), line, why);
  }

  private void take(int line, JsonNode object) {
    object.fieldNames().forEachRemaining(name -> columns.putIfAbsent(name, columns.size()));
    List<Cell> cells = new ArrayList<>();
    for (String name : columns.keySet()) {
      JsonNode value = object.get(name);
      cells.add(value == null ? new Cell.Blank() : cell(line, name, value));
    }
    rows.add(new Row(line, cells));
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
