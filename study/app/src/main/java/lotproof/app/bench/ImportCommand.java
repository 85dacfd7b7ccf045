package lotproof.app.bench;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.MappingOptions;
import lotproof.app.cli.Origin;
import lotproof.app.cli.UnusableException;
import lotproof.folder.Appended;
import lotproof.folder.Difference;
import lotproof.folder.ReceivedFile;
import lotproof.folder.SourceDecision;
import lotproof.folder.SourceDecision.Choice;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.ImportChoices;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.layout.Question;
import lotproof.gather.layout.Times;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.TableReaders;
import lotproof.report.text.SanitizedText;
import lotproof.review.ExchangedSerials;
import lotproof.study.DataIssue;
import lotproof.study.Provenance;
import lotproof.study.Result;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Takes bench files into the record. */
@Command(name = "import")
public final class ImportCommand extends CliCommand.OnStudy {

  private static final String KEEP = "Keep these readings?";
  private static final int MOST_ROUNDS = 30;

  @Parameters(index = "1..*", arity = "1..*", paramLabel = "FILE")
  private List<Path> files = List.of();

  private final MappingOptions understanding =
      listed(new MappingOptions("How files are to be understood"));
  private final CaptureImportOptions captures = listed(new CaptureImportOptions());

  @Option(names = "--yes")
  private boolean yes;

  @Option(names = "--accept", paramLabel = "CODE", split = ",")
  private List<DataIssue.Code> accepted = List.of();

  @Option(names = "--supersede")
  private boolean supersede;

  @Option(names = "--keep-first")
  private boolean keepFirst;

  @Option(names = "--who", paramLabel = "NAME")
  private @Nullable String who;

  @Option(names = "--why", paramLabel = "TEXT")
  private @Nullable String why;

  @Option(names = "--when", paramLabel = "TIME")
  private @Nullable String when;

  @Option(names = "--dry-run")
  private boolean dryRun;

  @Option(names = "--strict")
  private boolean strict;

  /**
   * What {@code import} did with each file.
   *
   * @param exchanged runs whose serials look exchanged, of the whole record after the import
   * @param issues the same in words
   */
  public record Import(
      String command,
      String version,
      int exit,
      List<FileResult> files,
      List<ExchangedSerials> exchanged,
      List<DataIssue> issues)
      implements Message {}

  /** What {@code import} did with one file. */
  public record FileResult(
      String file,
      String outcome,
      int readings,
      int recognised,
      List<Fact> understood,
      List<ColumnUse> columns,
      List<OpenQuestion> questions,
      List<DifferingReading> differences,
      List<DataIssue> issues) {}

  /** What a file leaves open. */
  public record OpenQuestion(String text, List<Question.Choice> choices) {}

  /** A reading for which a file says something else than the record. */
  public record DifferingReading(
      String run,
      int step,
      Provenance recorded,
      Provenance received,
      List<Difference.Change> changes) {}

  @Override
  public Integer call() {
    StudyFolder folder = folder(study);
    understanding.check();
    captures.check(files);
    Optional<SourceDecision> decision = decision();
    Mapping mapping = understanding.mapping(folder);
    ImportPrinter printer = new ImportPrinter(io);
    List<ImportedFile> results = new ArrayList<>();
    for (Path file : files) {
      ImportChoices choices =
          new ImportChoices(captures.onto(mapping), Set.copyOf(accepted), decision);
      ImportedFile result = take(file, choices, looking(folder, file), printer);
      mapping = result.mapping();
      results.add(result);
      if (!json) {
        printer.result(result, dryRun);
      }
    }
    if (results.stream().noneMatch(ImportedFile::refused)) {
      Optional<String> saved = understanding.save(folder, mapping);
      saved.filter(text -> !json).ifPresent(io::say);
    }
    List<ExchangedSerials> exchanged = exchanged(folder, results);
    List<DataIssue> issues = exchanged.stream().map(ExchangedSerials::issue).toList();
    int exit = exit(results, issues);
    if (json) {
      io.json(
          new Import(
              "import",
              Origin.programVersion(),
              exit,
              results.stream().map(result -> result.message(dryRun)).toList(),
              exchanged,
              issues));
    } else {
      io.showAll(issues);
    }
    return exit;
  }

  private Optional<SourceDecision> decision() {
    refuse(supersede && keepFirst, "--supersede and --keep-first exclude one another");
    if (!supersede && !keepFirst) {
      return Optional.empty();
    }
    if (who == null || who.isBlank() || why == null || why.isBlank() || when == null) {
      throw new UnusableException(
          "a decision needs --who, --why and --when; all three are recorded permanently");
    }
    Choice choice = supersede ? Choice.SUPERSEDE : Choice.KEEP_FIRST;
    return Optional.of(new SourceDecision(choice, CliCommand.time("--when", when), who, why));
  }

  private boolean asks() {
    return io.terminal() && !yes && !json;
  }

  /** How a file is looked at, with what is said about it. */
  private Function<ImportChoices, Preview> looking(StudyFolder folder, Path path) {
    refuse(!Files.isRegularFile(path), "there is no file " + path);
    TableReaders readers = readers();
    if (captures.isCapture()) {
      return choices -> captures.inspect(folder, path, readers, choices);
    }
    ReceivedFile file = UnusableException.needed(Importer.receive(path));
    return choices -> Importer.inspect(folder, file, readers, choices);
  }

  /** Looks at a file until a person has answered what it leaves open, and takes it in. */
  private ImportedFile take(
      Path path,
      ImportChoices first,
      Function<ImportChoices, Preview> looking,
      ImportPrinter printer) {
    ImportChoices choices = first;
    for (int round = 0; ; round++) {
      ImportChoices said = choices;
      Preview preview = io.during("reading " + path.getFileName(), () -> looking.apply(said));
      if (!json) {
        printer.understanding(path, preview);
      }
      if (asks() && round < MOST_ROUNDS) {
        choices = ask(preview, said);
      }
      if (choices.equals(said)) {
        return new ImportedFile(path, keep(preview), preview, said.mapping());
      }
    }
  }

  private Result<Appended> keep(Preview preview) {
    Result<Appended> outcome = preview.outcome();
    boolean keeps =
        outcome.value().filter(it -> !it.wasThere() || supersede || keepFirst).isPresent();
    if (dryRun || !keeps) {
      return outcome;
    }
    return asks() && !io.typing().yes(KEEP) ? Result.refused(List.of()) : preview.keep();
  }

  /** What is said with the answers of a person; the same when there is nothing to answer. */
  private ImportChoices ask(Preview preview, ImportChoices said) {
    Mapping told = said.mapping();
    for (Question question : preview.understood().questions()) {
      List<Question.Choice> choices = question.choices();
      Optional<String> answer =
          io.typing()
              .answer(
                  question.text(),
                  choices.stream().map(Question.Choice::value).toList(),
                  choices.stream().map(Question.Choice::words).toList(),
                  question::whyNot);
      if (answer.isEmpty()) {
        told = said.mapping();
        break;
      }
      told = question.answered(told, answer.get());
    }
    boolean differs = said.decision().isEmpty() && !preview.differences().isEmpty();
    Optional<SourceDecision> decision =
        told.equals(said.mapping()) && differs
            ? askWhatCounts(preview.differences().size())
            : said.decision();
    return new ImportChoices(told, said.accepted(), decision);
  }

  private Optional<SourceDecision> askWhatCounts(int differences) {
    return io.typing()
        .choice(
            "The file differs from the record in " + differences + " readings. What counts?",
            List.of("the file: its values are used from now on", "the record: it stays as it is"))
        .flatMap(
            choice -> {
              Optional<String> name = answer("Who decides? ");
              Optional<String> reason = answer("Why? ");
              Optional<String> time =
                  answer("When, such as 2026-03-05T16:10? ")
                      .flatMap(text -> Times.typed(text).value());
              Choice counts = choice == 1 ? Choice.SUPERSEDE : Choice.KEEP_FIRST;
              return name.isEmpty() || reason.isEmpty() || time.isEmpty()
                  ? Optional.empty()
                  : Optional.of(new SourceDecision(counts, time.get(), name.get(), reason.get()));
            });
  }

  private Optional<String> answer(String question) {
    return io.typing().line(question, List.of()).filter(text -> !text.isBlank());
  }

  /** What the record shows of exchanged serials, once new readings are in it. */
  private List<ExchangedSerials> exchanged(StudyFolder folder, List<ImportedFile> results) {
    boolean fresh =
        !dryRun
            && results.stream()
                .flatMap(r -> r.outcome().value().stream())
                .anyMatch(a -> !a.wasThere());
    return (fresh ? folder.open().value() : Optional.<StudyContents>empty())
        .map(it -> ExchangedSerials.of(it.study(), it.readings(), it.decisions()))
        .orElse(List.of());
  }

  private int exit(List<ImportedFile> results, List<DataIssue> issues) {
    if (results.stream().anyMatch(ImportedFile::refused)) {
      return Exit.UNUSABLE;
    }
    boolean remarks =
        !issues.isEmpty() || results.stream().anyMatch(result -> !result.issues().isEmpty());
    return strict && remarks ? Exit.NO : Exit.DONE;
  }

  /** What came of one file. */
  record ImportedFile(Path file, Result<Appended> outcome, Preview preview, Mapping mapping) {
    List<DataIssue> issues() {
      return outcome.issues();
    }

    boolean refused() {
      return outcome.isRefused();
    }

    String word(boolean dryRun) {
      if (refused()) {
        return "refused";
      }
      return outcome.get().wasThere()
          ? "already imported"
          : dryRun ? "would be imported" : "imported";
    }

    /** Readings that were in the record already. */
    int recognised() {
      return outcome.value().map(Appended::recognised).orElse(0);
    }

    private FileResult message(boolean dryRun) {
      return new FileResult(
          SanitizedText.clean(file.toString()),
          word(dryRun),
          preview.understood().readings().size(),
          recognised(),
          preview.understood().facts(),
          preview.understood().columns(),
          preview.understood().questions().stream()
              .map(q -> new OpenQuestion(q.text(), q.choices()))
              .toList(),
          preview.differences().stream()
              .map(
                  d ->
                      new DifferingReading(
                          d.received().run(),
                          d.received().step(),
                          d.recorded().source(),
                          d.received().source(),
                          d.changes()))
              .toList(),
          issues());
    }
  }
}
