package lotproof.work;

import java.util.List;
import java.util.concurrent.ForkJoinTask;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * Does pieces of work on all cores. Unlike a parallel stream inside another one, whoever waits for
 * a piece helps with the pieces of whoever works on it.
 */
public final class Parallel {
  private Parallel() {}

  /**
   * Maps all items; on an idle machine the first and the last are taken up first.
   *
   * @return one result for each item, in their order
   */
  public static <T, R> List<R> map(List<T> items, Function<? super T, ? extends R> work) {
    List<ForkJoinTask<R>> pieces =
        items.stream().map(item -> ForkJoinTask.<R>adapt(() -> work.apply(item))).toList();
    return ForkJoinTask.invokeAll(pieces).stream().<R>map(ForkJoinTask::join).toList();
  }

  /**
   * Begins a piece of work.
   *
   * @return gives its result, and waits for it if need be
   */
  public static <T> Supplier<T> begin(Supplier<T> work) {
    return ForkJoinTask.adapt(work::get).fork()::join;
  }
}
