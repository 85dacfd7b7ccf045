package lotproof.app.bench;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.QuantityOutcome;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.ImportChoices;
import lotproof.gather.Inspected;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureImport;
import lotproof.gather.capture.SeriesImport;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** What import needs to know about raw captures. */
final class CaptureImportOptions {
  private static final String LOAD = "load";

  private final OptionSpec manifest =
      flag("--captures", "FILE is a manifest: a table with a column \"file\" in place of output");
  private final OptionSpec series =
      flag(
          "--series",
          "FILE is a long capture of --cell on --board under --load: it is kept for the stability"
              + " curve of the report and gives no reading");

  /** What is said of a single capture, by the column that a manifest would say it in. */
  private final Map<String, OptionSpec> single = new LinkedHashMap<>();

  private final SettingOptions format =
      new SettingOptions(EnumSet.range(Setting.CAPTURE_SEPARATOR, Setting.CAPTURE_MARK));

  CaptureImportOptions() {
    single("session", "NAME", "session of a single capture");
    single("time", "TIME", "its local time");
    single("run", "NAME", "its run");
    single("step", "N", "its step within the run, from 1");
    single("cell", "SERIAL", "its cell");
    single("board", "SERIAL", "its board");
    single(LOAD, "LOAD", "its load, such as \"20 kg\"");
  }

  private static OptionSpec flag(String name, String description) {
    return OptionSpec.builder(name).type(boolean.class).description(description).build();
  }

  private void single(String column, String label, String description) {
    single.put(column, SettingOptions.text("--" + column, label, description));
  }

  /** Adds them to the command. */
  void addTo(CommandSpec spec) {
    ArgGroupSpec.Builder group =
        ArgGroupSpec.builder()
            .validate(false)
            .heading("%nFor raw captures (layout: docs/formats.md):%n")
            .addArg(manifest)
            .addArg(series);
    single.values().forEach(group::addArg);
    format.options().forEach(group::addArg);
    spec.addArgGroup(group.build());
  }

  private static boolean is(OptionSpec flag) {
    return Boolean.TRUE.equals(flag.getValue());
  }

  private Optional<String> said(String column) {
    return SettingOptions.given(Objects.requireNonNull(single.get(column)));
  }

  private boolean anyOf(String... columns) {
    return List.of(columns).stream().anyMatch(column -> said(column).isPresent());
  }

  private boolean isSingle() {
    return is(series) || anyOf("run", "step", "cell", "board", LOAD);
  }

  /** Whether the files are captures or manifests of captures. */
  boolean given() {
    return is(manifest) || isSingle();
  }

  /** Ends the command where options contradict. */
  void check(List<Path> files) {
    if (!given()) {
      if (format.given() || anyOf("session", "time")) {
        throw new UnusableException(
            "options for raw captures need --captures with a manifest, --run, --step, --cell,"
                + " --board and --load with one capture, or --series, --cell, --board and --load"
                + " with a long one");
      }
      return;
    }
    if (is(series) && (is(manifest) || anyOf("run", "step", "session", "time"))) {
      throw new UnusableException(
          "a series gives no reading: it takes --cell, --board and --load, and neither a manifest"
              + " nor a run, step, session or time");
    }
    if (is(manifest) && isSingle()) {
      throw new UnusableException("a manifest says run, step, cell, board and load itself");
    }
    if (!is(manifest) && files.size() > 1) {
      throw new UnusableException(
          is(series)
              ? "--series takes one capture at a time"
              : "--run and --step are about one capture; for several write a manifest and give"
                  + " --captures");
    }
  }

  /** What the options say about captures, on top of a mapping. */
  Mapping onto(Mapping mapping) {
    return format.onto(mapping);
  }

  Inspected inspect(StudyFolder folder, Path file, TableReaders readers, ImportChoices choices) {
    CaptureFormat format = SettingOptions.captureFormat(choices.mapping());
    if (is(manifest)) {
      return CaptureImport.ofManifest(folder, file, format, readers, choices);
    }
    Map<String, String> values = values();
    return is(series)
        ? SeriesImport.inspect(
            folder,
            file,
            said("cell").orElseThrow(),
            said("board").orElseThrow(),
            kilograms(),
            format)
        : CaptureImport.ofFile(folder, file, values, format, choices);
  }

  private double kilograms() {
    String load = said(LOAD).orElseThrow();
    if (UnitsOfMeasure.quantity(load, Dimension.MASS) instanceof QuantityOutcome.Quantity quantity
        && quantity.value().signum() >= 0) {
      return quantity.unit().to(Unit.KILOGRAM, quantity.value());
    }
    throw new UnusableException(
        "--load \"" + load + "\" is no load; write a number, a space and kg, g, lb or N");
  }

  /** What was said, as the cells of a manifest's row; all that is missing is named. */
  private Map<String, String> values() {
    Map<String, String> values = new LinkedHashMap<>();
    List<String> missing = new ArrayList<>();
    for (String column : single.keySet()) {
      Optional<String> value = said(column).filter(it -> !it.isBlank());
      boolean optional =
          List.of("session", "time").contains(column)
              || (is(series) && List.of("run", "step").contains(column));
      if (value.isPresent()) {
        values.put(column, value.get());
      } else if (!optional) {
        missing.add("--" + column);
      }
    }
    String load = values.remove(LOAD);
    if (load != null) {
      String[] parts = load.strip().split("\\s+", 2);
      if (parts.length < 2) {
        throw new UnusableException("--load needs a unit, such as --load \"20 kg\"");
      }
      values.put("load [" + parts[1] + "]", parts[0]);
    }
    if (!missing.isEmpty()) {
      throw new UnusableException(
          (is(series) ? "a series" : "a single capture")
              + " also needs "
              + String.join(", ", missing));
    }
    return values;
  }
}
