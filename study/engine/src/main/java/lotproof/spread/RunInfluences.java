package lotproof.spread;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.IntStream;
import lotproof.model.KnownInfluence;
import lotproof.reduce.LoadRun;
import lotproof.study.BenchInfluences;
import lotproof.study.Reading;

/**
 * The declared influences of runs, read from their readings: a temperature is the mean over the
 * run's readings that carry one, the day that of the first reading.
 */
final class RunInfluences {
  private final BenchInfluences declared;

  RunInfluences(BenchInfluences declared) {
    this.declared = declared;
  }

  List<KnownInfluence> of(List<LoadRun> runs) {
    List<KnownInfluence> influences = new ArrayList<>();
    for (BenchInfluences.Covariate covariate : declared.covariates()) {
      influences.add(covariate(covariate, runs));
    }
    for (BenchInfluences.Block block : declared.blocks()) {
      influences.add(block(block, runs));
    }
    return influences;
  }

  private static KnownInfluence covariate(BenchInfluences.Covariate which, List<LoadRun> runs) {
    List<Double> values =
        switch (which) {
          case RUN_ORDER ->
              IntStream.rangeClosed(1, runs.size()).mapToObj(i -> (double) i).toList();
          case CELL_TEMPERATURE -> means(runs, r -> r.beside().cellTemperatureCelsius());
          case BOARD_TEMPERATURE -> means(runs, r -> r.beside().boardTemperatureCelsius());
        };
    return values.size() == runs.size()
        ? new KnownInfluence.Covariate(which.title(), which.unit(), values)
        : notRecorded(which.title(), runs.size() - values.size(), runs.size());
  }

  /** Means of the runs that carry the quantity; fewer than the runs when one does not. */
  private static List<Double> means(
      List<LoadRun> runs, Function<Reading, OptionalDouble> quantity) {
    return runs.stream()
        .map(
            run ->
                run.readings().stream()
                    .map(quantity)
                    .flatMapToDouble(OptionalDouble::stream)
                    .average())
        .flatMap(
            mean ->
                mean.isPresent()
                    ? Optional.of(mean.getAsDouble()).stream()
                    : java.util.stream.Stream.empty())
        .toList();
  }

  private static KnownInfluence block(BenchInfluences.Block which, List<LoadRun> runs) {
    List<String> labels =
        switch (which) {
          case SESSION -> runs.stream().map(LoadRun::session).filter(s -> !s.isEmpty()).toList();
          case DAY ->
              runs.stream()
                  .flatMap(run -> run.readings().get(0).time().stream())
                  .map(LocalDateTime::toLocalDate)
                  .map(Object::toString)
                  .toList();
        };
    return labels.size() == runs.size()
        ? new KnownInfluence.Block(which.key(), labels)
        : notRecorded(which.key(), runs.size() - labels.size(), runs.size());
  }

  private static KnownInfluence notRecorded(String name, int missing, int runs) {
    return new KnownInfluence.NotRecorded(
        name,
        "The "
            + name
            + " is not recorded for "
            + missing
            + " of "
            + runs
            + " runs, so its influence was not taken out.");
  }
}
