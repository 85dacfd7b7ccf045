package lotproof.work;

import java.util.List;
import java.util.concurrent.ForkJoinTask;
import java.util.concurrent.RecursiveTask;
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
    List<Piece<T, R>> pieces = items.stream().map(item -> new Piece<T, R>(item, work)).toList();
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

  /** One item and what is to be done with it. */
  private static final class Piece<T, R> extends RecursiveTask<R> {
    private static final long serialVersionUID = 1;

    private final transient T item;
    private final transient Function<? super T, ? extends R> work;

    Piece(T item, Function<? super T, ? extends R> work) {
      this.item = item;
      this.work = work;
    }

    @Override
    protected R compute() {
      return work.apply(item);
    }
  }
}
