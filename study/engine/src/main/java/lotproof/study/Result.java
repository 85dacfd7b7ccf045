package lotproof.study;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * A value, or the reasons why there is none.
 *
 * @param value the value; empty when it was refused
 * @param issues beside a value what a person should know; without one the reasons, with an error
 *     among them unless the person said no
 */
public record Result<T>(Optional<T> value, List<DataIssue> issues) {
  public Result {
    issues = List.copyOf(issues);
  }

  /** A value about which there is nothing to say. */
  public static <T> Result<T> of(T value) {
    return new Result<>(Optional.of(value), List.of());
  }

  /** A value and what a person should know about it; the reasons where an error is among it. */
  public static <T> Result<T> of(T value, List<DataIssue> issues) {
    return issues.stream().anyMatch(DataIssue::isError)
        ? refused(issues)
        : new Result<>(Optional.of(value), issues);
  }

  /** No value, and why. */
  public static <T> Result<T> refused(List<DataIssue> why) {
    return new Result<>(Optional.empty(), why);
  }

  /** No value, and why. */
  public static <T> Result<T> refused(DataIssue why) {
    return refused(List.of(why));
  }

  /** No value, because of one thing about a file. */
  public static <T> Result<T> refused(DataIssue.Code code, String file, String message) {
    return refused(DataIssue.error(code, file, message));
  }

  /** No value, because of one thing in a line of a file. */
  public static <T> Result<T> refused(DataIssue.Code code, String file, int line, String message) {
    return refused(DataIssue.error(code, file, line, message));
  }

  /** Whether there is no value. */
  public boolean isRefused() {
    return value.isEmpty();
  }

  /**
   * The value.
   *
   * @throws IllegalStateException where there is none
   */
  public T get() {
    return value.orElseThrow(() -> new IllegalStateException("refused: " + issues));
  }

  /** What comes of the value in turn, with all that there is to know; the reasons stay. */
  public <R> Result<R> then(Function<? super T, Result<R>> next) {
    Result<R> after = value.map(next).orElseGet(() -> refused(List.of()));
    return new Result<>(
        after.value, Stream.concat(issues.stream(), after.issues.stream()).toList());
  }

  /** What becomes of the value; the reasons stay as they are. */
  public <R> Result<R> map(Function<? super T, ? extends R> change) {
    return new Result<>(value.map(change), issues);
  }
}
