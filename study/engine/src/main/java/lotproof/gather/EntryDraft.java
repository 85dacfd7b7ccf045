package lotproof.gather;

import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.folder.RunDraft;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.PlannedRun;

/**
 * A run that was begun and not recorded.
 *
 * @param run what was typed of it
 * @param person who typed it
 * @param since when that person began
 * @param holder who has it in hand
 */
public record EntryDraft(TypedRun run, String person, LocalDateTime since, Holder holder) {
  private static final int BEFORE_VALUES = 5;

  /** Who has a draft in hand. */
  public enum Holder {
    /** This client. */
    US,
    /** Another client that is alive. */
    ANOTHER,
    /** Nobody: it was left, or its client died. */
    NOBODY
  }

  /** Name of the run. */
  public String name() {
    return run.planned().run();
  }

  /** What was typed: serials, temperatures, remark, values. */
  static List<String> content(TypedRun run) {
    List<String> fields =
        new ArrayList<>(
            List.of(
                run.cell(),
                run.board(),
                UnitsOfMeasure.plain(run.cellCelsius()),
                UnitsOfMeasure.plain(run.boardCelsius()),
                run.remark()));
    run.outputCounts().forEach(value -> fields.add(UnitsOfMeasure.plain(value)));
    return fields;
  }

  private static OptionalDouble number(String text) {
    Optional<BigDecimal> value = UnitsOfMeasure.number(text);
    return value.isPresent()
        ? OptionalDouble.of(value.get().doubleValue())
        : OptionalDouble.empty();
  }

  /**
   * What a draft holds; nothing when it is no run of so many loads.
   *
   * @param planned its run of the plan
   */
  static Optional<TypedRun> typed(RunDraft draft, PlannedRun planned, int loads) {
    List<String> fields = draft.content();
    if (fields.size() < BEFORE_VALUES || fields.size() > BEFORE_VALUES + loads) {
      return Optional.empty();
    }
    TypedRun run =
        TypedRun.of(planned)
            .withPair(fields.get(0), fields.get(1))
            .withTemperatures(number(fields.get(2)), number(fields.get(3)))
            .withRemark(fields.get(4));
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
