package lotproof.gather.capture;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.folder.IncomingReadings;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.StudyRecord;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.ImportChecks;
import lotproof.gather.ImportChoices;
import lotproof.gather.Importer;
import lotproof.gather.Preview;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.layout.SessionLog;
import lotproof.gather.layout.TableReading;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.study.CaptureNote;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.work.Parallel;

/**
 * Captures into a study: each becomes one reading, the mean of its samples, with their standard
 * deviation as noise. Which run, step, pair and load a capture belongs to is said by a manifest: a
 * table in the tidy layout that has a column {@code file} in place of output and noise. It is read
 * as any table of readings is, and the readings pass the same checks.
 *
 * <p>All captures of a manifest are kept or none. Samples that stand far from both neighbours are
 * left out of mean and noise, with a warning; a capture that is stuck or at the end of the
 * converter's range is an error.
 */
public final class CaptureImport {
  /** Larger captures are refused. */
  static final long LARGEST_BYTES = 64L << 20;

  private static final String FILE_COLUMN = SessionLog.FILE;

  /** The output of all rows until the captures are read. */
  private static final String NOT_READ_YET = "0 counts";

  private static final String NO_MANIFEST =
      "there is neither a column \"file\", as a manifest has that names a capture in each row, nor"
          + " a mark of a load, as the log of a session has above each capture; marks are lines"
          + " such as \"# run R1 cell C-1 board B-1\" and \"# load 20 kg\"";

  private static final int HEADER_ROWS = 80;
  private static final int FEW_SAMPLES = 10;

  private final Path folder;
  private final String manifest;
  private final CaptureFormat format;
  private final ImportChoices choices;
  private final boolean single;
  private final List<DataIssue> issues = new ArrayList<>();
  private final Map<Place, Source> sources = new HashMap<>();
  private final List<Captured> captured = new ArrayList<>();

  /** A row of the manifest. */
  private record Place(String sheet, int row) {}

  /** The file that a row names, and the lines of it; no lines mean all. */
  private record Source(String name, String lines) {}

  /**
   * A capture that was read. It is read again when it is kept, so that many large ones need no
   * memory.
   *
   * @param understood how it was read, in words
   * @param atRow its reading, which comes from a row of the manifest
   * @param source where its samples start
   */
  private record Captured(Path path, String understood, Reading atRow, Provenance source)
      implements StudyRecord.Original {
    @Override
    public String sha256() {
      return source.sha256();
    }

    @Override
    public ReceivedFile read() throws IOException {
      return ReceivedFile.of(source.file(), Files.readAllBytes(path));
    }

    /** The reading as the record keeps it. */
    Reading recorded() {
      return with(atRow, atRow.outputCounts(), atRow.beside(), source);
    }
  }

  private CaptureImport(Path file, CaptureFormat format, ImportChoices choices, boolean single) {
    this.folder =
        Optional.ofNullable(file.toAbsolutePath().normalize().getParent())
            .orElseThrow(() -> new IllegalArgumentException("not a file in a directory: " + file));
    this.manifest = String.valueOf(file.getFileName());
    this.format = format;
    this.choices = choices;
    this.single = single;
  }

  /** Takes the captures that a manifest file names; their names are relative to its folder. */
  public static Preview ofManifest(
      StudyFolder study,
      Path manifest,
      CaptureFormat format,
      TableReaders readers,
      ImportChoices choices) {
    Result<ReceivedFile> received = Importer.receive(manifest);
    return received.isRefused()
        ? Preview.refused(received.issues())
        : new CaptureImport(manifest, format, choices, false)
            .inspect(study, received.get(), readers.open(received.get(), choices.mapping()));
  }

  /**
   * Takes one capture, as a manifest of one row would name it.
   *
   * @param values values of the tidy layout's columns by header, such as {@code load [kg]}
   */
  public static Preview ofFile(
      StudyFolder study,
      Path file,
      Map<String, String> values,
      CaptureFormat format,
      ImportChoices choices) {
    CaptureImport capture = new CaptureImport(file, format, choices, true);
    Map<String, String> cells = new LinkedHashMap<>();
    cells.put(FILE_COLUMN, capture.manifest);
    cells.putAll(values);
    List<Row> rows = List.of(row(1, cells.keySet()), row(2, cells.values()));
    Grid grid = new Grid("", List.of(), ',', Grid.Rows.of(rows), List.of());
    ReceivedFile stands = ReceivedFile.of(capture.manifest, new byte[0]);
    return capture.inspect(study, stands, Result.of(List.of(grid)));
  }

  private static Row row(int number, Collection<String> texts) {
    return new Row(number, texts.stream().map(text -> (Cell) new Cell.Text(text)).toList());
  }

  private Preview inspect(StudyFolder study, ReceivedFile file, Result<List<Grid>> opened) {
    Result<StudyContents> opening = study.open();
    if (opening.isRefused()) {
      return Preview.refused(opening.issues());
    }
    StudyContents contents = opening.get();
    List<Grid> grids = opened.value().orElse(List.of());
    if (!single && grids.stream().noneMatch(CaptureImport::isManifest)) {
      Optional<Grid> log = SessionLog.manifest(file, contents.study(), choices.mapping());
      boolean noTable = opened.issues().stream().anyMatch(it -> it.isError() && it.line() == 0);
      if (log.isEmpty()) {
        return Preview.refused(
            noTable
                ? opened.issues()
                : List.of(DataIssue.error(Code.COLUMN_MISSING, manifest, NO_MANIFEST)));
      }
      grids = List.of(log.get());
    }
    Mapping mapping = choices.mapping();
    for (Grid grid : grids) {
      for (String header : sources(grid)) {
        mapping = mapping.withColumn(header, Mapping.IGNORE);
      }
    }
    mapping = mapping.withValue(ReadingColumn.OUTPUT, NOT_READ_YET);
    TableReading.Understood table =
        TableReading.read(file, Result.of(grids), contents.study(), mapping);
    issues.addAll(table.issues());
    read(table.readings());
    List<ColumnUse> columns = table.columns().stream().map(this::column).toList();
    List<Fact> facts = new ArrayList<>(single ? List.of() : table.facts());
    facts.removeIf(fact -> fact.name().startsWith(ReadingColumn.OUTPUT.word()));
    facts.addAll(captureFacts());
    List<Reading> readings = captured.stream().map(Captured::recorded).toList();
    return new Preview(
        incoming(contents).outcome(),
        new TableReading.Understood(readings, issues, facts, columns, table.questions()),
        List.of(),
        () -> study.record().append(captured, this::incoming, Optional.empty()));
  }

  /** How the captures were understood; those that were understood alike together. */
  private List<Fact> captureFacts() {
    Map<String, List<String>> alike =
        captured.stream()
            .collect(
                Collectors.groupingBy(
                    Captured::understood,
                    LinkedHashMap::new,
                    Collectors.mapping(c -> c.source().file(), Collectors.toList())));
    List<Fact> facts = new ArrayList<>();
    alike.forEach(
        (words, files) ->
            facts.add(
                new Fact(
                    files.size() == 1
                        ? "capture " + files.get(0)
                        : files.size() + " captures, first " + files.get(0),
                    words)));
    return facts;
  }

  private static boolean isManifest(Grid grid) {
    return grid.separator() != ' ' && header(grid).isPresent();
  }

  private static Optional<Row> header(Grid grid) {
    return grid.rows().first(row -> row.number() <= HEADER_ROWS && column(row, FILE_COLUMN) >= 0);
  }

  /** Notes which capture each row names; the headers of the columns that do. */
  private List<String> sources(Grid grid) {
    Optional<Row> header = header(grid);
    if (header.isEmpty()) {
      return List.of();
    }
    List<Integer> columns =
        Stream.of(FILE_COLUMN, SessionLog.LINES, "from line", "to line")
            .map(name -> column(header.get(), name))
            .toList();
    Optional<Row> unused =
        grid.rows()
            .first(
                row -> {
                  List<String> texts =
                      columns.stream().map(i -> i < 0 ? "" : text(row.cell(i))).toList();
                  String lines =
                      texts.get(1).isEmpty() && columns.get(2) >= 0
                          ? texts.get(2) + "-" + texts.get(3)
                          : texts.get(1);
                  if (row.number() > header.get().number() && !texts.get(0).isEmpty()) {
                    sources.put(
                        new Place(grid.sheet(), row.number()), new Source(texts.get(0), lines));
                  }
                  return false;
                });
    return columns.stream().filter(i -> i >= 0).map(i -> header.get().cell(i).shown()).toList();
  }

  private static String text(Cell cell) {
    return cell instanceof Cell.Numeric number ? number.value().toPlainString() : cell.shown();
  }

  private static int column(Row row, String name) {
    return row.cells().stream()
        .map(Cell::shown)
        .map(text -> text.toLowerCase(Locale.ROOT))
        .toList()
        .indexOf(name);
  }

  /** Output and noise come from the files that the manifest names. */
  private ColumnUse column(ColumnUse use) {
    if (use.meaning().equals(ReadingColumn.NOISE.header())) {
      String message =
          ("the noise comes from the samples of the captures; leave this column out"
                  + " with --column \"%s=ignore\"")
              .formatted(use.header());
      error(Code.COLUMN_REPEATED, 0, use.header(), message);
    }
    return use.header().equalsIgnoreCase(FILE_COLUMN)
        ? new ColumnUse(use.position(), use.header(), "output, noise", "mean and sd of its samples")
        : use;
  }

  private void error(Code code, int row, String column, String message) {
    issues.add(DataIssue.error(code, manifest, row, column, "", message));
  }

  /** Reads the captures of all rows; cores read captures side by side. */
  private void read(List<Reading> rows) {
    Map<String, Integer> rowOf = new HashMap<>();
    for (Result<Captured> answer : Parallel.map(rows, this::capture)) {
      answer.issues().stream().filter(this::isNew).forEach(issues::add);
      answer.value().ifPresent(captured::add);
    }
    for (Captured capture : captured) {
      int row = capture.atRow().source().row();
      Integer earlier = rowOf.putIfAbsent(place(capture.source()), row);
      if (earlier != null) {
        String message = "the same samples as the capture of row " + earlier;
        error(Code.DUPLICATE_READING, row, FILE_COLUMN, message);
      }
    }
  }

  /** What captures of one file leave open is asked at the first of them. */
  private boolean isNew(DataIssue issue) {
    return issue.code() != Code.CAPTURE_UNCLEAR
        || issues.stream()
            .noneMatch(it -> it.code() == issue.code() && it.file().equals(issue.file()));
  }

  /** The capture of a row; with an error among its issues nothing is kept. */
  private Result<Captured> capture(Reading row) {
    int line = row.source().row();
    Source from = sources.getOrDefault(new Place(row.source().sheet(), line), new Source("", ""));
    String name = from.name();
    Optional<Path> path = path(name);
    if (path.isEmpty()) {
      String message = "\"" + name + "\" is not the name of a file beside the manifest";
      return Result.refused(
          DataIssue.error(Code.VALUE_INVALID, manifest, line, FILE_COLUMN, "", message));
    }
    if (Setting.LINES.whyNot(from.lines()).isPresent() && !from.lines().isEmpty()) {
      String message = Setting.LINES.whyNot(from.lines()).get();
      return Result.refused(
          DataIssue.error(Code.VALUE_INVALID, manifest, line, SessionLog.LINES, "", message));
    }
    try {
      String file = String.valueOf(path.get().getFileName());
      CaptureFormat format =
          from.lines().isEmpty() ? this.format : this.format.ofLines(from.lines());
      Result<CaptureAnalysis> analysis = analysed(file, path.get(), format);
      if (analysis.isRefused()) {
        return Result.refused(analysis.issues());
      }
      CaptureAnalysis good = analysis.get();
      String hash = ReceivedFile.of(file, Files.readAllBytes(path.get())).sha256();
      Provenance source =
          new Provenance(file, hash, Math.max(good.layout().headerLine() + 1, format.firstLine()));
      Reading reading = reading(row, good, format, single ? source : row.source());
      List<DataIssue> found =
          analysis.issues().stream()
              .map(issue -> ofFew(issue, good.noise().all().samples()))
              .toList();
      return new Result<>(
          Optional.of(new Captured(path.get(), good.layout().words(), reading, source)), found);
    } catch (IOException e) {
      return Result.refused(Code.FILE_UNREADABLE, name, "the file cannot be read");
    }
  }

  /**
   * A capture that is to be kept. What is stuck or at the end of its range, or in another unit than
   * counts, has an error beside its numbers.
   */
  static Result<CaptureAnalysis> analysed(String name, Path path, CaptureFormat format)
      throws IOException {
    if (Files.size(path) > LARGEST_BYTES) {
      String message = "the capture is larger than 64 MiB; a reading needs a few seconds only";
      return Result.refused(Code.FILE_UNREADABLE, name, message);
    }
    Result<CaptureAnalysis> analysis =
        CaptureAnalysis.of(name, path, format, OptionalDouble.empty());
    List<DataIssue> found = new ArrayList<>(analysis.issues());
    found.replaceAll(
        issue ->
            issue.code() == Code.SATURATED || issue.code() == Code.STUCK
                ? issue.as(Severity.ERROR, issue.message())
                // a table has a separator, too, so that of captures has another name here
                : issue.as(
                    issue.severity(),
                    issue.message().replace("--separator", "--capture-separator")));
    analysis
        .value()
        .map(good -> good.layout().unit())
        .filter(unit -> !unit.equals("counts"))
        .map(unit -> "the samples are in " + unit + "; a study keeps counts")
        .map(message -> DataIssue.error(Code.UNIT_OF_MEASURE_UNKNOWN, name, message))
        .ifPresent(found::add);
    return new Result<>(analysis.value(), found);
  }

  /** Of a few samples none is left out without asking. */
  private static DataIssue ofFew(DataIssue issue, long samples) {
    String advice =
        "; that is few: put a line end behind the last one if it is whole, or delete it";
    return issue.code() == Code.LAST_LINE_UNFINISHED && samples < FEW_SAMPLES
        ? issue.as(Severity.ERROR, issue.message() + advice)
        : issue;
  }

  /** A file below the manifest's folder, and nowhere else. */
  private Optional<Path> path(String name) {
    if (name.isBlank() || name.chars().anyMatch(c -> c < ' ')) {
      return Optional.empty();
    }
    try {
      Path path = folder.resolve(name).normalize();
      boolean below = path.startsWith(folder) && !Path.of(name).isAbsolute();
      return below && Files.isRegularFile(path) ? Optional.of(path) : Optional.empty();
    } catch (InvalidPathException e) {
      return Optional.empty();
    }
  }

  /** The reading of a row, with the numbers of its capture. */
  private Reading reading(
      Reading row, CaptureAnalysis analysis, CaptureFormat readAs, Provenance source) {
    CaptureNoise noise = analysis.noise();
    boolean reversed =
        choices.mapping().setting(Setting.SIGN).filter("reversed"::equals).isPresent();
    double mean = noise.good().mean();
    long left = noise.faults().glitches().count();
    String signs =
        Stream.concat(
                left > 0 ? Stream.of(left + " left out as glitches") : Stream.of(),
                analysis.signs().stream())
            .map(sign -> ", " + sign)
            .collect(Collectors.joining());
    CaptureNote note = new CaptureNote(noise.all().samples(), signs, readAs.words());
    Reading.Beside beside =
        new Reading.Beside(
            OptionalDouble.of(noise.good().sd()),
            row.beside().cellTemperatureCelsius(),
            row.beside().boardTemperatureCelsius(),
            note.after(row.beside().remark()));
    return with(row, reversed && mean != 0 ? -mean : mean, beside, source);
  }

  private static Reading with(
      Reading row, double outputCounts, Reading.Beside beside, Provenance source) {
    return new Reading(
        row.session(),
        row.time(),
        row.run(),
        row.step(),
        row.cell(),
        row.board(),
        row.loadKilograms(),
        outputCounts,
        beside,
        source,
        0);
  }

  /** The readings whose captures the record does not hold yet, and what speaks against them. */
  private IncomingReadings incoming(StudyContents contents) {
    Set<String> known =
        contents.readings().stream().map(r -> place(r.source())).collect(Collectors.toSet());
    List<DataIssue> all = new ArrayList<>(issues);
    Map<Reading, Reading> fresh = new LinkedHashMap<>();
    for (Captured capture : captured) {
      if (known.contains(place(capture.source()))) {
        String file = capture.source().file();
        String message = "the same capture was imported before; it is not taken again";
        all.add(DataIssue.warning(Code.ALREADY_IMPORTED, file, 0, message));
      } else {
        fresh.put(capture.atRow(), capture.recorded());
      }
    }
    List<Reading> atRows = List.copyOf(fresh.keySet());
    all.addAll(ImportChecks.of(contents, atRows, choices.accepted()));
    if (fresh.isEmpty() && !captured.isEmpty() && all.stream().noneMatch(DataIssue::isError)) {
      return IncomingReadings.known(
          captured.size(), manifest, "all captures are in the record already; nothing was changed");
    }
    IncomingReadings sorted = IncomingReadings.of(contents, atRows, all, Optional.empty());
    return new IncomingReadings(
        sorted.toAppend().stream().map(fresh::get).toList(),
        sorted.recognised(),
        sorted.differences(),
        sorted.wasThere(),
        sorted.issues().stream().map(this::placed).toList());
  }

  /** Where samples begin: of a log each capture at a line of its own. */
  private static String place(Provenance source) {
    return source.sha256() + "/" + source.row();
  }

  /** In the words of the manifest; a single capture has no line of its own for its row. */
  private DataIssue placed(DataIssue issue) {
    boolean ofReading = ReadingColumn.headers().contains(issue.column());
    if (single && ofReading) {
      return issue.inLine(0);
    }
    return issue.column().equals(ReadingColumn.OUTPUT.header())
        ? issue.inColumn(FILE_COLUMN)
        : issue;
  }
}
