package lotproof.app.bench;

import java.nio.file.Path;
import java.util.List;
import lotproof.app.bench.ImportCommand.ImportedFile;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Issues;
import lotproof.app.cli.ScreenTable;
import lotproof.folder.Difference;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.Preview;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.tables.Fact;
import lotproof.study.Reading;

/** What an import shows: how a file was understood, and what came of it. */
record ImportPrinter(CliContext io) {
  private static final int FIRST_ROWS = 5;
  private static final int MOST_DIFFERENCES = 40;

  /** How a file was understood, before anything is kept. */
  void understanding(Path file, Preview preview) {
    io.say(io.strong(file.toString()));
    io.show(
        ScreenTable.of("How the file was understood", preview.facts())
            .text("What", Fact::name)
            .text("How", Fact::value));
    io.show(
        ScreenTable.of("How the columns were understood", preview.columns())
            .count("Column", ColumnUse::position)
            .text("Header in the file", ColumnUse::header)
            .text("Taken as", ColumnUse::meaning)
            .text("Converted", ColumnUse::conversion));
    io.show(
        ScreenTable.of("First readings as read", first(preview.readings(), FIRST_ROWS))
            .count("Row", r -> r.source().row())
            .text("Run", Reading::run)
            .count("Step", Reading::step)
            .serial("Cell", Reading::cell)
            .serial("Board", Reading::board)
            .text("Load [kg]", r -> UnitsOfMeasure.plain(r.loadKilograms()))
            .text("Output [counts]", r -> UnitsOfMeasure.plain(r.outputCounts()))
            .text("Time", r -> r.time().map(Object::toString).orElse("")));
    List<Difference> differences = preview.differences();
    io.show(
        ScreenTable.of(
                "Where the file differs from the record", first(differences, MOST_DIFFERENCES))
            .count("Row", d -> d.received().source().row())
            .text("Run", d -> d.received().run())
            .count("Step", d -> d.received().step())
            .text("In the record from", d -> d.recorded().source().place())
            .text("Difference", Difference::words));
    if (differences.size() > MOST_DIFFERENCES) {
      io.say("... and " + (differences.size() - MOST_DIFFERENCES) + " more");
    }
  }

  private static <T> List<T> first(List<T> all, int most) {
    return all.subList(0, Math.min(all.size(), most));
  }

  /** What came of it. */
  void result(ImportedFile result, boolean dryRun) {
    List<Reading> readings = result.preview().readings();
    long runs = readings.stream().map(Reading::run).distinct().count();
    boolean imported = result.outcome().value().filter(it -> !it.wasThere()).isPresent();
    String counts =
        !readings.isEmpty()
            ? ", " + readings.size() + " readings of " + runs + " runs"
            : imported ? " as a series; it gives no reading" : "";
    String recognised =
        result.recognised() > 0
            ? "; " + result.recognised() + " of them were in the record already"
            : "";
    String word = result.word(dryRun);
    io.say("");
    io.sayf(
        "%s: %s%s%s",
        result.file(), result.refused() ? io.no(word) : io.yes(word), counts, recognised);
    Issues.printFirst(result.issues(), io);
  }
}
