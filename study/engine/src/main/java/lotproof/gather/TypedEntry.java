package lotproof.gather;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.Appended;
import lotproof.folder.Batch;
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.CsvText;
import lotproof.gather.plausibility.PlausibilityChecks;
import lotproof.study.BenchPlan;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Design;
import lotproof.study.Design.PlannedPair;
import lotproof.study.PlannedRun;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;

/**
 * Typing the bench's readings in the order of the plan. What is typed is kept in drafts ({@link
 * EntryDrafts}); a finished run enters the record as a file of its own, all of it or nothing.
 */
public final class TypedEntry {
  private static final String HEADER =
      "session,run,step,cell,board,load [kg],output [counts],cell temperature [°C],"
          + "board temperature [°C],remark\n";

  private final StudyFolder folder;
  private final Study study;
  private final List<PlannedRun> order;
  private List<Reading> readings;

  private TypedEntry(
      StudyFolder folder, Study study, List<PlannedRun> order, List<Reading> readings) {
    this.folder = folder;
    this.study = study;
    this.order = List.copyOf(order);
    this.readings = readings;
  }

  /**
   * Entry into a study folder.
   *
   * @param plan the plan of the bench; without one the pairs of study.yaml are taken in their order
   */
  public static TypedEntry of(
      StudyFolder folder, StudyContents contents, Optional<BenchPlan> plan) {
    List<PlannedRun> order = plan.map(BenchPlan::runs).orElseGet(() -> byPairs(contents.study()));
    return new TypedEntry(folder, contents.study(), order, contents.readings());
  }

  private static List<PlannedRun> byPairs(Study study) {
    List<PlannedRun> runs = new ArrayList<>();
    for (PlannedPair pair : study.design().pairs()) {
      for (int repeat = 1; repeat <= pair.runs(); repeat++) {
        String name = String.format(Locale.ROOT, "typed-%03d", runs.size() + 1);
        runs.add(new PlannedRun(1, "typed", name, pair.cell(), pair.board(), repeat));
      }
    }
    return runs;
  }

  /** Runs that the record does not hold yet, in order. */
  public List<PlannedRun> open() {
    Set<String> planned = order.stream().map(PlannedRun::run).collect(Collectors.toSet());
    Set<String> recorded = readings.stream().map(Reading::run).collect(Collectors.toSet());
    // a run of the pair under a name of its own counts for the first planned one
    Map<String, Set<String>> others =
        readings.stream()
            .filter(reading -> !planned.contains(reading.run()))
            .collect(
                Collectors.groupingBy(
                    reading -> Design.pairName(reading.cell(), reading.board()),
                    Collectors.mapping(Reading::run, Collectors.toSet())));
    List<PlannedRun> open = new ArrayList<>();
    for (PlannedRun run : order) {
      Set<String> of = others.getOrDefault(Design.pairName(run.cell(), run.board()), Set.of());
      boolean another = !of.isEmpty() && !run.isCheck();
      if (!recorded.contains(run.run()) && another) {
        of.remove(of.iterator().next());
      } else if (!recorded.contains(run.run())) {
        open.add(run);
      }
    }
    return open;
  }

  /** Number of runs of the plan. */
  public int planned() {
    return order.size();
  }

  /** A run of the plan by its name. */
  public Optional<PlannedRun> planned(String name) {
    return order.stream().filter(run -> run.run().equals(name)).findFirst();
  }

  /** Reads the record again: others write it too. */
  void refresh() {
    folder.open().value().ifPresent(contents -> readings = contents.readings());
  }

  /** Whether all that was typed of a run stands in the record. */
  boolean holdsAllOf(TypedRun run) {
    List<Reading> recorded =
        readings.stream().filter(r -> r.run().equals(run.planned().run())).toList();
    boolean remark =
        recorded.stream().anyMatch(r -> r.beside().remark().contains(run.beside().remark()));
    return remark
        && IntStream.range(0, run.outputCounts().size())
            .allMatch(i -> recorded.stream().anyMatch(r -> isStep(r, run, i)));
  }

  private static boolean isStep(Reading reading, TypedRun run, int index) {
    return reading.step() == index + 1
        && reading.outputCounts() == run.outputCounts().get(index)
        && reading.cell().equals(run.cell())
        && reading.board().equals(run.board());
  }

  /** Loads of a run in order. */
  public List<Double> loads() {
    return study.design().loadsKilograms();
  }

  /** The study whose runs are typed. */
  public Study study() {
    return study;
  }

  /** Why a value is doubtful as the next one of a run, if it is. */
  public Optional<String> doubt(TypedRun run, double counts) {
    Optional<String> doubt = new TypedValueCheck(study, readings).doubt(run, counts);
    if (doubt.isPresent()) {
      return doubt;
    }
    TypedRun withIt = run.with(counts);
    int row = row(withIt.outputCounts().size() - 1);
    Set<String> before = new HashSet<>(doubts(run));
    return findings(withIt)
        .filter(issue -> issue.line() == row || issue.isError())
        .map(DataIssue::message)
        .filter(words -> !before.contains(words))
        .findFirst();
  }

  /** Why the temperatures of a run are doubtful, if they are. */
  public Optional<String> doubtOfTemperatures(TypedRun run) {
    List<Reading> first = readings(run.with(0), file(run)).subList(0, 1);
    return PlausibilityChecks.ofReadings(study, List.of(), first).stream()
        .filter(issue -> issue.code() == Code.TEMPERATURE_DOUBTFUL)
        .map(DataIssue::message)
        .findFirst();
  }

  /** What is asked about a run as far as it was typed; a person has to say that it is right. */
  public List<String> doubts(TypedRun run) {
    return findings(run).filter(DataIssue::isError).map(DataIssue::message).toList();
  }

  private Stream<DataIssue> findings(TypedRun run) {
    return PlausibilityChecks.ofReadings(study, readings, readings(run, file(run))).stream()
        .filter(issue -> issue.code() != Code.TEMPERATURE_DOUBTFUL);
  }

  /** Moves a complete run into the record. */
  Result<Appended> finish(TypedRun run) {
    if (run.outputCounts().size() != loads().size()) {
      throw new IllegalArgumentException(
          "run %s has %s of %s values"
              .formatted(run.planned().run(), run.outputCounts().size(), loads().size()));
    }
    ReceivedFile file = file(run);
    Result<Appended> outcome =
        folder.record().append(file, contents -> new Batch(readings(run, file), List.of()));
    refresh();
    return outcome;
  }

  /** The run in the tidy layout, kept as the original. */
  private ReceivedFile file(TypedRun run) {
    StringBuilder text = new StringBuilder(HEADER);
    for (int i = 0; i < run.outputCounts().size(); i++) {
      text.append(
          CsvText.line(
              List.of(
                  run.planned().session(),
                  run.planned().run(),
                  Integer.toString(i + 1),
                  run.cell(),
                  run.board(),
                  plain(loads().get(i)),
                  plain(run.outputCounts().get(i)),
                  plain(run.beside().cellTemperatureCelsius()),
                  plain(run.beside().boardTemperatureCelsius()),
                  remark(run, i))));
    }
    String name = "typed-" + run.planned().run() + ".csv";
    return ReceivedFile.of(name, text.toString().getBytes(StandardCharsets.UTF_8));
  }

  /** Where a step stands in the file of its run: below the header. */
  private static int row(int step) {
    return step + 2;
  }

  private String remark(TypedRun run, int step) {
    return step == loads().size() - 1 ? run.beside().remark() : "";
  }

  private List<Reading> readings(TypedRun run, ReceivedFile file) {
    List<Reading> made = new ArrayList<>();
    for (int i = 0; i < run.outputCounts().size(); i++) {
      made.add(
          new Reading(
              run.planned().session(),
              Optional.empty(),
              run.planned().run(),
              i + 1,
              run.cell(),
              run.board(),
              loads().get(i),
              run.outputCounts().get(i),
              run.withRemark(remark(run, i)).beside(),
              new Provenance(file.name(), file.sha256(), row(i)),
              0));
    }
    return made;
  }
}
