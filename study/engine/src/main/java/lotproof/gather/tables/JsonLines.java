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
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Predicate;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Text with one JSON object a line, as rows: the names of all objects are the header. */
final class JsonLines {
  private static final int LONGEST_LINE = 1 << 20;
  private static final int MOST_NAMES = 1000;
  private static final ObjectMapper JSON =
      JsonMapper.builder(
              JsonFactory.builder()
                  .streamReadConstraints(
                      StreamReadConstraints.builder()
                          .maxNestingDepth(8)
                          .maxNumberLength(400)
                          .build())
                  .build())
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES)
          .build();

  private final ReceivedFile file;

  private JsonLines(ReceivedFile file) {
    this.file = file;
  }

  /** Whether the first thing in the file is an object. */
  static boolean accepts(ReceivedFile file) {
    return file.firstBytes(64).matches("(?:efbbbf)?(?:20|0a|0d|09)*7b.*");
  }

  static Result<List<Grid>> of(ReceivedFile file) {
    JsonLines lines = new JsonLines(file);
    OptionalInt broken = CsvText.notUtf8(file.content());
    if (broken.isPresent()) {
      return Result.refused(
          lines.error(
              Code.FILE_UNREADABLE,
              broken.getAsInt(),
              "",
              "a byte is not UTF-8 text, and JSON is UTF-8"));
    }
    Set<String> names = new LinkedHashSet<>();
    List<DataIssue> issues = new ArrayList<>();
    Optional<DataIssue> stop =
        lines.forEach(
            (number, object) -> {
              object.fieldNames().forEachRemaining(names::add);
              for (Map.Entry<String, JsonNode> field : object.properties()) {
                lines
                    .whyUnusable(field.getValue())
                    .ifPresent(
                        why ->
                            issues.add(
                                lines.error(
                                    field.getValue().isNumber()
                                        ? Code.NOT_A_NUMBER
                                        : Code.VALUE_INVALID,
                                    number,
                                    field.getKey(),
                                    why)));
              }
              return names.size() <= MOST_NAMES;
            });
    if (stop.isPresent()) {
      return Result.refused(stop.get());
    } else if (names.size() > MOST_NAMES) {
      String why = "the objects have more than %s different names".formatted(MOST_NAMES);
      return Result.refused(lines.error(Code.FILE_UNREADABLE, 0, "", why));
    }
    Row header = new Row(0, names.stream().map(Cell::of).toList());
    return Result.of(
        List.of(
            new Grid(
                "",
                List.of(new Fact("format", "JSON lines, one object a reading")),
                '\0',
                NumberStyle.TYPED,
                wants -> wants.test(header) ? lines.rows(names, wants) : Optional.empty(),
                issues)));
  }

  private Optional<DataIssue> rows(Set<String> names, Predicate<Row> wants) {
    return forEach(
        (number, object) ->
            wants.test(
                new Row(number, names.stream().map(name -> cell(object.path(name))).toList())));
  }

  private interface Taker {
    /** Takes an object; says whether more are wanted. */
    boolean take(int line, JsonNode object);
  }

  private Optional<DataIssue> forEach(Taker taker) {
    int number = 0;
    try (BufferedReader reader =
        new BufferedReader(new InputStreamReader(file.stream(), StandardCharsets.UTF_8))) {
      for (String line = reader.readLine(); line != null; line = reader.readLine()) {
        number++;
        String text = number == 1 && line.startsWith("\uFEFF") ? line.substring(1) : line;
        if (text.length() >= LONGEST_LINE) {
          return unreadable(number, "the line is too long to be one reading");
        }
        if (!text.isBlank()) {
          JsonNode object = JSON.readTree(text);
          if (!object.isObject()) {
            return unreadable(number, "the line is no JSON object: it does not start with {");
          }
          if (!taker.take(number, object)) {
            return Optional.empty();
          }
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
    return Optional.of(error(Code.FILE_UNREADABLE, line, "", why));
  }

  private DataIssue error(Code code, int line, String column, String why) {
    return DataIssue.error(code, file.name(), line, column, "", why);
  }

  private Optional<String> whyUnusable(JsonNode value) {
    if (value.isNumber()) {
      BigDecimal number = value.decimalValue();
      boolean usual = Math.abs((long) number.scale()) < 400;
      return usual && Double.isFinite(number.doubleValue())
          ? Optional.empty()
          : Optional.of("the number is beyond all range");
    }
    return value.isTextual() || value.isNull()
        ? Optional.empty()
        : Optional.of("neither a number nor a text; a reading is flat");
  }

  private Cell cell(JsonNode value) {
    if (value.isMissingNode() || value.isNull()) {
      return new Cell.Blank();
    } else if (whyUnusable(value).isPresent()) {
      return new Cell.Unusable();
    }
    return value.isNumber()
        ? new Cell.Numeric(value.decimalValue(), value.asText())
        : Cell.of(value.asText());
  }
}
