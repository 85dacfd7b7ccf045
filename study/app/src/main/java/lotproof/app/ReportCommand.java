package lotproof.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import lotproof.report.OutputSink;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Block;
import lotproof.report.model.Prose;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the evidence. */
@Command(
    name = "report",
    header = "Write the evidence: workbook, page, charts, text, tables and JSON.",
    description = {
      "Prints the claim table and where the files are. The study folder is only read; without --to"
          + " the files go to target/report/NAME below the working directory, NAME being the"
          + " folder's name. Files of an earlier report there are replaced."
    },
    footer = {
      "  lotproof report hive-scale",
      "  lotproof report hive-scale --to evidence --strict",
      "  lotproof report hive-scale --verify evidence"
    })
final class ReportCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Option(names = "--to", paramLabel = "DIR", description = "the folder to write into")
  private @Nullable Path to;

  @Option(
      names = "--verify",
      paramLabel = "DIR",
      description =
          "write nothing; say whether the report in this folder is still what the record gives (1"
              + " if not)")
  private @Nullable Path verify;

  @Option(names = "--strict", description = "answer no (1) when there are data issues")
  private boolean strict;

  @Option(
      names = "--json",
      description = "print the whole result as JSON too (schema: docs/result.schema.json)")
  private boolean json;

  ReportCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    check();
    AnalysedStudy analysed = AnalysedStudy.of(io, study, UnaryOperator.identity());
    if (verify != null) {
      return verified(analysed, verify);
    }
    Path target = to == null ? defaultTarget(study) : to;
    OutputSink folder = OutputSink.folder(target);
    List<String> written =
        new Progress(io)
            .during("writing the report", () -> Evidence.write(analysed, folder))
            .names();
    if (json) {
      io.out().print(ResultJson.of(analysed.result()));
    } else {
      print(analysed, target, written);
    }
    return strict && !analysed.issues().isEmpty() ? Exit.NO : Exit.DONE;
  }

  /** What can be wrong with folders is said before anything is computed. */
  private void check() {
    if (verify != null && to != null) {
      throw new UnusableException("--verify writes nothing, so there is nothing to write --to");
    }
    if (verify != null) {
      Verification.mustBeReport(verify);
    }
    if (to != null && to.toString().isBlank()) {
      throw new UnusableException("--to names no folder");
    }
    if (to != null && Files.exists(to) && !Files.isDirectory(to)) {
      throw new UnusableException("--to " + to + " is a file; name a folder");
    }
  }

  private int verified(AnalysedStudy analysed, Path folder) {
    Verification found =
        new Progress(io)
            .during("computing the report again", () -> Verification.of(analysed, folder));
    int exit = found.holds() ? Exit.DONE : Exit.NO;
    if (json) {
      io.out().print(ResultJson.of(found.message(analysed, exit)));
      return exit;
    }
    if (found.holds()) {
      io.out()
          .println(
              folder
                  + " holds: all "
                  + found.files().size()
                  + " files are byte for byte what the record gives.");
      return exit;
    }
    io.out().println(folder + " does not hold:");
    found.reasons().forEach(reason -> io.out().println("  " + reason));
    found.files().stream()
        .filter(file -> file.standing() != Verification.Standing.SAME)
        .forEach(file -> io.out().println("  " + file.name() + " " + file.standing().words()));
    return exit;
  }

  private void print(AnalysedStudy analysed, Path target, List<String> written) {
    Screen screen = new Screen(io.out(), program.palette());
    analysed.report().table("figures").ifPresent(screen::show);
    screen.show(analysed.report().headline());
    io.out().println();
    screen.showBlocks(
        List.of(
            new Block.Paragraph(
                Prose.text(
                    "Not for trade without type approval, not for medical use or dosing, not for"
                        + " lifting or as a safety interlock; the report says more."))));
    io.out().println();
    io.out().println("The evidence lies in " + target + ":");
    listed(written).forEach(name -> io.out().println("  " + name));
    io.out().flush();
    Issues.printFirst(analysed.issues(), io.err());
  }

  /** Files by name; folders with what they hold. */
  private static List<String> listed(List<String> names) {
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

  private static Path defaultTarget(Path study) {
    String name =
        Optional.ofNullable(study.toAbsolutePath().normalize().getFileName())
            .map(Objects::toString)
            .orElse("study");
    return Path.of("target", "report", name);
  }
}
