package lotproof.gather;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Arrays;
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
import lotproof.folder.ReceivedFile;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.CsvText;
import lotproof.gather.plausibility.PlausibilityChecks;
import lotproof.statistics.summary.Summary;
import lotproof.study.BenchPlan;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Design;
import lotproof.study.Design.PlannedPair;
import lotproof.study.Kit;
import lotproof.study.PlannedRun;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * Typing the bench's readings in the order of the plan. What is typed is kept in drafts ({@link
 * EntryDrafts}); a finished run enters the record as a file of its own, all of it or nothing.
 */
public final class TypedEntry {
  private static final String HEADER =
      "session,time,run,step,cell,board,load [kg],output [counts],cell temperature [°C],"
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

  /**
   * Errors of the values typed so far, in grams, from the straight line through the first value and
   * the one at the largest load; from the default factor until that load is reached.
   */
  public List<Double> errorsGrams(TypedRun run) {
    List<Double> counts = run.outputCounts();
    int top = 0;
    for (int step = 1; step < counts.size(); step++) {
      top = loads().get(step) > loads().get(top) ? step : top;
    }
    double largest = loads().stream().mapToDouble(load -> load).max().orElse(0);
    boolean reached = loads().get(top) == largest && counts.get(top) > counts.get(0);
    double factor =
        reached
            ? (counts.get(top) - counts.get(0)) / largest
            : study.kit().defaultFactorCountsPerKilogram();
    return IntStream.range(0, counts.size())
        .mapToObj(i -> 1000 * ((counts.get(i) - counts.get(0)) / factor - loads().get(i)))
        .toList();
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
    Result<Appended> outcome = folder.record().append(file, readings(run, file));
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
                  run.values().get(i).time().map(LocalDateTime::toString).orElse(""),
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
              run.values().get(i).time(),
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

  /**
   * Holds a typed value against the loads, the limits of the study and the readings so far. What it
   * doubts may still be right: a person says so.
   */
  private static final class TypedValueCheck {
    private static final int FEWEST_TO_COMPARE = 5;

    /** Robust standard deviations; a misread digit lies much further, a real unit rarely so far. */
    private static final double FAR = 6;

    /** Half of the readings may be nearly equal; less than this part of the load is never far. */
    private static final double LEAST_PART = 0.002;

    /** Before there is anything to compare with: the distance from the factory default factor. */
    private static final double FACTOR_PART = 0.1;

    private final Study study;
    private final Kit kit;
    private final List<Double> loads;
    private final double largest;
    private final List<Reading> readings;

    TypedValueCheck(Study study, List<Reading> readings) {
      this.study = study;
      this.kit = study.kit();
      this.loads = study.design().loadsKilograms();
      this.largest = loads.stream().mapToDouble(load -> load).max().orElse(0);
      this.readings = readings;
    }

    Optional<String> doubt(TypedRun run, double counts) {
      int step = run.outputCounts().size();
      if (step == 0) {
        return outside(Characteristic.ZERO, counts / kit.countsPerMillivoltPerVolt());
      }
      double load = loads.get(step);
      if (counts == run.outputCounts().get(step - 1) && load != loads.get(step - 1)) {
        return Optional.of("the same value as at the load before");
      }
      double net = counts - run.outputCounts().get(0);
      double signal = net / kit.countsPerMillivoltPerVolt();
      Optional<String> limits =
          load == largest && load > 0
              ? outside(Characteristic.SENSITIVITY, signal * kit.capacityKilograms() / load)
              : Optional.empty();
      return limits.or(() -> farFromOthers(run, step, net));
    }

    private Optional<String> outside(Characteristic characteristic, double value) {
      return Optional.ofNullable(study.limits().get(characteristic))
          .filter(limits -> !isWithin(limits, value))
          .map(
              limits ->
                  String.format(
                      Locale.ROOT,
                      "a %s of %.4g %s is outside the limits of the study",
                      characteristic.key(),
                      value,
                      characteristic.unit()));
    }

    private static boolean isWithin(Limits limits, double value) {
      return value >= limits.lower().orElse(Double.NEGATIVE_INFINITY)
          && value <= limits.upper().orElse(Double.POSITIVE_INFINITY);
    }

    private Optional<String> farFromOthers(TypedRun run, int step, double net) {
      double[] others = others(run, step);
      boolean few = others.length < FEWEST_TO_COMPARE;
      double scale = kit.defaultFactorCountsPerKilogram();
      double expected = few ? loads.get(step) * scale : Summary.median(others);
      double[] distances = Arrays.stream(others).map(x -> Math.abs(x - expected)).toArray();
      double far =
          few
              ? FACTOR_PART * scale * Math.max(loads.get(step), 0.1 * largest)
              : Math.max(
                  FAR * 1.4826 * Summary.median(distances),
                  LEAST_PART * scale * kit.capacityKilograms());
      if (Math.abs(net - expected) <= far) {
        return Optional.empty();
      }
      String from = few ? "the default factor gives" : others.length + " runs so far lie around";
      return Optional.of(
          String.format(
              Locale.ROOT, "%.0f counts above the first zero; %s %.0f", net, from, expected));
    }

    /**
     * Readings above the first zero at this step: of the cell's lot where there are enough of it.
     */
    private double[] others(TypedRun run, int step) {
      Map<String, Double> zeros =
          readings.stream()
              .filter(reading -> reading.step() == 1)
              .collect(Collectors.toMap(Reading::run, Reading::outputCounts, (a, b) -> b));
      List<Reading> all =
          readings.stream()
              .filter(reading -> reading.step() == step + 1 && zeros.containsKey(reading.run()))
              .toList();
      Map<String, String> lots = study.units().lotBySerial(UnitKind.CELL);
      String lot = lots.getOrDefault(run.cell(), "");
      List<Reading> ofLot =
          all.stream().filter(reading -> lot.equals(lots.get(reading.cell()))).toList();
      return (ofLot.size() >= FEWEST_TO_COMPARE ? ofLot : all)
          .stream()
              .mapToDouble(
                  reading -> reading.outputCounts() - zeros.getOrDefault(reading.run(), 0.0))
              .toArray();
    }
  }
}
