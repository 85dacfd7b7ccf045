package lotproof.app.results;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.app.cli.OutputFolder;
import lotproof.report.assembly.PublishedResult;
import lotproof.report.model.Block;
import lotproof.report.summary.Paper;
import lotproof.report.words.ClaimWords;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Writes the evidence. */
@Command(name = "report")
public final class ReportCommand extends CliCommand.OnStudy {

  @Mixin private final OutputFolder output = new OutputFolder();

  @Option(names = "--verify", paramLabel = "DIR")
  private @Nullable Path verify;

  @Option(names = "--paper", paramLabel = "SIZE", defaultValue = "a4")
  private Paper paper = Paper.A4;

  @Option(names = "--strict")
  private boolean strict;

  /** What {@code --verify} found. */
  public record Verified(
      Origin origin, boolean holds, List<String> reasons, List<ReportFiles.CheckedFile> files)
      implements Message {}

  @Override
  public Integer call() {
    if (verify != null) {
      return verify(verify);
    }
    Path target = output.checked(ReportFiles.COMMAND, Path.of("target", "report", name()));
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    Set<String> written =
        io.during(
            "writing the report",
            () ->
                OutputFolder.fill(
                    target,
                    OutputFolder.Manifest.of(ReportFiles.COMMAND, analysed.contents()),
                    ReportFiles.writer(analysed, paper)));
    if (json) {
      io.json(PublishedResult.of(analysed.result()));
    } else {
      print(analysed, target, written);
    }
    return strict && !analysed.issues().isEmpty() ? Exit.NO : Exit.DONE;
  }

  private int verify(Path folder) {
    refuse(output.asked(), "--verify writes nothing, so there is nothing to write --to");
    OutputFolder.Manifest origin = ReportFiles.origin(folder);
    AnalysedStudy analysed = AnalysedStudy.of(io, study);
    List<ReportFiles.CheckedFile> files = new ArrayList<>();
    files.addAll(
        io.during(
            "computing the report again", () -> ReportFiles.checked(analysed, folder, origin)));
    int own = files.size();
    files.addAll(ReportFiles.missingOriginals(analysed));
    List<String> reasons = ReportFiles.reasons(analysed, origin);
    List<ReportFiles.CheckedFile> broken =
        files.stream().filter(file -> file.standing() != ReportFiles.Standing.SAME).toList();
    boolean holds = broken.isEmpty();
    int exit = holds ? Exit.DONE : Exit.NO;
    if (json) {
      io.json(new Verified(analysed.origin("report", exit), holds, reasons, files));
    } else if (holds) {
      io.sayf("%s holds: all %s files are byte for byte what the record gives.", folder, own);
    } else {
      io.say(folder + " does not hold:");
      reasons.forEach(reason -> io.say("  " + reason));
      broken.forEach(file -> io.say("  " + file.name() + " " + file.standing().words));
    }
    return exit;
  }

  private void print(AnalysedStudy analysed, Path target, Collection<String> written) {
    io.print(io.text(false).screen(analysed.report(), List.of()));
    io.say("");
    io.show(List.of(Block.paragraph(ClaimWords.caution())));
    io.say("");
    io.say("Report written to " + target + ":");
    listed(written).forEach(name -> io.say("  " + name));
    io.showFirst(analysed.issues());
  }

  /** Files by name; folders with what they hold. */
  private static List<String> listed(Collection<String> names) {
    List<String> lines =
        new ArrayList<>(names.stream().filter(name -> !name.contains("/")).toList());
    Map<String, Long> folders =
        names.stream()
            .filter(name -> name.contains("/"))
            .collect(
                Collectors.groupingBy(
                    name -> name.substring(0, name.indexOf('/') + 1),
                    TreeMap::new,
                    Collectors.counting()));
    folders.forEach((folder, count) -> lines.add(folder + " (" + count + " files)"));
    return lines;
  }

  private String name() {
    return Objects.toString(study.toAbsolutePath().normalize().getFileName(), "study");
  }
}
