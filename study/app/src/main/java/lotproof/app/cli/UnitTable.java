package lotproof.app.cli;

import static lotproof.app.cli.CliCommand.refuse;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.UnitNames;
import lotproof.gather.Importer;
import lotproof.gather.layout.ResultTable;
import lotproof.gather.tables.Mapping;
import lotproof.model.Role;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Severity;
import lotproof.study.Result;

/**
 * A table of results: one number a row, with the units and lots that it belongs to.
 *
 * @param labels the labels of each role, serials named LOT/SERIAL where they start again in lots
 */
public record UnitTable(
    ReceivedFile file, ResultTable found, List<DataIssue> issues, Map<Role, List<String>> labels) {
  public UnitTable {
    issues = List.copyOf(issues);
  }

  /** Whether a serial names one unit, or one in each lot. */
  public enum SerialRule {
    UNIQUE,
    PER_LOT;

    /** As the command line writes it. */
    @Override
    public String toString() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
  }

  /**
   * The columns that are read.
   *
   * @param perLot whether serials start again in every lot
   * @param copiesAccepted whether a person said that equal rows were measured anew
   * @param prefix of the options that say so
   */
  public record Columns(
      String value,
      Map<Role, String> roles,
      List<String> blocks,
      List<String> covariates,
      boolean perLot,
      boolean copiesAccepted,
      String prefix) {
    private String perLotOption() {
      return "--" + prefix + "serials per-lot";
    }

    private String copiesOption() {
      return "--" + prefix + "accept DUPLICATE_READING";
    }
  }

  /** Reads a table; what is wrong or left open ends the command. */
  public static UnitTable read(Path path, Mapping mapping, Columns columns) {
    ReceivedFile file = UnusableException.needed(Importer.receive(path));
    Set<String> labelled = new LinkedHashSet<>(columns.roles.values());
    labelled.addAll(columns.blocks);
    Result<ResultTable> read =
        ResultTable.read(
            file,
            CliCommand.readers(),
            mapping,
            new ResultTable.Wanted(columns.value, List.copyOf(labelled), columns.covariates));
    ResultTable found = UnusableException.needed(read);
    Map<Role, List<String>> labels = labels(file.name(), found, columns);
    List<DataIssue> issues = new ArrayList<>(read.issues());
    List<String> units =
        Stream.of(Role.CELL, Role.BOARD, Role.CELL_LOT, Role.BOARD_LOT)
            .flatMap(role -> Optional.ofNullable(columns.roles.get(role)).stream())
            .toList();
    Optional<DataIssue> copies = found.copies(file.name(), units, columns.copiesOption());
    UnusableException.refuse(
        copies.filter(issue -> issue.isError() && !columns.copiesAccepted).stream().toList());
    copies.map(issue -> issue.as(Severity.WARNING, issue.message())).ifPresent(issues::add);
    return new UnitTable(file, found, issues, labels);
  }

  private static Map<Role, List<String>> labels(String file, ResultTable found, Columns columns) {
    Map<Role, List<String>> labels = new EnumMap<>(Role.class);
    columns.roles.forEach(
        (role, column) -> labels.put(role, found.labels().getOrDefault(column, List.of())));
    List<DataIssue> questions = new ArrayList<>();
    boolean lotsKnown = false;
    for (Role unit : List.of(Role.CELL, Role.BOARD)) {
      Role lot = unit == Role.CELL ? Role.CELL_LOT : Role.BOARD_LOT;
      List<String> serials = labels.getOrDefault(unit, List.of());
      List<String> lots = labels.getOrDefault(lot, List.of());
      if (serials.isEmpty() || lots.isEmpty()) {
        continue;
      }
      lotsKnown = true;
      if (columns.perLot) {
        labels.put(
            unit,
            IntStream.range(0, serials.size())
                .mapToObj(i -> UnitNames.of(lots.get(i), serials.get(i)))
                .toList());
      } else {
        found
            .serialsInLots(
                file,
                columns.roles.getOrDefault(unit, ""),
                columns.roles.getOrDefault(lot, ""),
                columns.perLotOption())
            .ifPresent(questions::add);
      }
    }
    UnusableException.refuse(questions);
    refuse(
        columns.perLot && !lotsKnown,
        columns.perLotOption()
            + " needs a column of lots beside the serials; name it with its option");
    return labels;
  }
}
