package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.PLACE;
import static lotproof.report.model.Format.SERIAL;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.TemperatureRange;
import lotproof.report.model.Block;
import lotproof.report.model.Format;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.ClaimWords;
import lotproof.report.words.Numbers;
import lotproof.report.words.StudyWords;
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest;
import lotproof.study.Kit;
import lotproof.study.Reading;
import lotproof.study.Study;

/** What was studied and read, with which numbers, and how everything is computed from it. */
final class StudySection {
  /** Id of the table of all readings, the readings of one run after those of the other. */
  static final String READINGS = "readings";

  /** Id of the table whose single row holds the numbers that formulas refer to. */
  static final String NUMBERS = "study";

  private StudySection() {}

  /** The cell of one of the numbers that everything is computed with. */
  static Range number(String column) {
    return Range.cell(NUMBERS, column, 0);
  }

  /** What was measured, how much of it, and when, for the first line of a report. */
  static List<String> facts(StudyResult result) {
    ClaimRequest claim = result.study().claim();
    List<LocalDate> days =
        result.runs().stream()
            .flatMap(run -> run.readings().stream())
            .flatMap(reading -> reading.time().stream())
            .map(LocalDateTime::toLocalDate)
            .sorted()
            .toList();
    int runs = result.asDecided().coverage().countedRuns();
    return List.of(
        days.isEmpty()
            ? "dates not recorded"
            : "measured " + days.get(0) + " to " + days.get(days.size() - 1),
        ClaimWords.evidence(result.asDecided().scopes())
            + (runs == 1 ? ", 1 run" : ", " + runs + " runs"),
        Numbers.percent(claim.content())
            + " % of "
            + claim.subject().plural()
            + ", "
            + Numbers.percent(claim.confidence())
            + " % confidence");
  }

  /** Under which conditions the figures hold. */
  static List<String> conditions(StudyResult result) {
    Study study = result.study();
    List<String> list = new ArrayList<>();
    TemperatureRange range = result.asDecided().temperature();
    list.add("Temperature " + StudyWords.temperature(range) + ".");
    list.add(
        text(
            "Test weights: class %s (OIML R 111); their tolerance is included.",
            study.conditions().benchMassClass().key()));
    study.conditions().notes().forEach(note -> list.add(Numbers.sentence(note) + "."));
    String remark = StudyWords.temperatureRemark(range, study.conditions());
    if (!remark.isEmpty()) {
      list.add(remark);
    }
    return list;
  }

  private static Table numbers(Study study) {
    Kit kit = study.kit();
    ClaimRequest claim = study.claim();
    return new TableBuilder<Study>(NUMBERS, "Numbers that everything is computed with")
        .note(
            "From study.yaml. In the workbook, formulas refer to these cells; bounds and intervals"
                + " of the model are constants and do not follow a change here.")
        .add("Rated capacity [kg]", EXACT, s -> kit.capacityKilograms())
        .add("Default factor [counts/kg]", EXACT, s -> kit.defaultFactorCountsPerKilogram())
        .add("Converter scale [counts/(mV/V)]", EXACT, s -> kit.countsPerMillivoltPerVolt())
        .add("Content", percent(2), s -> claim.content())
        .add("Confidence", percent(2), s -> claim.confidence())
        .add("Step of figures [g]", EXACT, s -> claim.roundingGrams())
        .of(List.of(study));
  }

  /** What was found on each unit, pair and run, and the readings behind it. */
  static Section units(StudyResult result, List<RecordedRun> runs) {
    return new Section(
        "units",
        "Units",
        Prose.of(
            "{}, with the exclusions taken out.", ClaimWords.evidence(result.asDecided().scopes())),
        List.of(
            RunTables.unitList(result, runs),
            RunTables.units(result, runs),
            RunTables.runs(result, runs),
            readings(result)));
  }

  /** What was studied, how it was computed, what that does not cover and must not be used for. */
  static Section method(StudyResult result) {
    Study study = result.study();
    ClaimRequest.Subject subject = study.claim().subject();
    List<Block> blocks = new ArrayList<>();
    ClaimWords.cautions().forEach(text -> blocks.add(Block.caution("{}", text)));
    blocks.add(
        Block.paragraph(
            "Cell: {}. Board: {}. Loads of a run: {} kg.",
            study.kit().cellDescription(),
            study.kit().boardDescription(),
            study.design().loadsKilograms().stream()
                .map(Numbers::plain)
                .collect(Collectors.joining(", "))));
    blocks.add(
        Block.paragraph(
            "The figure does not cover: {}.",
            String.join("; ", new ClaimWords(result).notCovered())));
    blocks.add(
        Block.paragraph(
            "Components of variation: crossed mixed model by restricted maximum likelihood,"
                + " intervals by profile likelihood. Limits for a future {}: modified large-sample"
                + " limits on pseudo mean squares of that fit, which is a textbook method in"
                + " balanced designs and elsewhere a construction whose actual confidence was"
                + " measured by simulation. All loads together: simulated error curves with the"
                + " model's covariances, fixed seed. Without a model: order statistics of the"
                + " tested {}. The larger bound counts, and the limits of error of the masses are"
                + " added.",
            subject.key(),
            subject.plural()));
    blocks.add(notToSay(result));
    blocks.add(numbers(study));
    blocks.add(definitions(subject));
    return new Section(
        "method",
        "Method, limits of the study and cautions",
        Prose.of(
            "Mixed model and order statistics; the larger limit counts. Not for trade, medical use"
                + " or lifting."),
        blocks);
  }

  private static Table notToSay(StudyResult result) {
    ClaimWords words = new ClaimWords(result);
    return new TableBuilder<Map.Entry<String, String>>("not-to-say", "What must not be said")
        .detail()
        .add("Forbidden wording", TEXT, Map.Entry::getKey)
        .add("Calibration levels", TEXT, Map.Entry::getValue)
        .of(
            List.copyOf(
                ReportedLevel.told(
                        ReportedLevel.of(result), level -> words.of(level.claim()).mustNotSay())
                    .entrySet()));
  }

  private record Word(String word, String unit, String meaning) {}

  private static Table definitions(ClaimRequest.Subject subject) {
    List<Word> words = new ArrayList<>();
    for (Characteristic c : Characteristic.values()) {
      words.add(new Word(c.title(), c.unit(), c.definition()));
    }
    String content = "fraction of all " + subject.plural() + " that a figure must hold for";
    String confidence =
        "how often studies like this one would state a figure that does hold for that content";
    words.add(new Word("Kit", "", "one cell with one board, as a buyer gets it"));
    words.add(new Word("Content", "%", content));
    words.add(new Word("Confidence", "%", confidence));
    return new TableBuilder<Word>("definitions", "Words used here")
        .detail()
        .add("Word", TEXT, Word::word)
        .add("Unit", TEXT, Word::unit)
        .add("Meaning", TEXT, Word::meaning)
        .of(words);
  }

  /** Every reading with the file and row that it came from. */
  private static Table readings(StudyResult result) {
    List<Reading> readings =
        result.runs().stream().flatMap(run -> run.readings().stream()).toList();
    Format degrees = Format.decimals(2);
    return new TableBuilder<Reading>(READINGS, "All readings as recorded")
        .evidence()
        .note("Before any correction or exclusion.")
        .add("Run", TEXT, Reading::run)
        .add("Session", TEXT, Reading::session)
        .add("Step", COUNT, Reading::step)
        .add("Cell", SERIAL, Reading::cell)
        .add("Board", SERIAL, Reading::board)
        .add("Load [kg]", EXACT, Reading::loadKilograms)
        .add("Output [counts]", EXACT, Reading::outputCounts)
        .missing("not recorded")
        .add("Noise [counts]", significant(4), r -> r.beside().noiseCounts())
        .add("Cell temperature [°C]", degrees, r -> r.beside().cellTemperatureCelsius())
        .add("Board temperature [°C]", degrees, r -> r.beside().boardTemperatureCelsius())
        .add("File and row", PLACE, r -> r.source().place())
        .of(readings);
  }
}
