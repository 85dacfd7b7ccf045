package lotproof.reduce;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import lotproof.study.Kit;
import lotproof.study.Provenance;
import lotproof.study.Reading;

/** Hand-made runs for tests: round numbers, so that expected values can be worked out on paper. */
public final class Runs {
  /** 50 kg capacity, 1000 counts/kg by default, 25000 counts per mV/V: 2 mV/V at capacity. */
  public static final Kit KIT = new Kit("cell", "board", 50, 1000, 25_000, OptionalInt.empty());

  private Runs() {}

  /** A run with these loads (kg) and outputs (counts). */
  public static LoadRun run(
      String name, String cell, String board, double[] loads, double[] outputs) {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < loads.length; i++) {
      readings.add(reading(name, i + 1, cell, board, loads[i], outputs[i]));
    }
    return new LoadRun(name, cell, board, readings);
  }

  /** One reading with a made-up source. */
  public static Reading reading(
      String run, int step, String cell, String board, double load, double output) {
    return new Reading(
        "S1",
        Optional.empty(),
        run,
        step,
        cell,
        board,
        load,
        output,
        Reading.Beside.NOTHING,
        new Provenance("bench.csv", "0".repeat(64), step + 1),
        step + 1);
  }
}
