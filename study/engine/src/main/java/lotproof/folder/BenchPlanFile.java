package lotproof.folder;

import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import lotproof.study.BenchPlan;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** The plan of the bench as bench/plan.json: written by plan, read by rehearse, enter, status. */
public final class BenchPlanFile {
  /** Its name in the folder of bench sheets. */
  public static final String NAME = "plan.json";

  private static final String FORMAT = "lotproof-bench-plan-1";
  private static final ObjectMapper JSON =
      JsonMapper.builder()
          // a question such as "is it a check?" is no part of a record
          .disable(MapperFeature.AUTO_DETECT_IS_GETTERS)
          .enable(DeserializationFeature.FAIL_ON_MISSING_CREATOR_PROPERTIES)
          .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
          .build();

  private BenchPlanFile() {}

  /** What the file holds. */
  record Content(String format, BenchPlan plan) {}

  /** The file's bytes. */
  public static byte[] write(BenchPlan plan) {
    DefaultPrettyPrinter printer = new DefaultPrettyPrinter();
    printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
    printer.indentObjectsWith(new DefaultIndenter("  ", "\n"));
    try {
      String text = JSON.writer(printer).writeValueAsString(new Content(FORMAT, plan));
      return (text + "\n").getBytes(StandardCharsets.UTF_8);
    } catch (JacksonException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Reads the file's bytes. */
  static Result<Optional<BenchPlan>> read(byte[] bytes) {
    try {
      Content content = JSON.readValue(bytes, Content.class);
      if (!FORMAT.equals(content.format())) {
        return refused(0, "the format is \"" + content.format() + "\", known is " + FORMAT);
      }
      return Result.of(Optional.of(content.plan()));
    } catch (JacksonException e) {
      JsonLocation at = e.getLocation();
      return refused(
          at == null ? 0 : at.getLineNr(), "not a bench plan: " + e.getOriginalMessage());
    } catch (IOException e) {
      return refused(0, "the file cannot be read");
    }
  }

  private static Result<Optional<BenchPlan>> refused(int line, String message) {
    String advice = "; write it anew with lotproof plan, or remove it to work without an order";
    return Result.refused(
        DataIssue.error(
            Code.FILE_UNREADABLE,
            BenchFolder.NAME + "/" + NAME,
            Math.max(0, line),
            "",
            "",
            message + advice));
  }
}
