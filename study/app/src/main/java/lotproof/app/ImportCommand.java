package lotproof.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import lotproof.folder.StudyFolder;
import lotproof.gather.ColumnUse;
import lotproof.gather.ImportOutcome;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.TableReaders;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.OutsideText;
import lotproof.study.DataIssue;
import lotproof.study.Reading;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Takes bench files into the record. */
@Command(
    name = "import",
    header = "Take bench files into the record of a study.",
    description = {
      "Shows how each column was understood and then keeps all readings of a file or, if one of them"
          + " cannot be used, none. The file itself is kept under its hash. A file that was imported"
          + " before is recognised."
    },
    footer = {
      "  lotproof import hive-scale bench-01.csv bench-02.csv",
      "  lotproof import hive-scale bench-03.xlsx --dry-run",
      "  lotproof import hive-scale manifest.csv --captures --bits 24",
      "  lotproof import hive-scale zero.log --run R001 --step 1 --cell CA-001 --board BA-001"
          + " --load \"0 kg\""
    })
final class ImportCommand implements Callable<Integer> {
  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Parameters(
      index = "1..*",
      arity = "1..*",
      paramLabel = "FILE",
      description = "files with readings, CSV or xlsx (layout: docs/formats.md); or raw captures")
  private List<Path> files = List.of();

  @Option(names = "--dry-run", description = "show what would be kept and keep nothing")
  private boolean dryRun;

  @Option(names = "--strict", description = "answer no (1) when there are warnings")
  private boolean strict;

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  @ArgGroup(validate = false, heading = "%nFor raw captures (layout: docs/formats.md):%n")
  private CaptureImportOptions captures = new CaptureImportOptions();

  ImportCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  /** What came of one file. */
  private record FileResult(
      Path file, ImportOutcome outcome, List<ColumnUse> columns, List<Reading> readings) {
    List<DataIssue> issues() {
      if (outcome instanceof ImportOutcome.Imported imported) {
        return imported.warnings();
      }
      if (outcome instanceof ImportOutcome.Refused refused) {
        return refused.issues();
      }
      return List.of(((ImportOutcome.AlreadyImported) outcome).note());
    }

    boolean refused() {
      return outcome instanceof ImportOutcome.Refused;
    }

    String word(boolean dryRun) {
      if (outcome instanceof ImportOutcome.Imported) {
        return dryRun ? "would be imported" : "imported";
      }
      return outcome instanceof ImportOutcome.Refused ? "refused" : "already imported";
    }
  }

  @Override
  public Integer call() {
    StudyFolder folder = StudyFolders.existing(study);
    captures.check(files);
    List<FileResult> results = new ArrayList<>();
    for (Path file : files) {
      FileResult result =
          new Progress(io).during("reading " + file.getFileName(), () -> take(folder, file));
      results.add(result);
      if (!json) {
        print(result);
      }
    }
    int exit = exit(results);
    if (json) {
      io.out().print(ResultJson.of(message(results, exit)));
    }
    return exit;
  }

  private FileResult take(StudyFolder folder, Path file) {
    if (!Files.isRegularFile(file)) {
      throw new UnusableException("there is no file " + file);
    }
    TableReaders readers = Readers.all();
    if (captures.given()) {
      CaptureImportOptions.Taken taken = captures.take(folder, file, readers, !dryRun);
      return new FileResult(file, taken.outcome(), taken.columns(), taken.readings());
    }
    Preview preview = Importer.preview(folder, file, readers);
    boolean keep = !dryRun && preview.outcome() instanceof ImportOutcome.Imported;
    ImportOutcome outcome = keep ? Importer.importFile(folder, file, readers) : preview.outcome();
    return new FileResult(file, outcome, preview.columns(), preview.readings());
  }

  private int exit(List<FileResult> results) {
    if (results.stream().anyMatch(FileResult::refused)) {
      return Exit.UNUSABLE;
    }
    boolean remarks = results.stream().anyMatch(result -> !result.issues().isEmpty());
    return strict && remarks ? Exit.NO : Exit.DONE;
  }

  private void print(FileResult result) {
    Palette palette = program.palette();
    long runs = result.readings().stream().map(Reading::run).distinct().count();
    String counts =
        result.readings().isEmpty()
            ? ""
            : ", " + result.readings().size() + " readings of " + runs + " runs";
    String word = result.word(dryRun);
    io.out()
        .println(
            OutsideText.clean(result.file().toString())
                + ": "
                + (result.refused() ? palette.no(word) : palette.yes(word))
                + counts);
    new Screen(io.out(), palette).showIfAny(columns(result));
    io.out().flush();
    Issues.print(result.issues(), io.err());
    io.err().flush();
  }

  private static Table columns(FileResult result) {
    return Screen.table(
        "columns",
        "How the columns were understood",
        List.of(
            Column.count("position", "Column"),
            Column.text("header", "Header in the file"),
            Column.text("meaning", "Taken as"),
            Column.text("conversion", "Converted")),
        result.columns().stream()
            .map(use -> Screen.row(use.position(), use.header(), use.meaning(), use.conversion()))
            .toList());
  }

  private Messages.Import message(List<FileResult> results, int exit) {
    return new Messages.Import(
        "import",
        LotproofCommand.Version.number(),
        exit,
        results.stream()
            .map(
                result ->
                    new Messages.ImportedFile(
                        result.file().toString(),
                        result.word(dryRun),
                        result.readings().size(),
                        result.columns(),
                        result.issues()))
            .toList());
  }
}
