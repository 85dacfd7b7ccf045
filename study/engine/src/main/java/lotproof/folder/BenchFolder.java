package lotproof.folder;

import com.fasterxml.jackson.annotation.JsonSubTypes;
import com.fasterxml.jackson.annotation.JsonTypeInfo;
import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import lotproof.study.Assumed;
import lotproof.study.BenchPlan;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** The bench sheets and the plan of the bench, below a study folder. */
public final class BenchFolder {
  /** Its name within the study folder. */
  public static final String NAME = "bench";

  /** The plan of the bench within it: written by plan, read by rehearse, enter, status. */
  public static final String PLAN = "plan.json";

  private static final String FORMAT = "lotproof-bench-plan-1";
  private static final ObjectMapper JSON =
      JsonMapper.builder()
          // a question such as "is it a check?" is no part of a record
          .disable(MapperFeature.AUTO_DETECT_IS_GETTERS)
          .enable(DeserializationFeature.FAIL_ON_MISSING_CREATOR_PROPERTIES)
          .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
          .addMixIn(Assumed.class, ToldByItsFields.class)
          .build();

  /** Which kind of assumption a plan holds is seen by the names of its fields. */
  @JsonTypeInfo(use = JsonTypeInfo.Id.DEDUCTION)
  @JsonSubTypes({
    @JsonSubTypes.Type(Assumed.AtLevel.class),
    @JsonSubTypes.Type(Assumed.DataSheet.class)
  })
  private interface ToldByItsFields {}

  private final StudyFiles files;

  BenchFolder(StudyFiles files) {
    this.files = files;
  }

  /**
   * Writes one of its files whole, in place of what was there; says why not, or nothing when
   * written.
   *
   * @param name plain file name, without folders
   */
  public List<DataIssue> put(String name, byte[] content) {
    if (!name.matches("[A-Za-z0-9][A-Za-z0-9._-]*")) {
      throw new IllegalArgumentException("not a plain file name: " + name);
    }
    return files.putIn(NAME, name, content);
  }

  /** What the file of the plan holds. */
  record Content(String format, BenchPlan plan) {}

  /** The bytes of the file that {@link #plan} reads. */
  public static byte[] bytes(BenchPlan plan) {
    DefaultIndenter lines = new DefaultIndenter("  ", "\n");
    DefaultPrettyPrinter printer = new DefaultPrettyPrinter();
    printer.indentArraysWith(lines);
    printer.indentObjectsWith(lines);
    try {
      String text = JSON.writer(printer).writeValueAsString(new Content(FORMAT, plan));
      return (text + "\n").getBytes(StandardCharsets.UTF_8);
    } catch (JacksonException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A plan that was written before what is assumed had a level names none. */
  private static JsonNode withLevel(JsonNode content) {
    if (content.at("/plan/assumed") instanceof ObjectNode assumed && assumed.has("cellGrams")) {
      assumed.putIfAbsent("level", assumed.textNode(""));
    }
    return content;
  }

  /** The plan of the bench, if there is one. */
  public Result<Optional<BenchPlan>> plan() {
    int line = 0;
    String why;
    try {
      Optional<byte[]> bytes = files.bytes(NAME + "/" + PLAN);
      if (bytes.isEmpty()) {
        return Result.of(Optional.empty());
      }
      Content content = JSON.treeToValue(withLevel(JSON.readTree(bytes.get())), Content.class);
      if (FORMAT.equals(content.format())) {
        return Result.of(Optional.of(content.plan()));
      }
      why = "the format is \"" + content.format() + "\", known is " + FORMAT;
    } catch (JacksonException e) {
      line = e.getLocation() == null ? 0 : Math.max(0, e.getLocation().getLineNr());
      why = "not a bench plan: " + e.getOriginalMessage();
    } catch (IOException e) {
      return Result.of(Optional.empty());
    }
    String advice = "; write it anew with lotproof plan, or remove it to work without an order";
    return Result.refused(Code.FILE_UNREADABLE, NAME + "/" + PLAN, line, why + advice);
  }
}
