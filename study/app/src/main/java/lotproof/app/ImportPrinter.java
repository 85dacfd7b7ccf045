package lotproof.app;

import java.nio.file.Path;
import java.util.List;
import lotproof.app.ImportCommand.ImportedFile;
import lotproof.folder.Difference;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.ImportOutcome;
import lotproof.gather.Preview;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.OutsideText;
import lotproof.study.Reading;

/** What an import shows: how a file was understood, and what came of it. */
final class ImportPrinter {
  private static final int FIRST_ROWS = 5;
  private static final int MOST_DIFFERENCES = 40;

  private final Surroundings io;
  private final Palette palette;
  private final Screen screen;

  ImportPrinter(Surroundings io, Palette palette) {
    this.io = io;
    this.palette = palette;
    this.screen = new Screen(io.out(), palette);
  }

  /** How a file was understood, before anything is kept. */
  void understanding(Path file, Preview preview) {
    io.out().println(palette.strong(OutsideText.clean(file.toString())));
    screen.showIfAny(facts(preview));
    screen.showIfAny(columns(preview));
    screen.showIfAny(rows(preview.readings()));
    screen.showIfAny(differences(preview.differences()));
    if (preview.differences().size() > MOST_DIFFERENCES) {
      io.out().println("... and " + (preview.differences().size() - MOST_DIFFERENCES) + " more");
    }
    io.out().flush();
  }

  /** What came of it. */
  void result(ImportedFile result, boolean dryRun) {
    long runs = result.preview().readings().stream().map(Reading::run).distinct().count();
    boolean series =
        result.outcome() instanceof ImportOutcome.Imported && result.preview().readings().isEmpty();
    String counts =
        result.preview().readings().isEmpty()
            ? (series ? " as a series; it gives no reading" : "")
            : ", " + result.preview().readings().size() + " readings of " + runs + " runs";
    String recognised =
        result.outcome() instanceof ImportOutcome.Imported imported && imported.recognised() > 0
            ? "; " + imported.recognised() + " of them were in the record already"
            : "";
    String word = result.word(dryRun);
    io.out().println();
    io.out()
        .println(
            OutsideText.clean(result.file().toString())
                + ": "
                + (result.refused() ? palette.no(word) : palette.yes(word))
                + counts
                + recognised);
    io.out().flush();
    Issues.printFirst(result.issues(), io.err());
    io.err().flush();
  }

  private static Table facts(Preview preview) {
    return Screen.table(
        "facts",
        "How the file was understood",
        List.of(Column.text("what", "What"), Column.text("how", "How")),
        preview.facts().stream().map(fact -> Screen.row(fact.name(), fact.value())).toList());
  }

  private static Table columns(Preview preview) {
    return Screen.table(
        "columns",
        "How the columns were understood",
        List.of(
            Column.count("position", "Column"),
            Column.text("header", "Header in the file"),
            Column.text("meaning", "Taken as"),
            Column.text("conversion", "Converted")),
        preview.columns().stream()
            .map(use -> Screen.row(use.position(), use.header(), use.meaning(), use.conversion()))
            .toList());
  }

  private static Table rows(List<Reading> readings) {
    return Screen.table(
        "first-rows",
        "First readings as read",
        List.of(
            Column.count("row", "Row"),
            Column.text("run", "Run"),
            Column.count("step", "Step"),
            Column.serial("cell", "Cell"),
            Column.serial("board", "Board"),
            Column.text("load", "Load [kg]"),
            Column.text("output", "Output [counts]"),
            Column.text("time", "Time")),
        readings.stream()
            .limit(FIRST_ROWS)
            .map(
                r ->
                    Screen.row(
                        r.source().row(),
                        r.run(),
                        r.step(),
                        r.cell(),
                        r.board(),
                        UnitsOfMeasure.plain(r.loadKilograms()),
                        UnitsOfMeasure.plain(r.outputCounts()),
                        r.time().map(Object::toString).orElse("")))
            .toList());
  }

  private static Table differences(List<Difference> differences) {
    return Screen.table(
        "differences",
        "Where the file differs from the record",
        List.of(
            Column.count("row", "Row"),
            Column.text("run", "Run"),
            Column.count("step", "Step"),
            Column.text("recorded", "In the record from"),
            Column.text("change", "What differs")),
        differences.stream()
            .limit(MOST_DIFFERENCES)
            .map(
                d ->
                    Screen.row(
                        d.received().source().row(),
                        d.received().run(),
                        d.received().step(),
                        d.recorded().source().place(),
                        d.words()))
            .toList());
  }
}
