package lotproof.app.bench;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;

import java.nio.file.Path;
import java.util.List;
import lotproof.app.bench.ImportCommand.ImportedFile;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.CliContext.Style;
import lotproof.folder.Difference;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.Preview;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.tables.Fact;
import lotproof.report.model.TableBuilder;
import lotproof.study.Reading;

/** What an import shows: how a file was understood, and what came of it. */
record ImportPrinter(CliContext io) {
  private static final int FIRST_ROWS = 5;
  private static final int MOST_DIFFERENCES = 40;

  /** How a file was understood, before anything is kept. */
  void understanding(Path file, Preview preview) {
    io.say(Style.STRONG, file.toString(), "");
    io.show(
        new TableBuilder<Fact>("How the file was understood")
            .add("What", TEXT, Fact::name)
            .add("How", TEXT, Fact::value)
            .of(preview.understood().facts()));
    io.show(
        new TableBuilder<ColumnUse>("How the columns were understood")
            .add("Column", COUNT, ColumnUse::position)
            .add("Header in the file", TEXT, ColumnUse::header)
            .add("Taken as", TEXT, ColumnUse::meaning)
            .add("Converted", TEXT, ColumnUse::conversion)
            .of(preview.understood().columns()));
    io.show(
        new TableBuilder<Reading>("First readings as read")
            .add("Row", COUNT, r -> r.source().row())
            .add("Run", TEXT, Reading::run)
            .add("Step", COUNT, Reading::step)
            .add("Cell", SERIAL, Reading::cell)
            .add("Board", SERIAL, Reading::board)
            .add("Load [kg]", TEXT, r -> UnitsOfMeasure.plain(r.loadKilograms()))
            .add("Output [counts]", TEXT, r -> UnitsOfMeasure.plain(r.outputCounts()))
            .add("Time", TEXT, r -> r.time().map(Object::toString).orElse(""))
            .of(first(preview.understood().readings(), FIRST_ROWS)));
    List<Difference> differences = preview.differences();
    io.show(
        new TableBuilder<Difference>("Where the file differs from the record")
            .add("Row", COUNT, d -> d.received().source().row())
            .add("Run", TEXT, d -> d.received().run())
            .add("Step", COUNT, d -> d.received().step())
            .add("In the record from", TEXT, d -> d.recorded().source().place())
            .add("Difference", TEXT, Difference::words)
            .of(first(differences, MOST_DIFFERENCES)));
    if (differences.size() > MOST_DIFFERENCES) {
      io.say("... and " + (differences.size() - MOST_DIFFERENCES) + " more");
    }
  }

  private static <T> List<T> first(List<T> all, int most) {
    return all.subList(0, Math.min(all.size(), most));
  }

  /** What came of it. */
  void result(ImportedFile result, boolean dryRun) {
    List<Reading> readings = result.preview().understood().readings();
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
    io.say(
        result.refused() ? Style.NO : Style.YES, result.file() + ": " + word, counts + recognised);
    io.showFirst(result.issues());
  }
}
