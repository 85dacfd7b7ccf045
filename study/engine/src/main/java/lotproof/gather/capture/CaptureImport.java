package lotproof.gather.capture;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.folder.AppendOutcome;
import lotproof.folder.Arrivals;
import lotproof.folder.Batch;
import lotproof.folder.CsvText;
import lotproof.folder.OpenOutcome;
import lotproof.folder.ReadingColumn;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.gather.Cell;
import lotproof.gather.ColumnUse;
import lotproof.gather.Row;
import lotproof.gather.Table;
import lotproof.gather.Table.NumberStyle;
import lotproof.gather.TableOutcome;
import lotproof.gather.TableReaders;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.TableReading;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Study;

/**
 * Captures into a study: each becomes one reading, the mean of its samples, with their standard
 * deviation as noise. Which run, step, pair and load a capture belongs to is said by a manifest: a
 * table in the tidy layout that has a column {@code file} in place of output and noise.
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

  private static final int FEW_SAMPLES = 10;

  private final Path folder;
  private final CaptureFormat format;
  private final List<DataIssue> issues = new ArrayList<>();
  private final Map<Integer, Taken> byRow = new HashMap<>();

  /** A capture that was read: where it is, its hash, and where its samples start. */
  private record Taken(Path path, String name, String sha256, int line, CaptureNoise noise) {}

  /**
   * What came of it.
   *
   * @param outcome as for any import
   * @param columns how the manifest's columns were understood
   * @param readings the readings of the captures that could be read
   * @param layouts how each capture was understood, by name
   */
  public record Result(
      AppendOutcome outcome,
      List<ColumnUse> columns,
      List<Reading> readings,
      Map<String, String> layouts) {
    public Result {
      columns = List.copyOf(columns);
      readings = List.copyOf(readings);
      layouts = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(layouts));
    }
  }

  /** Captures that were looked at; nothing of them is kept yet. */
  public static final class Looked {
    private final Result result;
    private final Supplier<AppendOutcome> keeper;

    private Looked(Result result, Supplier<AppendOutcome> keeper) {
      this.result = result;
      this.keeper = keeper;
    }

    /** What would come of it. */
    public Result result() {
      return result;
    }

    /** Keeps the captures and puts their readings into the record, all of them or none. */
    public AppendOutcome keep() {
      return keeper.get();
    }
  }

  private CaptureImport(Path folder, CaptureFormat format) {
    this.folder = folder;
    this.format = format;
  }

  /** Takes the captures that a manifest file names; their names are relative to its folder. */
  public static Looked ofManifest(
      StudyFolder study, Path manifest, CaptureFormat format, TableReaders readers) {
    Path parent = manifest.toAbsolutePath().getParent();
    String name = String.valueOf(manifest.getFileName());
    if (parent == null) {
      throw new IllegalArgumentException("not a file in a directory: " + manifest);
    }
    ReceivedFile received;
    try {
      if (Files.size(manifest) > LARGEST_BYTES) {
        return refused(Code.FILE_UNREADABLE, name, "the manifest is larger than 64 MiB");
      }
      received = ReceivedFile.of(name, Files.readAllBytes(manifest));
    } catch (IOException e) {
      return refused(Code.FILE_UNREADABLE, name, "the manifest cannot be read");
    }
    TableOutcome outcome = readers.read(received);
    if (outcome instanceof TableOutcome.Refused no) {
      return refused(no.issues(), Map.of());
    }
    TableOutcome.Found found = (TableOutcome.Found) outcome;
    CaptureImport captures = new CaptureImport(parent, format);
    captures.issues.addAll(found.issues());
    return captures.take(study, received, found.table());
  }

  /**
   * Takes one capture.
   *
   * @param values values of the tidy layout's columns by header, such as {@code load [kg]}
   */
  public static Looked ofFile(
      StudyFolder study, Path file, Map<String, String> values, CaptureFormat format) {
    Path parent = file.toAbsolutePath().getParent();
    String name = String.valueOf(file.getFileName());
    if (parent == null) {
      throw new IllegalArgumentException("not a file in a directory: " + file);
    }
    List<Cell> header = new ArrayList<>(List.of(new Cell.Text(FILE_COLUMN)));
    List<Cell> row = new ArrayList<>(List.of(new Cell.Text(name)));
    values.forEach(
        (column, value) -> {
          header.add(new Cell.Text(column));
          row.add(new Cell.Text(value));
        });
    Table table =
        new Table(new Row(1, header), List.of(new Row(1, row)), NumberStyle.DECIMAL_POINT);
    ReceivedFile stands = ReceivedFile.of(name, new byte[0]);
    return new CaptureImport(parent, format).take(study, stands, table);
  }

  private static Looked refused(Code code, String file, String message) {
    return refused(List.of(DataIssue.error(code, file, 0, "", "", message)), Map.of());
  }

  private static Looked refused(List<DataIssue> issues, Map<String, String> layouts) {
    AppendOutcome outcome = new AppendOutcome.Refused(issues);
    return new Looked(new Result(outcome, List.of(), List.of(), layouts), () -> outcome);
  }

  private Looked take(StudyFolder study, ReceivedFile manifest, Table table) {
    OptionalInt column =
        IntStream.range(0, table.header().cells().size())
            .filter(i -> table.header().cell(i).equals(new Cell.Text(FILE_COLUMN)))
            .findFirst();
    if (column.isEmpty()) {
      String message = "there is no column \"file\"; a manifest names a capture in each row";
      return refused(Code.COLUMN_MISSING, manifest.name(), message);
    }
    Map<String, String> layouts = new LinkedHashMap<>();
    List<Row> rows = withNumbers(manifest.name(), table, column.getAsInt(), layouts);
    List<Cell> header = replaced(table.header(), column.getAsInt(), header(ReadingColumn.OUTPUT));
    header.add(header(ReadingColumn.NOISE));
    OpenOutcome opening = study.open();
    if (opening instanceof OpenOutcome.Refused no) {
      return refused(no.issues(), layouts);
    }
    StudyContents contents = ((OpenOutcome.Opened) opening).contents();
    if (rows.isEmpty() && !table.rows().isEmpty()) {
      return refused(issues, layouts);
    }
    TableReading.Result tidy = tidy(manifest, new Row(1, header), rows, table, contents.study());
    tidy.batch().issues().forEach(issue -> issues.add(atItsRow(issue, rows)));
    List<Reading> readings =
        tidy.batch().readings().stream().map(r -> fromCapture(r, rows)).toList();
    Batch batch = new Batch(readings, issues);
    return new Looked(
        new Result(check(contents, batch), asWritten(tidy.columns()), readings, layouts),
        () -> append(study, batch));
  }

  /** Output and noise come from the files that the manifest names. */
  private static List<ColumnUse> asWritten(List<ColumnUse> columns) {
    return columns.stream()
        .filter(use -> !use.meaning().equals(ReadingColumn.NOISE.header()))
        .map(
            use ->
                use.meaning().equals(ReadingColumn.OUTPUT.header())
                    ? new ColumnUse(
                        use.position(), FILE_COLUMN, "output, noise", "mean and sd of its samples")
                    : use)
        .toList();
  }

  private static Cell header(ReadingColumn column) {
    return new Cell.Text(column.header());
  }

  /** The rows as a tidy table, read as any other; its lines are counted from 1. */
  private static TableReading.Result tidy(
      ReceivedFile manifest, Row header, List<Row> rows, Table table, Study study) {
    boolean comma = table.numbers() == NumberStyle.POINT_OR_COMMA;
    StringBuilder text = new StringBuilder(CsvText.line(texts(header, false)));
    rows.forEach(row -> text.append(CsvText.line(texts(row, comma))));
    ReceivedFile file =
        ReceivedFile.of(manifest.name(), text.toString().getBytes(StandardCharsets.UTF_8));
    return TableReading.read(
        file, TableReaders.textOnly().open(file, Mapping.none()), study, Mapping.none());
  }

  private static List<String> texts(Row row, boolean decimalComma) {
    return row.cells().stream()
        .map(
            cell -> {
              if (cell instanceof Cell.Text text) {
                boolean number = decimalComma && text.value().matches("[+-]?[0-9]+,[0-9]+");
                return number ? text.value().replace(',', '.') : text.value();
              } else if (cell instanceof Cell.Numeric number) {
                return number.shown();
              } else if (cell instanceof Cell.DateTime date) {
                return date.value().toString();
              }
              return "";
            })
        .toList();
  }

  /** Where an issue of the tidy table stands in the manifest. */
  private static DataIssue atItsRow(DataIssue issue, List<Row> rows) {
    int at = issue.line() - 2;
    return new DataIssue(
        issue.severity(),
        issue.code(),
        issue.file(),
        at >= 0 && at < rows.size() ? rows.get(at).number() : issue.line(),
        issue.column(),
        issue.unit(),
        issue.message());
  }

  private static List<Cell> replaced(Row row, int index, Cell cell) {
    List<Cell> cells = new ArrayList<>(row.cells());
    while (cells.size() <= index) {
      cells.add(new Cell.Blank());
    }
    cells.set(index, cell);
    return cells;
  }

  /** Rows with the numbers of their captures; both cores read captures side by side. */
  private List<Row> withNumbers(
      String manifest, Table table, int column, Map<String, String> layouts) {
    record Answer(Row row, Optional<Taken> taken, List<DataIssue> issues, String layout) {}
    List<Answer> answers =
        table.rows().parallelStream()
            .map(
                row -> {
                  List<DataIssue> found = new ArrayList<>();
                  List<String> layout = new ArrayList<>();
                  Optional<Taken> taken = capture(manifest, row, column, found, layout);
                  return new Answer(row, taken, found, String.join("", layout));
                })
            .toList();
    List<Row> rows = new ArrayList<>();
    Map<String, Integer> hashes = new HashMap<>();
    for (Answer answer : answers) {
      issues.addAll(answer.issues());
      if (answer.taken().isEmpty()) {
        continue;
      }
      Taken taken = answer.taken().get();
      layouts.put(taken.name(), answer.layout());
      Integer earlier = hashes.putIfAbsent(taken.sha256(), answer.row().number());
      if (earlier != null) {
        String message = "the same bytes as the capture of row " + earlier;
        issues.add(
            DataIssue.error(
                Code.DUPLICATE_READING, manifest, answer.row().number(), FILE_COLUMN, "", message));
      }
      byRow.put(answer.row().number(), taken);
      List<Cell> cells = replaced(answer.row(), column, cell(taken.noise().good().mean()));
      while (cells.size() < table.header().cells().size()) {
        cells.add(new Cell.Blank());
      }
      cells.add(cell(taken.noise().good().sd()));
      rows.add(new Row(answer.row().number(), cells));
    }
    return rows;
  }

  private static Cell cell(double value) {
    BigDecimal number = BigDecimal.valueOf(value);
    return new Cell.Numeric(number, number.toPlainString());
  }

  private Optional<Taken> capture(
      String manifest, Row row, int column, List<DataIssue> found, List<String> layout) {
    String name = row.cell(column) instanceof Cell.Text text ? text.value() : "";
    Optional<Path> path = path(name);
    if (path.isEmpty()) {
      String message = "\"" + name + "\" is not the name of a file beside the manifest";
      found.add(
          DataIssue.error(Code.VALUE_INVALID, manifest, row.number(), FILE_COLUMN, "", message));
      return Optional.empty();
    }
    try {
      if (Files.isRegularFile(path.get()) && Files.size(path.get()) > LARGEST_BYTES) {
        String message = "the capture is larger than 64 MiB; a reading needs a few seconds only";
        found.add(DataIssue.error(Code.FILE_UNREADABLE, name, 0, "", "", message));
        return Optional.empty();
      }
      CaptureAnalysis analysis = CaptureAnalysis.of(path.get(), format, Optional.empty(), 0.95);
      analysis.issues().forEach(issue -> found.add(asked(graver(issue), analysis)));
      if (analysis instanceof CaptureAnalysis.Analysed good) {
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
  private static DataIssue asked(DataIssue issue, CaptureAnalysis analysis) {
    boolean few =
        analysis instanceof CaptureAnalysis.Analysed good
            && good.noise().all().samples() < FEW_SAMPLES;
    return few && issue.code() == Code.LAST_LINE_UNFINISHED
        ? DataIssue.error(
            issue.code(),
            issue.file(),
            issue.line(),
            issue.column(),
            issue.unit(),
            issue.message()
                + "; that is few: put a line end behind the last one if it is whole, or delete it")
        : issue;
  }

  /** Nothing must rest on a converter that hangs or is overdriven. */
  static DataIssue graver(DataIssue issue) {
    boolean grave = issue.code() == Code.SATURATED || issue.code() == Code.STUCK;
    return grave
        ? DataIssue.error(
            issue.code(), issue.file(), issue.line(), issue.column(), issue.unit(), issue.message())
        : issue;
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

  private Reading fromCapture(Reading reading, List<Row> rows) {
    Taken taken = byRow.get(rows.get(reading.source().row() - 2).number());
    if (taken == null) {
      throw new IllegalStateException("no capture for row " + reading.source().row());
    }
    long left = taken.noise().glitches().count();
    String remark =
        (reading.remark().isEmpty() ? "" : reading.remark() + "; ")
            + StudySeries.MARK
            + taken.noise().all().samples()
            + " samples"
            + (left > 0 ? ", " + left + " left out as glitches" : "")
            + CaptureTrouble.inShort(taken.noise()).stream()
                .map(sign -> ", " + sign)
                .collect(Collectors.joining())
            + (format.equals(CaptureFormat.AS_FOUND)
                ? ""
                : StudySeries.TOLD + CaptureSettings.words(format));
    return new Reading(
        reading.session(),
        reading.time(),
        reading.run(),
        reading.step(),
        reading.cell(),
        reading.board(),
        reading.loadKilograms(),
        reading.outputCounts(),
        reading.noiseCounts(),
        reading.cellTemperatureCelsius(),
        reading.boardTemperatureCelsius(),
        remark,
        new Provenance(taken.name(), taken.sha256(), taken.line()),
        0);
  }

  private AppendOutcome append(StudyFolder study, Batch batch) {
    List<StudyFolder.Original> originals =
        byRow.values().stream()
            .map(t -> new StudyFolder.Original(t.name(), t.sha256(), t.path()))
            .toList();
    List<AppendOutcome> earlier = new ArrayList<>();
    AppendOutcome outcome =
        study.appendAll(
            originals,
            contents -> {
              alreadyThere(contents, batch).ifPresent(earlier::add);
              return fresh(contents, batch);
            });
    boolean nothingNew =
        outcome instanceof AppendOutcome.Appended appended && appended.readings() == 0;
    return nothingNew && !earlier.isEmpty() ? earlier.get(0) : outcome;
  }

  private static AppendOutcome check(StudyContents contents, Batch batch) {
    Arrivals arrivals = Arrivals.of(contents, fresh(contents, batch), Optional.empty());
    if (arrivals.hasErrors()) {
      return new AppendOutcome.Refused(arrivals.issues());
    }
    return alreadyThere(contents, batch)
        .filter(there -> arrivals.toAppend().isEmpty())
        .orElseGet(
            () ->
                new AppendOutcome.Appended(
                    arrivals.toAppend().size(), arrivals.recognised(), arrivals.issues()));
  }

  /** The readings whose captures the record does not hold yet. */
  private static Batch fresh(StudyContents contents, Batch batch) {
    Set<String> known =
        contents.readings().stream().map(r -> r.source().sha256()).collect(Collectors.toSet());
    List<DataIssue> all = new ArrayList<>(batch.issues());
    List<Reading> fresh = new ArrayList<>();
    for (Reading reading : batch.readings()) {
      if (known.contains(reading.source().sha256())) {
        String message = "the same capture was imported before; it is not taken again";
        all.add(
            DataIssue.warning(Code.ALREADY_IMPORTED, reading.source().file(), 0, "", "", message));
      } else {
        fresh.add(reading);
      }
    }
    return new Batch(fresh, all);
  }

  private static Optional<AppendOutcome> alreadyThere(StudyContents contents, Batch batch) {
    Set<String> hashes =
        batch.readings().stream().map(r -> r.source().sha256()).collect(Collectors.toSet());
    List<Reading> there =
        contents.readings().stream().filter(r -> hashes.contains(r.source().sha256())).toList();
    return there.stream()
        .findFirst()
        .map(first -> new AppendOutcome.AlreadyThere(first.source().file(), there.size()));
  }
}
