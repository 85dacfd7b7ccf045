package lotproof.app.bench;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.TextOptions;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
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
  private static final String LOAD = "--load";

  private final OptionSpec manifest =
      flag("--captures", "FILE is a manifest: a table with a column \"file\" in place of output");
  private final OptionSpec series =
      flag(
          "--series",
          "FILE is a long capture of --cell on --board under --load: it is kept for the stability"
              + " curve of the report and gives no reading");

  /** What is said of a single capture, named like the columns in which a manifest says it. */
  private final TextOptions single =
      new TextOptions()
          .add("--session", "NAME", "session of a single capture")
          .add("--time", "TIME", "its local time")
          .add("--run", "NAME", "its run")
          .add("--step", "N", "its step within the run, from 1")
          .add("--cell", "SERIAL", "its cell")
          .add("--board", "SERIAL", "its board")
          .add(LOAD, "LOAD", "its load, such as \"20 kg\"");

  private final SettingOptions format = SettingOptions.ofCaptures(Setting::key);

  private static OptionSpec flag(String name, String description) {
    return OptionSpec.builder(name).type(boolean.class).description(description).build();
  }

  /** Adds them to the command. */
  void addTo(CommandSpec spec) {
    ArgGroupSpec.Builder group =
        ArgGroupSpec.builder()
            .validate(false)
            .heading("%nFor raw captures (layout: docs/formats.md):%n")
            .addArg(manifest)
            .addArg(series);
    single.addTo(group);
    format.options().addTo(group);
    spec.addArgGroup(group.build());
  }

  private static boolean is(OptionSpec flag) {
    return Boolean.TRUE.equals(flag.getValue());
  }

  private boolean anyOf(String... names) {
    return single.given().stream().anyMatch(List.of(names)::contains);
  }

  private boolean isSingle() {
    return is(series) || anyOf("--run", "--step", "--cell", "--board", LOAD);
  }

  /** Whether the files are captures or manifests of captures. */
  boolean given() {
    return is(manifest) || isSingle();
  }

  /** Ends the command where options contradict. */
  void check(List<Path> files) {
    if (!given()) {
      if (!format.options().given().isEmpty() || anyOf("--session", "--time")) {
        throw new UnusableException(
            "options for raw captures need --captures with a manifest, --run, --step, --cell,"
                + " --board and --load with one capture, or --series, --cell, --board and --load"
                + " with a long one");
      }
      return;
    }
    if (is(series) && (is(manifest) || anyOf("--run", "--step", "--session", "--time"))) {
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
            single.given("--cell").orElseThrow(),
            single.given("--board").orElseThrow(),
            kilograms(),
            format)
        : CaptureImport.ofFile(folder, file, values, format, choices);
  }

  private double kilograms() {
    String load = single.given(LOAD).orElseThrow();
    return UnitsOfMeasure.quantity(load, Dimension.MASS)
        .value()
        .filter(quantity -> quantity.value().signum() >= 0)
        .orElseThrow(
            () ->
                new UnusableException(
                    "--load \""
                        + load
                        + "\" is no load; write a number, a space and kg, g, lb or N"))
        .in(Unit.KILOGRAM);
  }

  /** What was said, as the cells of a manifest's row; all that is missing is named. */
  private Map<String, String> values() {
    Map<String, String> values = new LinkedHashMap<>();
    for (String name : single.given()) {
      single
          .given(name)
          .filter(value -> !value.isBlank())
          .ifPresent(value -> values.put(name.substring(2), value));
    }
    List<String> missing =
        Stream.of("--run", "--step", "--cell", "--board", LOAD)
            .filter(name -> !values.containsKey(name.substring(2)))
            .filter(name -> !(is(series) && List.of("--run", "--step").contains(name)))
            .toList();
    if (!missing.isEmpty()) {
      throw new UnusableException(
          "%s also needs %s",
          is(series) ? "a series" : "a single capture", String.join(", ", missing));
    }
    String[] load = String.valueOf(values.remove("load")).strip().split("\\s+", 2);
    if (load.length < 2) {
      throw new UnusableException("--load needs a unit, such as --load \"20 kg\"");
    }
    values.put("load [" + load[1] + "]", load[0]);
    return values;
  }
}
