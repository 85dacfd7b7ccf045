package lotproof.app.cli;

import java.time.Duration;
import java.util.Timer;
import java.util.TimerTask;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.function.IntConsumer;
import me.tongfei.progressbar.ConsoleProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import org.jspecify.annotations.Nullable;

/** Says on stderr what takes long; silent for anything shorter than a second. */
final class Progress {
  private static final Duration PATIENCE = Duration.ofSeconds(1);

  private final CliContext io;
  private final Duration patience;

  Progress(CliContext io) {
    this(io, PATIENCE);
  }

  Progress(CliContext io, Duration patience) {
    this.io = io;
    this.patience = patience;
  }

  /**
   * Does work of known size.
   *
   * @param amount how much there is; -1 when that is not known
   * @param work is given where to report how much more is done; any thread may
   */
  <T> T counted(String task, long amount, Function<IntConsumer, T> work) {
    AtomicInteger done = new AtomicInteger();
    AtomicReference<@Nullable ProgressBar> bar = new AtomicReference<>();
    AtomicBoolean over = new AtomicBoolean();
    Timer timer = new Timer("progress", true);
    timer.schedule(
        new TimerTask() {
          @Override
          public void run() {
            synchronized (over) {
              if (!over.get()) {
                bar.set(shown(task, amount));
              }
            }
          }
        },
        patience.toMillis());
    try {
      return work.apply(
          more -> {
            int all = done.addAndGet(more);
            ProgressBar shown = bar.get();
            if (shown != null) {
              shown.stepTo(all);
            }
          });
    } finally {
      timer.cancel();
      synchronized (over) {
        over.set(true);
      }
      ProgressBar shown = bar.get();
      if (shown != null) {
        shown.close();
      }
    }
  }

  private @Nullable ProgressBar shown(String task, long amount) {
    if (!io.terminal() || amount < 0) {
      io.complain(task + " ...");
      return null;
    }
    return new ProgressBarBuilder()
        .setTaskName(task)
        .setInitialMax(amount)
        .setStyle(ProgressBarStyle.ASCII)
        .setConsumer(new ConsoleProgressBarConsumer(System.err))
        .build();
  }
}
