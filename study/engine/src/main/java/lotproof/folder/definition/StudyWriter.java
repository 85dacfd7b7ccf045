package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.BenchInfluences;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Kit;
import lotproof.study.Limits;
import lotproof.study.Lot;
import lotproof.study.SideTest;
import lotproof.study.Study;

/**
 * A definition as study.yaml, in a fixed order of keys, with lists of units on one line. Written by
 * hand since the library's writer gives every serial a line; what it writes is read back in tests.
 */
final class StudyWriter {
  /** Text that means itself without quotes in YAML, in lists too; anything else is quoted. */
  private static final Pattern PLAIN =
      Pattern.compile("[A-Za-z](?:[A-Za-z0-9 ._/()%-]*[A-Za-z0-9._/()%-])?");

  /** Words that YAML takes for something else than text. */
  private static final Pattern RESERVED =
      Pattern.compile("(?i)true|false|yes|no|on|off|y|n|null|nan|inf");

  private final StringBuilder out = new StringBuilder();

  private StudyWriter() {}

  static String write(Study study) {
    StudyWriter writer = new StudyWriter();
    writer.line("format: lotproof-study-1");
    writer.line("title: " + text(study.title()));
    writer.line("question: " + text(study.question()));
    writer.line("seed: " + study.seed());
    writer.kit(study.kit());
    writer.line("lots:");
    writer.lots("cells", study.units().cellLots());
    writer.lots("boards", study.units().boardLots());
    study
        .units()
        .checkStandard()
        .ifPresent(
            check ->
                writer.line(
                    "check-standard: {cell: %s, board: %s}"
                        .formatted(text(check.cell()), text(check.board()))));
    writer.design(study.design());
    writer.reduction(study.referenceLine());
    writer.spread(study.influences());
    writer.limits(study.limits());
    writer.line("causes:");
    study.causes().forEach(cause -> writer.line("  - " + text(cause)));
    writer.claim(study.claim());
    writer.conditions(study.conditions());
    return writer.out.toString();
  }

  private void kit(Kit kit) {
    line("kit:");
    line("  cell: " + text(kit.cellDescription()));
    line("  board: " + text(kit.boardDescription()));
    line("  capacity: " + quantity(kit.capacityKilograms(), Unit.KILOGRAM));
    line(
        "  default-factor: "
            + quantity(kit.defaultFactorCountsPerKilogram(), Unit.COUNTS_PER_KILOGRAM));
    line(
        "  converter-scale: "
            + quantity(kit.countsPerMillivoltPerVolt(), Unit.COUNTS_PER_MILLIVOLT_PER_VOLT));
    kit.converterBits().ifPresent(bits -> line("  converter-bits: " + bits));
  }

  private void lots(String key, List<Lot> lots) {
    if (lots.isEmpty()) {
      return; // of partners that units alone were measured on
    }
    line("  " + key + ":");
    for (Lot lot : lots) {
      line("    - lot: " + text(lot.name()));
      line("      units: " + list(lot.serials().stream().map(StudyWriter::text).toList()));
    }
  }

  private void design(Design design) {
    line("design:");
    line("  kind: " + design.kind().key());
    line("  loads: " + list(masses(design.loadsKilograms())));
    if (design.pairing() != Design.Pairing.NOT_STATED) {
      line("  pairing: " + design.pairing().key());
    }
    design
        .reference()
        .ifPresent(
            partners -> {
              line("  reference:");
              line("    cell: " + text(partners.cell()));
              line("    board: " + text(partners.board()));
              line("    dummy-bridge: " + partners.dummyBridge());
            });
    if (!design.sideTests().isEmpty()) {
      line("  side-tests:");
    }
    for (SideTest test : design.sideTests()) {
      line("    - effect: " + test.effect().key());
      line("      runs: " + text(test.runPrefix()));
      line("      loads: " + list(masses(test.loadsKilograms())));
      line("      covers: " + text(test.covers()));
    }
    if (!design.pairs().isEmpty()) {
      line("  pairs:");
    }
    for (Design.PlannedPair pair : design.pairs()) {
      line(
          "    - {cell: %s, board: %s, runs: %s}"
              .formatted(text(pair.cell()), text(pair.board()), pair.runs()));
    }
  }

  private void reduction(Study.ReferenceLine referenceLine) {
    line("reduction:");
    line("  reference-line: " + referenceLine.key());
  }

  private void spread(BenchInfluences influences) {
    if (influences.isEmpty()) {
      return;
    }
    line("spread:");
    if (!influences.covariates().isEmpty()) {
      line(
          "  covariates: "
              + list(
                  influences.covariates().stream().map(BenchInfluences.Covariate::key).toList()));
    }
    if (!influences.blocks().isEmpty()) {
      line(
          "  blocks: "
              + list(influences.blocks().stream().map(BenchInfluences.Block::key).toList()));
    }
  }

  private void limits(Map<Characteristic, Limits> limits) {
    if (limits.isEmpty()) {
      return;
    }
    line("limits:");
    limits.forEach(
        (characteristic, limit) -> {
          Unit unit = StudyReader.unitOf(characteristic);
          line("  " + characteristic.key() + ":");
          limit.lower().ifPresent(value -> line("    lower: " + quantity(value, unit)));
          limit.upper().ifPresent(value -> line("    upper: " + quantity(value, unit)));
        });
  }

  private void claim(ClaimRequest claim) {
    line("claim:");
    line("  content: " + plain(claim.content()));
    line("  confidence: " + plain(claim.confidence()));
    line("  rounding: " + quantity(claim.roundingGrams(), Unit.GRAM));
    if (claim.subject() != ClaimRequest.Subject.KIT) {
      line("  for: " + claim.subject().key());
    }
    if (!claim.form().equals(new ClaimForm.Symmetric())) {
      line("  form: " + claim.form().key());
    }
    if (claim.form() instanceof ClaimForm.OfReading ratio) {
      line("  of-reading:");
      line("    share: " + plain(ratio.readingFraction()));
      line("    constant: " + quantity(ratio.constantGrams(), Unit.GRAM));
    }
    claim.assumedLotRatio().ifPresent(ratio -> line("  assumed-lot-ratio: " + plain(ratio)));
    line("  levels:");
    for (ClaimRequest.LevelRequest request : claim.levels()) {
      line("    - level: " + request.level().key());
      if (request.level() instanceof CalibrationLevel.Calibrated calibrated) {
        line("      at: " + list(masses(calibrated.pointsKilograms())));
        line("      mass-class: " + calibrated.massClass().key());
      }
      request.wantedGrams().ifPresent(grams -> line("      wanted: " + quantity(grams, Unit.GRAM)));
      request
          .temperatureCorrection()
          .ifPresent(
              correction -> {
                line("      temperature-correction:");
                line(
                    "        sensor-error: "
                        + quantity(correction.sensorErrorCelsius(), Unit.CELSIUS));
              });
    }
  }

  private void conditions(Conditions conditions) {
    line("conditions:");
    line("  temperature:");
    line("    lowest: " + quantity(conditions.lowestCelsius(), Unit.CELSIUS));
    line("    highest: " + quantity(conditions.highestCelsius(), Unit.CELSIUS));
    line("  bench-mass-class: " + conditions.benchMassClass().key());
    if (!conditions.notes().isEmpty()) {
      line("  notes:");
      conditions.notes().forEach(note -> line("    - " + text(note)));
    }
  }

  private void line(String text) {
    out.append(text).append('\n');
  }

  private static List<String> masses(List<Double> kilograms) {
    return kilograms.stream().map(kg -> quantity(kg, Unit.KILOGRAM)).toList();
  }

  private static String quantity(double value, Unit unit) {
    return plain(value) + " " + unit.symbol();
  }

  private static String list(List<String> items) {
    return items.stream().collect(Collectors.joining(", ", "[", "]"));
  }

  private static String text(String text) {
    boolean plain = PLAIN.matcher(text).matches() && !RESERVED.matcher(text).matches();
    return plain ? text : '"' + escaped(text) + '"';
  }

  private static String escaped(String text) {
    StringBuilder escaped = new StringBuilder();
    for (char c : JsonStringEncoder.getInstance().quoteAsString(text)) {
      // Valid in JSON as they are, but YAML wants these escaped.
      boolean unprintable =
          Character.isISOControl(c) || c == '\u2028' || c == '\u2029' || c == '\uFEFF';
      escaped.append(unprintable ? String.format(Locale.ROOT, "\\u%04X", (int) c) : c);
    }
    return escaped.toString();
  }
}
