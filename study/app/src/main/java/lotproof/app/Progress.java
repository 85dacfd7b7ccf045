package lotproof.app;

import java.time.Duration;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.function.IntConsumer;
import java.util.function.Supplier;
import me.tongfei.progressbar.ConsoleProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import org.jspecify.annotations.Nullable;

/** Says on stderr what takes long; silent for anything shorter than a second. */
final class Progress {
  private static final Duration PATIENCE = Duration.ofSeconds(1);

  private final Surroundings io;
  private final Duration patience;

  Progress(Surroundings io) {
    this(io, PATIENCE);
  }

  Progress(Surroundings io, Duration patience) {
    this.io = io;
    this.patience = patience;
  }

  /** Does the work and says what it is when it takes long. */
  <T> T during(String task, Supplier<T> work) {
    AtomicReference<@Nullable ProgressBar> bar = new AtomicReference<>();
    ScheduledExecutorService clock =
        Executors.newSingleThreadScheduledExecutor(
            runnable -> {
              Thread thread = new Thread(runnable, "progress");
              thread.setDaemon(true);
              return thread;
            });
    try {
      var unused = clock.schedule(() -> say(task, bar), patience.toMillis(), TimeUnit.MILLISECONDS);
      return work.get();
    } finally {
      stop(clock);
      ProgressBar shown = bar.get();
      if (shown != null) {
        shown.close();
      }
    }
  }

  /**
   * Does work of known size.
   *
   * @param amount how much there is
   * @param work is given where to report how much more is done; any thread may
   */
  <T> T counted(String task, long amount, Function<IntConsumer, T> work) {
    if (!io.terminal()) {
      return during(task, () -> work.apply(done -> {}));
    }
    try (ProgressBar bar =
        new ProgressBarBuilder()
            .setTaskName(task)
            .setInitialMax(amount)
            .setStyle(ProgressBarStyle.ASCII)
            .setConsumer(new ConsoleProgressBarConsumer(System.err))
            .build()) {
      return work.apply(bar::stepBy);
    }
  }

  private void say(String task, AtomicReference<@Nullable ProgressBar> bar) {
    if (io.terminal()) {
      bar.set(
          new ProgressBarBuilder()
              .setTaskName(task)
              .setInitialMax(-1)
              .hideEta()
              .setStyle(ProgressBarStyle.ASCII)
              .setConsumer(new ConsoleProgressBarConsumer(System.err))
              .build());
    } else {
      io.err().println(task + " ...");
      io.err().flush();
    }
  }

  private static void stop(ScheduledExecutorService clock) {
    clock.shutdownNow();
    try {
      if (!clock.awaitTermination(1, TimeUnit.SECONDS)) {
        return;
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
