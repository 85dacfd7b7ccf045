package lotproof.app.bench;

import static lotproof.report.words.Numbers.plain;

import java.io.File;
import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.function.IntConsumer;
import java.util.regex.PatternSyntaxException;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.OutputFolder;
import lotproof.app.cli.SettingOptions;
import lotproof.app.cli.UnusableException;
import lotproof.folder.StudyFolder;
import lotproof.gather.capture.CaptureAnalysis;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.ShownUnit;
import lotproof.gather.capture.SkippedLines;
import lotproof.gather.capture.StudySeries;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.reduce.capture.CaptureNoise;
import lotproof.reduce.capture.LotNoise;
import lotproof.report.assembly.CaptureBlocks;
import lotproof.report.chart.ChartFilesWriter;
import lotproof.report.model.Chart;
import lotproof.study.DataIssue;
import lotproof.study.Result;
import lotproof.work.Parallel;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Noise, resolution and stability of captures. */
@Command(name = NoiseCommand.NAME)
public final class NoiseCommand extends CliCommand.WithJson {
  static final String NAME = "noise";

  @Parameters(index = "0..*", arity = "1..*", paramLabel = "FILE")
  private List<String> sources = List.of();

  @Option(names = "--full-scale", paramLabel = "RANGE")
  private @Nullable Double fullScale;

  @Option(names = "--study", paramLabel = "STUDY")
  private @Nullable Path study;

  @Option(names = "--unit", paramLabel = "UNIT")
  private String unit = "";

  @Option(names = "--counts-per-unit", paramLabel = "COUNTS")
  private @Nullable Double countsPerUnit;

  @Mixin private final OutputFolder output = new OutputFolder();

  @Option(names = "--strict")
  private boolean strict;

  private final SettingOptions settings =
      listed(new SettingOptions(""))
          .addSettings(
              CaptureFormat.SETTINGS,
              setting -> setting == Setting.CAPTURE_SEPARATOR ? "separator" : setting.key());

  /**
   * What {@code noise} found.
   *
   * @param unit unit of the samples and of all their numbers
   * @param shownUnit unit that was asked for
   * @param samplesPerShownUnit divide by it to have numbers in that unit
   */
  public record Noise(
      String command,
      String version,
      int exit,
      String unit,
      String shownUnit,
      double samplesPerShownUnit,
      List<Capture> captures,
      LotNoise lot,
      List<DataIssue> issues)
      implements Message {}

  /** One capture; its trace is for charts. */
  public record Capture(
      String file,
      String understood,
      long clockWraps,
      List<SkippedLines> skipped,
      CaptureNoise noise) {
    static Capture of(CaptureAnalysis a) {
      return new Capture(a.file(), a.layout().words(), a.clockWraps(), a.skipped(), a.noise());
    }
  }

  /** A capture, the name that it is shown under, and what the study knows of its format. */
  private record Source(String name, Path path, CaptureFormat format) {
    static Source of(Path path) {
      return new Source(String.valueOf(path.getFileName()), path, CaptureFormat.AS_FOUND);
    }
  }

  @Override
  public Integer call() {
    CaptureFormat format = SettingOptions.captureFormat(settings.onto(Mapping.none()));
    refuse(
        fullScale != null && !(fullScale > 0 && Double.isFinite(fullScale)),
        "--full-scale must be above 0, was " + fullScale);
    List<Source> files = sources.stream().flatMap(source -> files(source).stream()).toList();
    List<Result<CaptureAnalysis>> results =
        io.counted("reading captures", files.size(), done -> analysed(files, format, done));
    List<CaptureAnalysis> good = results.stream().flatMap(r -> r.value().stream()).toList();
    ShownUnit shown = shown(good);
    LotNoise lot = LotNoise.of(good.stream().map(CaptureAnalysis::noise).toList());
    List<DataIssue> issues = results.stream().flatMap(r -> r.issues().stream()).toList();
    boolean remarks = !issues.isEmpty() || !lot.excess().isEmpty();
    int exit =
        good.size() < results.size() ? Exit.UNUSABLE : strict && remarks ? Exit.NO : Exit.DONE;
    if (json) {
      io.json(
          new Noise(
              NAME,
              Origin.programVersion(),
              exit,
              good.isEmpty() ? shown.symbol() : good.get(0).layout().unit(),
              shown.symbol(),
              shown.samplesPerUnit(),
              good.stream().map(Capture::of).toList(),
              lot,
              issues));
    } else {
      if (!good.isEmpty()) {
        new NoiseScreen(io, shown).show(good, lot);
      }
      io.showFirst(issues);
    }
    if (output.asked()) {
      write(good, shown);
    }
    return exit;
  }

  private List<Result<CaptureAnalysis>> analysed(
      List<Source> files, CaptureFormat format, IntConsumer done) {
    OptionalDouble range =
        fullScale == null ? OptionalDouble.empty() : OptionalDouble.of(fullScale);
    return Parallel.map(
        files,
        f -> {
          Result<CaptureAnalysis> result =
              CaptureAnalysis.of(f.name(), f.path(), f.format().with(format), range);
          done.accept(1);
          return result;
        });
  }

  private ShownUnit shown(List<CaptureAnalysis> captures) {
    List<String> units = captures.stream().map(c -> c.layout().unit()).distinct().toList();
    refuse(units.size() > 1, "the captures are in different units (%s)", String.join(", ", units));
    String own = units.isEmpty() ? "counts" : units.get(0);
    if (unit.isEmpty() || unit.equals(own)) {
      return ShownUnit.asIs(own);
    }
    refuse(!own.equals("counts"), "the samples are in " + own + "; they are shown in " + own);
    if (countsPerUnit != null) {
      double factor = countsPerUnit;
      return checked(() -> new ShownUnit(unit, factor));
    }
    if (study == null) {
      throw new UnusableException(
          "for --unit " + unit + " give --counts-per-unit, or --study with a study's factors");
    }
    return ShownUnit.ofKit(open(study).study().kit(), unit)
        .orElseThrow(
            () ->
                new UnusableException(
                    "a study gives counts, mV/V, g and kg, not \"" + unit + "\""));
  }

  private static List<Source> files(String source) {
    // a pattern may be no path on some systems
    File file = new File(source);
    if (file.isFile()) {
      return List.of(Source.of(file.toPath()));
    }
    List<Source> found = List.of();
    if (file.isDirectory()) {
      boolean study = new File(file, "study.yaml").exists();
      found = study ? ofStudy(file.toPath()) : matching(file.toPath(), "[!.]*");
    } else if (source.matches(".*[*?\\[{].*")) {
      int name = Math.max(source.lastIndexOf('/'), source.lastIndexOf('\\')) + 1;
      found = matching(Path.of("").resolve(source.substring(0, name)), source.substring(name));
    }
    refuse(found.isEmpty(), "there is no capture " + source);
    return found;
  }

  private static List<Source> matching(Path folder, String glob) {
    List<Path> found = new ArrayList<>();
    try (DirectoryStream<Path> files = Files.newDirectoryStream(folder, glob)) {
      files.forEach(found::add);
    } catch (IOException | PatternSyntaxException e) {
      throw new UnusableException("cannot look for " + glob + " in " + folder);
    }
    return found.stream().filter(Files::isRegularFile).sorted().map(Source::of).toList();
  }

  private static List<Source> ofStudy(Path path) {
    StudyFolder folder = StudyFolder.at(path);
    return StudySeries.captures(open(path)).stream()
        .map(
            capture ->
                new Source(
                    capture.file(),
                    folder.capture(capture.file(), capture.sha256()),
                    CaptureFormat.ofWords(capture.readAs()).orElse(CaptureFormat.AS_FOUND)))
        .filter(source -> Files.isRegularFile(source.path()))
        .distinct()
        .toList();
  }

  private void write(List<CaptureAnalysis> captures, ShownUnit shown) {
    List<Chart> charts =
        IntStream.range(0, captures.size())
            .boxed()
            .flatMap(i -> charts(i, captures.get(i), shown).stream())
            .toList();
    String files = captures.stream().map(CaptureAnalysis::file).collect(Collectors.joining(", "));
    Path folder = output.checked(NAME, Path.of("charts"));
    OutputFolder.fill(
        folder,
        new OutputFolder.Manifest(NAME, files, "", Origin.programVersion(), 0, List.of()),
        sink ->
            Parallel.map(
                charts,
                chart -> {
                  ChartFilesWriter.write(chart, "", sink);
                  return chart;
                }));
    if (!json) {
      io.say(charts.size() + " charts are in " + folder);
    }
  }

  private static List<Chart> charts(int index, CaptureAnalysis capture, ShownUnit shown) {
    String stem = capture.file().replaceFirst("\\.[^.]*$", "").toLowerCase(Locale.ROOT);
    String plain = stem.replaceAll("[^a-z0-9]+", "-").replaceAll("^-|-$", "");
    String id =
        String.format(Locale.ROOT, "c%03d-%s", index + 1, plain.isEmpty() ? "capture" : plain);
    return CaptureBlocks.charts(id.substring(0, Math.min(48, id.length())), capture, shown);
  }
}
