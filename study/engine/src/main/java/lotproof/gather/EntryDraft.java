package lotproof.gather;

import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.folder.CsvText;
import lotproof.folder.StudyFolder;
import lotproof.folder.UnitsOfMeasure;
import lotproof.study.DataIssue;
import lotproof.study.PlannedRun;

/**
 * The run that is being typed, on the disk after every value, so that a break loses nothing. One
 * line: run, cell, board, both temperatures, remark, values.
 */
final class EntryDraft {
  private static final String NAME = "entry-draft.csv";
  private static final int BEFORE_VALUES = 6;

  private EntryDraft() {}

  /** Replaces the draft; says why not, or nothing. */
  static List<DataIssue> save(StudyFolder folder, TypedRun run) {
    List<String> fields =
        new ArrayList<>(
            List.of(
                run.planned().run(),
                run.cell(),
                run.board(),
                text(run.cellCelsius()),
                text(run.boardCelsius()),
                run.remark()));
    run.outputCounts().forEach(value -> fields.add(UnitsOfMeasure.plain(value)));
    StringBuilder line = new StringBuilder();
    for (String field : fields) {
      line.append(line.length() == 0 ? "" : ",").append(quoted(field));
    }
    return folder.putBench(NAME, (line + "\n").getBytes(StandardCharsets.UTF_8));
  }

  private static String text(OptionalDouble value) {
    return value.isPresent() ? UnitsOfMeasure.plain(value.getAsDouble()) : "";
  }

  private static OptionalDouble number(String text) {
    Optional<BigDecimal> value = UnitsOfMeasure.number(text);
    return value.isPresent()
        ? OptionalDouble.of(value.get().doubleValue())
        : OptionalDouble.empty();
  }

  private static String quoted(String field) {
    return '"' + field.replace("\"", "\"\"") + '"';
  }

  static List<DataIssue> remove(StudyFolder folder) {
    return folder.removeBench(NAME);
  }

  /** The run that was begun, if it is one of these. A draft that cannot be read is none. */
  static Optional<TypedRun> load(StudyFolder folder, List<PlannedRun> open) {
    Optional<byte[]> bytes = folder.bench(NAME);
    if (bytes.isEmpty()
        || !(CsvText.decode(ByteBuffer.wrap(bytes.get()))
            instanceof CsvText.TextOutcome.Decoded text)
        || !(CsvText.lines(text.text(), ',') instanceof CsvText.LinesOutcome.Lines lines)
        || lines.lines().isEmpty()) {
      return Optional.empty();
    }
    List<String> fields = lines.lines().get(0).fields();
    if (fields.size() < BEFORE_VALUES) {
      return Optional.empty();
    }
    return open.stream()
        .filter(planned -> planned.run().equals(fields.get(0)))
        .findFirst()
        .flatMap(planned -> run(planned, fields));
  }

  private static Optional<TypedRun> run(PlannedRun planned, List<String> fields) {
    TypedRun run =
        TypedRun.of(planned)
            .withPair(fields.get(1), fields.get(2))
            .withTemperatures(number(fields.get(3)), number(fields.get(4)))
            .withRemark(fields.get(5));
    for (String field : fields.subList(BEFORE_VALUES, fields.size())) {
      Optional<BigDecimal> value = UnitsOfMeasure.number(field);
      if (value.isEmpty()) {
        return Optional.empty();
      }
      run = run.with(value.get().doubleValue());
    }
    return Optional.of(run);
  }
}
