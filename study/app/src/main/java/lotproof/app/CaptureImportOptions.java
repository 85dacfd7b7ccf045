package lotproof.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.function.Supplier;
import lotproof.folder.AppendOutcome;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.QuantityOutcome;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.ImportChoices;
import lotproof.gather.ImportOutcome;
import lotproof.gather.Preview;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureImport;
import lotproof.gather.capture.SeriesImport;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Option;

/** What import needs to know about raw captures. */
final class CaptureImportOptions {
  @Option(
      names = "--captures",
      description = "FILE is a manifest: a tidy table with a column \"file\" in place of output")
  private boolean manifest;

  @Option(
      names = "--series",
      description =
          "FILE is a long capture of --cell on --board under --load: it is kept for the stability"
              + " curve of the report and gives no reading")
  private boolean series;

  @Option(names = "--session", paramLabel = "NAME", description = "session of a single capture")
  private @Nullable String session;

  @Option(names = "--time", paramLabel = "TIME", description = "its local time")
  private @Nullable String time;

  @Option(names = "--run", paramLabel = "NAME", description = "its run")
  private @Nullable String run;

  @Option(names = "--step", paramLabel = "N", description = "its step within the run, from 1")
  private @Nullable String step;

  @Option(names = "--cell", paramLabel = "SERIAL", description = "its cell")
  private @Nullable String cell;

  @Option(names = "--board", paramLabel = "SERIAL", description = "its board")
  private @Nullable String board;

  @Option(names = "--load", paramLabel = "LOAD", description = "its load, such as \"20 kg\"")
  private @Nullable String load;

  @Option(
      names = "--capture-separator",
      paramLabel = "MARK",
      description = "what separates columns of captures: comma, semicolon, tab, space or none")
  private String separator = "";

  @ArgGroup(validate = false)
  private CaptureOptions format = new CaptureOptions();

  /**
   * One file, before anything of it is kept.
   *
   * @param preview what would come of it
   * @param keeper puts it into the study
   */
  record Taken(Preview preview, Supplier<ImportOutcome> keeper) {}

  private boolean single() {
    return series || run != null || step != null || cell != null || board != null || load != null;
  }

  /** Whether the files are captures or manifests of captures. */
  boolean given() {
    return manifest || single();
  }

  /** Ends the command where options contradict. */
  void check(List<Path> files) {
    if (!given()) {
      boolean said = !format.onto(Mapping.none(), separator).isEmpty();
      if (said || session != null || time != null) {
        throw new UnusableException(
            "options for raw captures need --captures with a manifest, --run, --step, --cell,"
                + " --board and --load with one capture, or --series, --cell, --board and --load"
                + " with a long one");
      }
      return;
    }
    if (series && (manifest || run != null || step != null || session != null || time != null)) {
      throw new UnusableException(
          "a series gives no reading: it takes --cell, --board and --load, and neither a manifest"
              + " nor a run, step, session or time");
    }
    if (manifest && single()) {
      throw new UnusableException("a manifest says run, step, cell, board and load itself");
    }
    if (!manifest && files.size() > 1) {
      throw new UnusableException(
          series
              ? "--series takes one capture at a time"
              : "--run and --step are about one capture; for several write a manifest and give"
                  + " --captures");
    }
  }

  /** What the options say about captures, on top of a mapping. */
  Mapping onto(Mapping mapping) {
    return format.onto(mapping, separator);
  }

  Taken look(StudyFolder folder, Path file, TableReaders readers, ImportChoices choices) {
    CaptureFormat said = CaptureOptions.format(choices.mapping());
    if (series) {
      return lookAtSeries(folder, file, said);
    }
    CaptureImport.Looked looked =
        manifest
            ? CaptureImport.ofManifest(folder, file, said, readers, choices)
            : CaptureImport.ofFile(folder, file, values(), said, choices);
    CaptureImport.Result result = looked.result();
    String hash = result.readings().stream().map(r -> r.source().sha256()).findFirst().orElse("");
    List<Fact> facts = new ArrayList<>(manifest ? result.table().facts() : List.of());
    facts.addAll(facts(result.layouts()));
    return new Taken(
        new Preview(
            answer(file, result.outcome(), hash, List.of()),
            facts,
            result.table().columns(),
            result.readings(),
            result.table().questions(),
            List.of()),
        () -> answer(file, looked.keep(), hash, List.of()));
  }

  private Taken lookAtSeries(StudyFolder folder, Path file, CaptureFormat said) {
    Map<String, String> values = values();
    Function<String, String> value = key -> Objects.requireNonNull(values.get(key));
    SeriesImport.Looked looked =
        SeriesImport.look(file, value.apply("cell"), value.apply("board"), kilograms(), said);
    return new Taken(
        new Preview(
            answer(file, looked.outcome(folder), looked.sha256(), List.of()),
            looked.facts(),
            List.of(),
            List.of(),
            List.of(),
            List.of()),
        () -> answer(file, looked.keep(folder), looked.sha256(), looked.issues()));
  }

  private double kilograms() {
    QuantityOutcome said = UnitsOfMeasure.quantity(Objects.requireNonNull(load), Dimension.MASS);
    if (said instanceof QuantityOutcome.Quantity quantity && quantity.value().signum() >= 0) {
      return quantity.unit().to(Unit.KILOGRAM, quantity.value());
    }
    throw new UnusableException(
        "--load \"" + load + "\" is no load; write a number, a space and kg, g, lb or N");
  }

  /** How the captures were understood; those that were understood alike together. */
  private static List<Fact> facts(Map<String, String> layouts) {
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

  private Map<String, String> values() {
    Map<String, String> values = new LinkedHashMap<>();
    List<String> missing = new ArrayList<>();
    put(values, "session", session, missing, false);
    put(values, "time", time, missing, false);
    put(values, "run", run, missing, !series);
    put(values, "step", step, missing, !series);
    put(values, "cell", cell, missing, true);
    put(values, "board", board, missing, true);
    if (load == null) {
      missing.add("--load");
    } else {
      String[] parts = load.strip().split("\\s+", 2);
      if (parts.length < 2) {
        throw new UnusableException("--load needs a unit, such as --load \"20 kg\"");
      }
      values.put("load [" + parts[1] + "]", parts[0]);
    }
    if (!missing.isEmpty()) {
      throw new UnusableException(
          (series ? "a series" : "a single capture") + " also needs " + String.join(", ", missing));
    }
    return values;
  }

  private static void put(
      Map<String, String> values,
      String column,
      @Nullable String value,
      List<String> missing,
      boolean needed) {
    if (value != null && !value.isBlank()) {
      values.put(column, value);
    } else if (needed) {
      missing.add("--" + column);
    }
  }

  private static ImportOutcome answer(
      Path file, AppendOutcome outcome, String sha256, List<DataIssue> more) {
    if (outcome instanceof AppendOutcome.Appended appended) {
      List<DataIssue> warnings = new ArrayList<>(more);
      warnings.addAll(appended.warnings());
      return new ImportOutcome.Imported(
          appended.readings(), appended.recognised(), sha256, warnings);
    }
    if (outcome instanceof AppendOutcome.AlreadyThere there) {
      String message = "all captures are in the record already; nothing was changed";
      return new ImportOutcome.AlreadyImported(
          there.readings(),
          "",
          DataIssue.warning(
              Code.ALREADY_IMPORTED, Objects.toString(file.getFileName()), 0, "", "", message));
    }
    return new ImportOutcome.Refused(((AppendOutcome.Refused) outcome).issues());
  }
}
