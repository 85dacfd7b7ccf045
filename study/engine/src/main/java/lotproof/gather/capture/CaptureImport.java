package lotproof.gather.capture;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.folder.Appended;
import lotproof.folder.Batch;
import lotproof.folder.IncomingReadings;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.StudyRecord;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.ImportChecks;
import lotproof.gather.ImportChoices;
import lotproof.gather.Inspected;
import lotproof.gather.Preview;
import lotproof.gather.layout.ColumnUse;
import lotproof.gather.layout.TableReading;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.NumberStyle;
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
  /** Header of the manifest's column with the names of the captures. */
  public static final String FILE_COLUMN = "file";

  /** Larger captures are refused, and larger manifests too. */
  static final long LARGEST_BYTES = 64L << 20;

  /** Numbers of a manifest's rows stand here until the captures are read. */
  private static final Cell NOT_READ_YET = new Cell.Numeric(BigDecimal.ZERO, "0");

  private static final int HEADER_ROWS = 80;
  private static final int FEW_SAMPLES = 10;

  private final Path folder;
  private final String manifest;
  private final CaptureFormat format;
  private final ImportChoices choices;
  private final boolean single;
  private final List<DataIssue> issues = new ArrayList<>();
  private final Map<Place, String> names = new HashMap<>();
  private final List<Captured> captured = new ArrayList<>();
  private final Map<String, String> layouts = new LinkedHashMap<>();

  /** A row of the manifest. */
  private record Place(String sheet, int row) {}

  /** A capture that was read: where it is, its hash, and where its samples start. */
  private record Taken(Path path, String name, String sha256, int line, CaptureNoise noise) {}

  /** A capture and its reading, which says where in the manifest it stands. */
  private record Captured(Reading atRow, Taken taken) {}

  private CaptureImport(Path file, CaptureFormat format, ImportChoices choices, boolean single) {
    Path parent = file.toAbsolutePath().getParent();
    if (parent == null) {
      throw new IllegalArgumentException("not a file in a directory: " + file);
    }
    this.folder = parent;
    this.manifest = String.valueOf(file.getFileName());
    this.format = format;
    this.choices = choices;
    this.single = single;
  }

  /** Takes the captures that a manifest file names; their names are relative to its folder. */
  public static Inspected ofManifest(
      StudyFolder study,
      Path manifest,
      CaptureFormat format,
      TableReaders readers,
      ImportChoices choices) {
    CaptureImport captures = new CaptureImport(manifest, format, choices, false);
    ReceivedFile received;
    try {
      if (Files.size(manifest) > LARGEST_BYTES) {
        return captures.refused(Code.FILE_UNREADABLE, "the manifest is larger than 64 MiB");
      }
      received = ReceivedFile.of(captures.manifest, Files.readAllBytes(manifest));
    } catch (IOException e) {
      return captures.refused(Code.FILE_UNREADABLE, "the manifest cannot be read");
    }
    return captures.inspect(study, received, readers.open(received, choices.mapping()));
  }

  /**
   * Takes one capture.
   *
   * @param values values of the tidy layout's columns by header, such as {@code load [kg]}
   */
  public static Inspected ofFile(
      StudyFolder study,
      Path file,
      Map<String, String> values,
      CaptureFormat format,
      ImportChoices choices) {
    CaptureImport capture = new CaptureImport(file, format, choices, true);
    List<Cell> header = new ArrayList<>(List.of(new Cell.Text(FILE_COLUMN)));
    List<Cell> row = new ArrayList<>(List.of(new Cell.Text(capture.manifest)));
    values.forEach(
        (column, value) -> {
          header.add(new Cell.Text(column));
          row.add(new Cell.Text(value));
        });
    List<Row> rows = List.of(new Row(1, header), new Row(2, row));
    Grid said =
        new Grid("", List.of(), ',', NumberStyle.DECIMAL_POINT, Grid.Rows.of(rows), List.of());
    ReceivedFile stands = ReceivedFile.of(capture.manifest, new byte[0]);
    return capture.inspect(study, stands, Result.of(List.of(said)));
  }

  private Inspected refused(Code code, String message) {
    return refused(List.of(DataIssue.error(code, manifest, 0, "", "", message)));
  }

  private static Inspected refused(List<DataIssue> why) {
    return new Inspected(Preview.refused(why), () -> Result.refused(why));
  }

  private Inspected inspect(StudyFolder study, ReceivedFile file, Result<List<Grid>> opened) {
    Result<StudyContents> opening = study.open();
    if (opening.isRefused()) {
      return refused(opening.issues());
    }
    if (opened.isRefused()) {
      return refused(opened.issues());
    }
    Mapping mapping = choices.mapping();
    List<Grid> grids = new ArrayList<>();
    for (Grid grid : opened.get()) {
      Optional<Header> header = header(grid);
      grids.add(header.map(at -> naming(grid, at)).orElse(grid));
      if (header.isPresent()) {
        mapping = mapping.withColumn(header.get().name(), ReadingColumn.OUTPUT.header());
      }
    }
    if (mapping.equals(choices.mapping())) {
      return refused(
          Code.COLUMN_MISSING,
          "there is no column \"file\"; a manifest names a capture in each row");
    }
    StudyContents contents = opening.get();
    TableReading.Understood table =
        asWritten(TableReading.read(file, Result.of(grids), contents.study(), mapping));
    issues.addAll(table.batch().issues());
    read(table.batch().readings());
    List<Fact> facts = new ArrayList<>(single ? List.of() : table.facts());
    facts.addAll(layoutFacts());
    return new Inspected(
        new Preview(
            placed(incoming(contents).outcome()),
            facts,
            table.columns(),
            captured.stream().map(this::recorded).toList(),
            table.questions(),
            List.of()),
        () -> keep(study));
  }

  /** How the captures were understood; those that were understood alike together. */
  private List<Fact> layoutFacts() {
    Map<String, List<String>> alike = new LinkedHashMap<>();
    layouts.forEach(
        (name, words) -> alike.computeIfAbsent(words, w -> new ArrayList<>()).add(name));
    List<Fact> facts = new ArrayList<>();
    alike.forEach(
        (words, names) ->
            facts.add(
                new Fact(
                    names.size() == 1
                        ? "capture " + names.get(0)
                        : names.size() + " captures, first " + names.get(0),
                    words)));
    return facts;
  }

  /** The row and the column that name captures. */
  private record Header(int row, int column, String name) {}

  private static Optional<Header> header(Grid grid) {
    List<Header> found = new ArrayList<>();
    int[] rows = {0};
    Optional<DataIssue> unused =
        grid.rows()
            .forEach(
                row -> {
                  for (int i = 0; found.isEmpty() && i < row.cells().size(); i++) {
                    if (row.cell(i) instanceof Cell.Text text
                        && text.value().equalsIgnoreCase(FILE_COLUMN)) {
                      found.add(new Header(row.number(), i, text.value()));
                    }
                  }
                  return found.isEmpty() && ++rows[0] < HEADER_ROWS;
                });
    return found.stream().findFirst();
  }

  /** The same rows, whose captures are remembered by name and read later. */
  private Grid naming(Grid grid, Header header) {
    return grid.withRows(
        wants -> grid.rows().forEach(row -> wants.test(named(grid.sheet(), row, header))));
  }

  private Row named(String sheet, Row row, Header header) {
    boolean namesCapture =
        row.number() > header.row()
            && row.cell(header.column()) instanceof Cell.Text text
            && !text.value().equals(header.name());
    if (!namesCapture) {
      return row;
    }
    List<Cell> cells = new ArrayList<>(row.cells());
    String name = ((Cell.Text) cells.set(header.column(), NOT_READ_YET)).value();
    names.put(new Place(sheet, row.number()), name);
    return new Row(row.number(), cells);
  }

  /** Output and noise come from the files that the manifest names. */
  private TableReading.Understood asWritten(TableReading.Understood table) {
    List<DataIssue> said =
        new ArrayList<>(table.batch().issues().stream().map(this::placed).toList());
    List<ColumnUse> columns = new ArrayList<>();
    for (ColumnUse use : table.columns()) {
      boolean output = use.meaning().equals(ReadingColumn.OUTPUT.header());
      columns.add(
          output
              ? new ColumnUse(
                  use.position(), use.header(), "output, noise", "mean and sd of its samples")
              : use);
      if (use.meaning().equals(ReadingColumn.NOISE.header())) {
        String message =
            ("the noise comes from the samples of the captures; leave this column out"
                    + " with --column \"%s=ignore\"")
                .formatted(use.header());
        said.add(DataIssue.error(Code.COLUMN_REPEATED, manifest, 0, use.header(), "", message));
      }
    }
    return new TableReading.Understood(
        new Batch(table.batch().readings(), said), table.facts(), columns, table.questions());
  }

  /** Reads the captures of all rows; cores read captures side by side. */
  private void read(List<Reading> rows) {
    record Answer(Reading row, Optional<Taken> taken, List<DataIssue> issues, String layout) {}
    List<Answer> answers =
        Parallel.map(
            rows,
            row -> {
              List<DataIssue> found = new ArrayList<>();
              List<String> layout = new ArrayList<>();
              Optional<Taken> taken = capture(row, found, layout);
              return new Answer(row, taken, found, String.join("", layout));
            });
    Map<String, Integer> hashes = new HashMap<>();
    for (Answer answer : answers) {
      issues.addAll(answer.issues());
      if (answer.taken().isEmpty()) {
        continue;
      }
      Taken taken = answer.taken().get();
      int row = answer.row().source().row();
      layouts.put(taken.name(), answer.layout());
      Integer earlier = hashes.putIfAbsent(taken.sha256(), row);
      if (earlier != null) {
        String message = "the same bytes as the capture of row " + earlier;
        issues.add(
            DataIssue.error(Code.DUPLICATE_READING, manifest, row, FILE_COLUMN, "", message));
      }
      captured.add(new Captured(withNumbers(answer.row(), taken), taken));
    }
  }

  private Optional<Taken> capture(Reading row, List<DataIssue> found, List<String> layout) {
    Place place = new Place(row.source().sheet(), row.source().row());
    String name = names.getOrDefault(place, "");
    Optional<Path> path = path(name);
    if (path.isEmpty()) {
      String message = "\"" + name + "\" is not the name of a file beside the manifest";
      found.add(
          DataIssue.error(Code.VALUE_INVALID, manifest, place.row(), FILE_COLUMN, "", message));
      return Optional.empty();
    }
    try {
      if (Files.isRegularFile(path.get()) && Files.size(path.get()) > LARGEST_BYTES) {
        String message = "the capture is larger than 64 MiB; a reading needs a few seconds only";
        found.add(DataIssue.error(Code.FILE_UNREADABLE, name, 0, "", "", message));
        return Optional.empty();
      }
      Result<CaptureAnalysis> analysis =
          CaptureAnalysis.of(path.get(), format, Optional.empty(), 0.95);
      analysis.issues().forEach(issue -> found.add(asked(escalated(issue), analysis.value())));
      if (!analysis.isRefused()) {
        CaptureAnalysis good = analysis.get();
        layout.add(good.layout().words());
        if (!good.layout().unit().equals("counts")) {
          String message = "the samples are in " + good.layout().unit() + "; readings are counts";
          found.add(DataIssue.error(Code.UNIT_OF_MEASURE_UNKNOWN, good.file(), 0, "", "", message));
        }
        ReceivedFile bytes = ReceivedFile.of(good.file(), Files.readAllBytes(path.get()));
        int line = Math.max(1, good.layout().headerLine() + 1);
        return Optional.of(new Taken(path.get(), good.file(), bytes.sha256(), line, good.noise()));
      }
    } catch (IOException e) {
      found.add(DataIssue.error(Code.FILE_UNREADABLE, name, 0, "", "", "the file cannot be read"));
    }
    return Optional.empty();
  }

  /** Of a few samples none is left out without asking. */
  private static DataIssue asked(DataIssue issue, Optional<CaptureAnalysis> analysis) {
    boolean few = analysis.filter(good -> good.noise().all().samples() < FEW_SAMPLES).isPresent();
    return few && issue.code() == Code.LAST_LINE_UNFINISHED
        ? issue.as(
            Severity.ERROR,
            issue.message()
                + "; that is few: put a line end behind the last one if it is whole, or delete it")
        : issue;
  }

  /** Nothing must rest on a converter that hangs or is overdriven. */
  static DataIssue escalated(DataIssue issue) {
    boolean grave = issue.code() == Code.SATURATED || issue.code() == Code.STUCK;
    return grave ? issue.as(Severity.ERROR, issue.message()) : issue;
  }

  /** A file below the manifest's folder, and nowhere else. */
  private Optional<Path> path(String name) {
    if (name.isBlank() || name.chars().anyMatch(c -> c < ' ')) {
      return Optional.empty();
    }
    try {
      Path base = folder.normalize();
      Path path = base.resolve(name).normalize();
      boolean below = path.startsWith(base) && !Path.of(name).isAbsolute();
      return below && Files.isRegularFile(path) ? Optional.of(path) : Optional.empty();
    } catch (java.nio.file.InvalidPathException e) {
      return Optional.empty();
    }
  }

  private Reading withNumbers(Reading row, Taken taken) {
    boolean reversed =
        choices.mapping().setting(Setting.SIGN).filter("reversed"::equals).isPresent();
    double mean = taken.noise().good().mean();
    return with(
        row,
        reversed && mean != 0 ? -mean : mean,
        OptionalDouble.of(taken.noise().good().sd()),
        row.beside().remark(),
        row.source());
  }

  /** The reading as the record keeps it: it comes from the capture. */
  private Reading recorded(Captured capture) {
    Taken taken = capture.taken();
    Reading reading = capture.atRow();
    long left = taken.noise().faults().glitches().count();
    String signs =
        (left > 0 ? ", " + left + " left out as glitches" : "")
            + CaptureTrouble.inShort(taken.noise()).stream()
                .map(sign -> ", " + sign)
                .collect(Collectors.joining());
    String told = format.equals(CaptureFormat.AS_FOUND) ? "" : format.words();
    String remark =
        new CaptureNote(taken.noise().all().samples(), signs, told)
            .after(reading.beside().remark());
    Provenance source = new Provenance(taken.name(), taken.sha256(), taken.line());
    return with(reading, reading.outputCounts(), reading.beside().noiseCounts(), remark, source);
  }

  private static Reading with(
      Reading reading,
      double outputCounts,
      OptionalDouble noiseCounts,
      String remark,
      Provenance source) {
    return new Reading(
        reading.session(),
        reading.time(),
        reading.run(),
        reading.step(),
        reading.cell(),
        reading.board(),
        reading.loadKilograms(),
        outputCounts,
        new Reading.Beside(
            noiseCounts,
            reading.beside().cellTemperatureCelsius(),
            reading.beside().boardTemperatureCelsius(),
            remark),
        source,
        0);
  }

  /** Where an issue stands in the manifest; a single capture has no line of its own for it. */
  private DataIssue placed(DataIssue issue) {
    boolean ofReading = ReadingColumn.headers().contains(issue.column());
    Optional<Reading> row =
        captured.stream()
            .filter(c -> ofReading && c.taken().name().equals(issue.file()))
            .filter(c -> c.taken().line() == issue.line())
            .map(Captured::atRow)
            .findFirst();
    boolean aboutRow = row.isPresent() || issue.file().equals(manifest);
    int line = row.map(r -> r.source().row()).orElse(issue.line());
    boolean output = issue.column().equals(ReadingColumn.OUTPUT.header());
    return new DataIssue(
        issue.severity(),
        issue.code(),
        row.isPresent() ? manifest : issue.file(),
        single && aboutRow && ofReading ? 0 : line,
        output && !single ? FILE_COLUMN : issue.column(),
        issue.unit(),
        issue.message());
  }

  private Result<Appended> placed(Result<Appended> outcome) {
    return new Result<>(outcome.value(), outcome.issues().stream().map(this::placed).toList());
  }

  /** A capture, read again when it is kept, so that many large ones need no memory. */
  private record OnDisk(Taken taken) implements StudyRecord.Original {
    @Override
    public String sha256() {
      return taken.sha256();
    }

    @Override
    public ReceivedFile read() throws IOException {
      return ReceivedFile.owning(taken.name(), Files.readAllBytes(taken.path()));
    }
  }

  private Result<Appended> keep(StudyFolder study) {
    List<OnDisk> originals = captured.stream().map(c -> new OnDisk(c.taken())).toList();
    return placed(study.record().append(originals, this::incoming, Optional.empty()));
  }

  /** The readings whose captures the record does not hold yet, and what speaks against them. */
  private IncomingReadings incoming(StudyContents contents) {
    Set<String> known =
        contents.readings().stream().map(r -> r.source().sha256()).collect(Collectors.toSet());
    List<DataIssue> all = new ArrayList<>(issues);
    List<Captured> fresh = new ArrayList<>();
    for (Captured capture : captured) {
      if (known.contains(capture.taken().sha256())) {
        String message = "the same capture was imported before; it is not taken again";
        all.add(
            DataIssue.warning(Code.ALREADY_IMPORTED, capture.taken().name(), 0, "", "", message));
      } else {
        fresh.add(capture);
      }
    }
    List<Reading> atRows = fresh.stream().map(Captured::atRow).toList();
    all.addAll(ImportChecks.of(contents, atRows, choices.accepted()));
    if (fresh.isEmpty() && !captured.isEmpty() && all.stream().noneMatch(DataIssue::isError)) {
      return IncomingReadings.known(
          captured.size(), manifest, "all captures are in the record already; nothing was changed");
    }
    return IncomingReadings.of(
        contents, new Batch(fresh.stream().map(this::recorded).toList(), all), Optional.empty());
  }
}
