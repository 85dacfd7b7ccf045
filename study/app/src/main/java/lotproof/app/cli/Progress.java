package lotproof.app.cli;

import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.function.IntConsumer;
import me.tongfei.progressbar.ConsoleProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;

/** Says on stderr what takes long; silent for anything shorter than the patience. */
record Progress(CliContext io, Duration patience) {

  /** Does work of known size, or -1; any thread may report how much more is done. */
  <T> T counted(String task, long amount, Function<IntConsumer, T> work) {
    AtomicInteger done = new AtomicInteger();
    Executor later = CompletableFuture.delayedExecutor(patience.toMillis(), TimeUnit.MILLISECONDS);
    CompletableFuture<Optional<ProgressBar>> bar = new CompletableFuture<>();
    later.execute(() -> show(task, amount, bar));
    try {
      return work.apply(
          more -> {
            int all = done.addAndGet(more);
            bar.getNow(Optional.empty()).ifPresent(shown -> shown.stepTo(all));
          });
    } finally {
      synchronized (bar) {
        bar.complete(Optional.empty());
      }
      bar.join().ifPresent(ProgressBar::close);
    }
  }

  private void show(String task, long amount, CompletableFuture<Optional<ProgressBar>> bar) {
    synchronized (bar) {
      if (bar.isDone()) {
        return;
      }
      if (!io.terminal() || amount < 0) {
        io.complain(task + " ...");
        bar.complete(Optional.empty());
      } else {
        bar.complete(
            Optional.of(
                new ProgressBarBuilder()
                    .setTaskName(task)
                    .setInitialMax(amount)
                    .setStyle(ProgressBarStyle.ASCII)
                    .setConsumer(new ConsoleProgressBarConsumer(System.err))
                    .build()));
      }
    }
  }
}
