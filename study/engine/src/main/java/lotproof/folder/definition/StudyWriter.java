package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.CalibrationLevel;
import lotproof.study.Characteristic;
import lotproof.study.Characteristic.Limits;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Conditions;
import lotproof.study.Design;
import lotproof.study.Keyed;
import lotproof.study.Kit;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.Units.Lot;

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
    writer.study(study);
    return writer.out.toString();
  }

  private void line(String text) {
    out.append(text).append('\n');
  }

  /** A key with its value, unless that is empty. */
  private void line(String key, String value) {
    if (!value.isEmpty()) {
      line(key + ": " + value);
    }
  }

  private void study(Study study) {
    line("format", "lotproof-study-1");
    line("title", text(study.title()));
    line("question", text(study.question()));
    line("seed", Long.toString(study.seed()));
    kit(study.kit());
    line("lots:");
    lots("cells", study.units().cellLots());
    lots("boards", study.units().boardLots());
    study
        .units()
        .checkStandard()
        .ifPresent(check -> line("check-standard", pair(check.cell(), check.board(), "")));
    design(study.design());
    line("reduction:");
    line("  reference-line", study.referenceLine().key());
    if (!study.influences().isEmpty()) {
      line("spread:");
      line("  covariates", keys(study.influences().covariates()));
      line("  blocks", keys(study.influences().blocks()));
    }
    if (!study.limits().isEmpty()) {
      line("limits:");
      study.limits().forEach(this::limits);
    }
    line("causes:");
    study.causes().forEach(cause -> line("  - " + text(cause)));
    claim(study.claim());
    conditions(study.conditions());
  }

  private void kit(Kit kit) {
    double scale = kit.countsPerMillivoltPerVolt();
    double factor = kit.defaultFactorCountsPerKilogram();
    line("kit:");
    line("  cell", text(kit.cellDescription()));
    line("  board", text(kit.boardDescription()));
    line("  capacity", quantity(kit.capacityKilograms(), Unit.KILOGRAM));
    line("  default-factor", quantity(factor, Unit.COUNTS_PER_KILOGRAM));
    line("  converter-scale", quantity(scale, Unit.COUNTS_PER_MILLIVOLT_PER_VOLT));
    kit.converterBits().ifPresent(bits -> line("  converter-bits: " + bits));
  }

  private void lots(String key, List<Lot> lots) {
    if (lots.isEmpty()) {
      return; // of partners that units alone were measured on
    }
    line("  " + key + ":");
    for (Lot lot : lots) {
      line("    - lot", text(lot.name()));
      line("      units", list(lot.serials().stream().map(StudyWriter::text)));
    }
  }

  private void design(Design design) {
    line("design:");
    line("  kind", design.kind().key());
    line("  loads", masses(design.loadsKilograms()));
    if (design.pairing() != Design.Pairing.NOT_STATED) {
      line("  pairing", design.pairing().key());
    }
    design.reference().ifPresent(this::partners);
    if (!design.sideTests().isEmpty()) {
      line("  side-tests:");
    }
    for (SideTest test : design.sideTests()) {
      line("    - effect", test.effect().key());
      line("      runs", text(test.runPrefix()));
      line("      loads", masses(test.loadsKilograms()));
      line("      covers", text(test.covers()));
    }
    if (!design.pairs().isEmpty()) {
      line("  pairs:");
    }
    for (Design.PlannedPair pair : design.pairs()) {
      line("    - " + pair(pair.cell(), pair.board(), ", runs: " + pair.runs()));
    }
  }

  private void partners(Design.ReferencePartners partners) {
    line("  reference:");
    line("    cell", text(partners.cell()));
    line("    board", text(partners.board()));
    line("    dummy-bridge: " + partners.dummyBridge());
  }

  private static String pair(String cell, String board, String more) {
    return "{cell: " + text(cell) + ", board: " + text(board) + more + "}";
  }

  private void limits(Characteristic characteristic, Limits limits) {
    Unit unit = StudyReader.unitOf(characteristic);
    line("  " + characteristic.key() + ":");
    limits.lower().ifPresent(value -> line("    lower", quantity(value, unit)));
    limits.upper().ifPresent(value -> line("    upper", quantity(value, unit)));
  }

  private void claim(ClaimRequest claim) {
    line("claim:");
    line("  content", plain(claim.content()));
    line("  confidence", plain(claim.confidence()));
    line("  rounding", quantity(claim.roundingGrams(), Unit.GRAM));
    if (claim.subject() != ClaimRequest.Subject.KIT) {
      line("  for", claim.subject().key());
    }
    if (!(claim.form() instanceof ClaimForm.Symmetric)) {
      line("  form", claim.form().key());
    }
    if (claim.form() instanceof ClaimForm.OfReading ratio) {
      line("  of-reading:");
      line("    share", plain(ratio.readingFraction()));
      line("    constant", quantity(ratio.constantGrams(), Unit.GRAM));
    }
    line("  assumed-lot-ratio", plain(claim.assumedLotRatio()));
    line("  levels:");
    claim.levels().forEach(this::level);
  }

  private void level(ClaimRequest.LevelRequest request) {
    line("    - level", request.level().key());
    if (request.level() instanceof CalibrationLevel.Calibrated calibrated) {
      line("      at", masses(calibrated.pointsKilograms()));
      line("      mass-class", calibrated.massClass().key());
    }
    request.wantedGrams().ifPresent(grams -> line("      wanted", quantity(grams, Unit.GRAM)));
    if (request.temperatureCorrection().isPresent()) {
      double error = request.temperatureCorrection().get().sensorErrorCelsius();
      line("      temperature-correction:");
      line("        sensor-error", quantity(error, Unit.CELSIUS));
    }
  }

  private void conditions(Conditions conditions) {
    line("conditions:");
    line("  temperature:");
    line("    lowest", quantity(conditions.lowestCelsius(), Unit.CELSIUS));
    line("    highest", quantity(conditions.highestCelsius(), Unit.CELSIUS));
    line("  bench-mass-class", conditions.benchMassClass().key());
    if (!conditions.notes().isEmpty()) {
      line("  notes:");
      conditions.notes().forEach(note -> line("    - " + text(note)));
    }
  }

  private static String masses(List<Double> kilograms) {
    return list(kilograms.stream().map(kg -> quantity(kg, Unit.KILOGRAM)));
  }

  private static String keys(List<? extends Keyed> constants) {
    return constants.isEmpty() ? "" : list(constants.stream().map(Keyed::key));
  }

  private static String list(Stream<String> items) {
    return items.collect(Collectors.joining(", ", "[", "]"));
  }

  private static String quantity(double value, Unit unit) {
    return plain(value) + " " + unit.symbol();
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
