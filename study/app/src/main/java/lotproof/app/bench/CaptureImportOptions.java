package lotproof.app.bench;

import static lotproof.app.cli.CliCommand.refuse;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.ImportChoices;
import lotproof.gather.Preview;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureImport;
import lotproof.gather.capture.StudySeries;
import lotproof.gather.tables.Setting;
import lotproof.gather.tables.TableReaders;

/** What import needs to know about raw captures. */
final class CaptureImportOptions extends SettingOptions {
  private static final String MANIFEST = "--captures";
  private static final String SERIES = "--series";
  private static final String LOAD = "--load";

  /** What is said of a single capture, named like the columns in which a manifest says it. */
  private static final List<String> SINGLE =
      List.of("--session", "--time", "--run", "--step", "--cell", "--board", LOAD);

  CaptureImportOptions() {
    super("For raw captures (layout: docs/formats.md)");
    addFlag(MANIFEST);
    addFlag(SERIES);
    add("--session", "NAME");
    add("--time", "TIME");
    add("--run", "NAME");
    add("--step", "N");
    add("--cell", "SERIAL");
    add("--board", "SERIAL");
    add(LOAD, "LOAD");
    addSettings(CaptureFormat.SETTINGS, Setting::key);
  }

  private boolean anyOf(String... names) {
    return !given(List.of(names)).isEmpty();
  }

  private boolean isSingle() {
    return isGiven(SERIES) || anyOf("--run", "--step", "--cell", "--board", LOAD);
  }

  /** Whether the files are captures or manifests of captures. */
  boolean isCapture() {
    return isGiven(MANIFEST) || isSingle();
  }

  /** Ends the command where options contradict. */
  void check(List<Path> files) {
    if (!isCapture()) {
      refuse(
          isAnyGiven() || anyOf("--session", "--time"),
          "options for raw captures need --captures with a manifest, --run, --step, --cell,"
              + " --board and --load with one capture, or --series, --cell, --board and --load"
              + " with a long one");
      return;
    }
    refuse(
        isGiven(SERIES) && (isGiven(MANIFEST) || anyOf("--run", "--step", "--session", "--time")),
        "a series gives no reading: it takes --cell, --board and --load, and neither a manifest"
            + " nor a run, step, session or time");
    refuse(
        isGiven(MANIFEST) && isSingle(), "a manifest says run, step, cell, board and load itself");
    refuse(
        !isGiven(MANIFEST) && files.size() > 1,
        isGiven(SERIES)
            ? "--series takes one capture at a time"
            : "--run and --step are about one capture; for several write a manifest and give"
                + " --captures");
  }

  Preview inspect(StudyFolder folder, Path file, TableReaders readers, ImportChoices choices) {
    CaptureFormat format = SettingOptions.captureFormat(choices.mapping());
    if (isGiven(MANIFEST)) {
      return CaptureImport.ofManifest(folder, file, format, readers, choices);
    }
    Map<String, String> values = values();
    return isGiven(SERIES)
        ? StudySeries.inspect(
            folder,
            file,
            given("--cell").orElseThrow(),
            given("--board").orElseThrow(),
            kilograms(),
            format)
        : CaptureImport.ofFile(folder, file, values, format, choices);
  }

  private double kilograms() {
    String load = given(LOAD).orElseThrow();
    return UnitsOfMeasure.quantity(load, Dimension.MASS)
        .value()
        .filter(quantity -> quantity.value().signum() >= 0)
        .orElseThrow(
            () ->
                new UnusableException(
                    "--load \""
                        + load
                        + "\" is no load; write a number, a space and kg, g, lb, oz or N"))
        .in(Unit.KILOGRAM);
  }

  /** What was said, as the cells of a manifest's row; all that is missing is named. */
  private Map<String, String> values() {
    Map<String, String> values = new LinkedHashMap<>();
    for (String name : SINGLE) {
      given(name)
          .filter(value -> !value.isBlank())
          .ifPresent(value -> values.put(name.substring(2), value));
    }
    List<String> missing =
        Stream.of("--run", "--step", "--cell", "--board", LOAD)
            .filter(name -> !values.containsKey(name.substring(2)))
            .filter(name -> !(isGiven(SERIES) && List.of("--run", "--step").contains(name)))
            .toList();
    refuse(
        !missing.isEmpty(),
        "%s also needs %s",
        isGiven(SERIES) ? "a series" : "a single capture",
        String.join(", ", missing));
    String[] load = String.valueOf(values.remove("load")).strip().split("\\s+", 2);
    refuse(load.length < 2, "--load needs a unit, such as --load \"20 kg\"");
    values.put("load [" + load[1] + "]", load[0]);
    return values;
  }
}
