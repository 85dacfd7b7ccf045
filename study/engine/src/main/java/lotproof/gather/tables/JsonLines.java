package lotproof.gather.tables;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.io.JsonEOFException;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Predicate;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Text with one JSON object a line, as rows: the names of all objects are the header. */
public final class JsonLines {
  private static final int LONGEST_LINE = 1 << 20;
  private static final int MOST_NAMES = 1000;
  private static final JsonFactory FACTORY =
      JsonFactory.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .streamReadConstraints(
              StreamReadConstraints.builder().maxNestingDepth(8).maxNumberLength(400).build())
          .build();

  private final ReceivedFile file;
  private final int skip;
  private final Map<String, Integer> columns = new LinkedHashMap<>();

  private JsonLines(ReceivedFile file, int skip) {
    this.file = file;
    this.skip = skip;
  }

  /** Whether the first thing in the file is an object. */
  public static boolean accepts(ReceivedFile file) {
    String head = file.firstBytes(64);
    int from = head.startsWith("efbbbf") ? 6 : 0;
    for (int i = from; i < head.length(); i += 2) {
      String b = head.substring(i, i + 2);
      if (!b.equals("20") && !b.equals("0a") && !b.equals("0d") && !b.equals("09")) {
        return b.equals("7b");
      }
    }
    return false;
  }

  /** Opens the file. */
  public static Result<List<Grid>> of(ReceivedFile file) {
    OptionalInt broken = CsvText.notUtf8(file.content());
    if (broken.isPresent()) {
      return refused(file, broken.getAsInt(), "a byte is not UTF-8 text, and JSON is UTF-8");
    }
    JsonLines lines = new JsonLines(file, file.firstBytes(3).equals("efbbbf") ? 3 : 0);
    List<DataIssue> issues = new ArrayList<>();
    Optional<DataIssue> stop =
        lines.forEachObject(
            (number, object) -> {
              object
                  .keySet()
                  .forEach(name -> lines.columns.putIfAbsent(name, lines.columns.size()));
              return lines.columns.size() <= MOST_NAMES;
            },
            issues);
    if (stop.isPresent()) {
      return Result.refused(stop.get());
    } else if (lines.columns.size() > MOST_NAMES) {
      return refused(file, 0, "the objects have more than " + MOST_NAMES + " different names");
    }
    List<Cell> names = new ArrayList<>();
    lines.columns.keySet().forEach(name -> names.add(CellText.of(name)));
    Row header = new Row(0, names);
    return Result.of(
        List.of(
            new Grid(
                "",
                List.of(new Fact("format", "JSON lines, one object a reading")),
                '\0',
                NumberStyle.TYPED,
                wants -> wants.test(header) ? lines.rows(wants) : Optional.empty(),
                issues)));
  }

  private static Result<List<Grid>> refused(ReceivedFile file, int line, String why) {
    return Result.refused(DataIssue.error(Code.FILE_UNREADABLE, file.name(), line, "", "", why));
  }

  private Optional<DataIssue> rows(Predicate<Row> wants) {
    return forEachObject(
        (number, object) -> {
          Cell[] cells = new Cell[columns.size()];
          java.util.Arrays.fill(cells, new Cell.Blank());
          object.forEach((name, cell) -> cells[columns.getOrDefault(name, 0)] = cell);
          return wants.test(new Row(number, List.of(cells)));
        },
        new ArrayList<>());
  }

  private interface ObjectTaker {
    boolean take(int line, Map<String, Cell> object);
  }

  private Optional<DataIssue> forEachObject(ObjectTaker taker, List<DataIssue> issues) {
    try (InputStream bytes = file.stream()) {
      bytes.skipNBytes(skip);
      BufferedReader reader =
          new BufferedReader(new InputStreamReader(bytes, StandardCharsets.UTF_8));
      int number = 0;
      StringBuilder line = new StringBuilder();
      while (nextLine(reader, line)) {
        number++;
        if (line.length() >= LONGEST_LINE) {
          return Optional.of(error(number, "the line is too long to be one reading"));
        }
        String text = line.toString();
        if (!text.isBlank()) {
          try {
            if (!taker.take(number, object(text, number, issues))) {
              return Optional.empty();
            }
          } catch (JsonProcessingException e) {
            String why =
                e instanceof JsonEOFException
                    ? "the line ends in the middle of a reading; is it cut short?"
                    : "the line is no JSON object: " + firstLine(e.getOriginalMessage());
            return Optional.of(error(number, why));
          }
        }
      }
      return Optional.empty();
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
  }

  private static boolean nextLine(BufferedReader reader, StringBuilder line) throws IOException {
    line.setLength(0);
    int c = reader.read();
    if (c < 0) {
      return false;
    }
    while (c >= 0 && c != '\n' && line.length() < LONGEST_LINE) {
      line.append((char) c);
      c = reader.read();
    }
    return true;
  }

  private static String firstLine(String text) {
    return text.lines().findFirst().orElse("").replaceAll("\\p{Cntrl}", "");
  }

  private DataIssue error(int line, String why) {
    return DataIssue.error(Code.FILE_UNREADABLE, file.name(), line, "", "", why);
  }

  private Map<String, Cell> object(String text, int line, List<DataIssue> issues)
      throws IOException {
    Map<String, Cell> object = new LinkedHashMap<>();
    try (JsonParser json = FACTORY.createParser(text)) {
      if (json.nextToken() != JsonToken.START_OBJECT) {
        throw new com.fasterxml.jackson.core.JsonParseException(json, "it does not start with {");
      }
      while (json.nextToken() != JsonToken.END_OBJECT) {
        String name = json.currentName();
        object.put(name, cell(json, name, line, issues));
      }
      if (json.nextToken() != null) {
        throw new com.fasterxml.jackson.core.JsonParseException(
            json, "something follows the object");
      }
    }
    return object;
  }

  private Cell cell(JsonParser json, String name, int line, List<DataIssue> issues)
      throws IOException {
    JsonToken token = json.nextToken();
    if (token == JsonToken.VALUE_NUMBER_INT || token == JsonToken.VALUE_NUMBER_FLOAT) {
      String written = json.getText();
      BigDecimal value = new BigDecimal(written);
      boolean usual = Math.abs((long) value.scale()) < 400;
      if (usual && Double.isFinite(value.doubleValue())) {
        return new Cell.Numeric(value, written);
      }
      issues.add(
          DataIssue.error(
              Code.NOT_A_NUMBER, file.name(), line, name, "", "the number is beyond all range"));
      return new Cell.Unusable();
    } else if (token == JsonToken.VALUE_STRING) {
      return CellText.of(json.getText());
    } else if (token == JsonToken.VALUE_NULL) {
      return new Cell.Blank();
    }
    json.skipChildren();
    issues.add(
        DataIssue.error(
            Code.VALUE_INVALID,
            file.name(),
            line,
            name,
            "",
            "neither a number nor a text; a reading is flat"));
    return new Cell.Unusable();
  }
}
