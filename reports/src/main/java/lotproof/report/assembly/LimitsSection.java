package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.EXACT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import lotproof.claim.JigLimits;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionLimits.LevelLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.claim.upkeep.ProductionTest.Finished;
import lotproof.claim.upkeep.ProductionTest.LoadGuard;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.LimitsWords;
import lotproof.report.words.StudyWords;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/** Production tests that protect the figures, for the report and for the command. */
public final class LimitsSection {

  private static final String NO_TEST = "no test";

  private LimitsSection() {}

  /** The section of any limits. */
  public static Section of(Study study, ProductionLimits limits) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(
        Block.paragraph(
            "A study says what untested {} do. A test of every {} that ships can protect a"
                + " figure, if its limit leaves room for the tester's uncertainty and for what it"
                + " does not test.",
            limits.subject().plural(),
            limits.subject().key()));
    if (!limits.levels().isEmpty()) {
      blocks.add(finished(study, limits));
      for (LevelLimits level : limits.levels()) {
        blocks.add(
            Block.paragraph(
                "{}: {}", name(level), new LimitsWords(study, limits, level).finished()));
      }
      blocks.add(loads(limits.levels()));
      blocks.addAll(jigs(study, limits));
    }
    LimitsWords.cautions().forEach(caution -> blocks.add(Block.caution(caution)));
    return new Section("limits", "Production tests", Prose.text(finding(limits)), blocks);
  }

  private static String finding(ProductionLimits limits) {
    String kept =
        limits.levels().stream()
            .flatMap(
                level ->
                    finished(level).stream()
                        .map(
                            test ->
                                text(
                                    "%s, accept within %s g",
                                    name(level), digits(test.acceptGrams(), 3))))
            .collect(Collectors.joining("; "));
    return kept.isEmpty()
        ? "No test of every " + limits.subject().key() + " protects a figure."
        : "A test of every " + limits.subject().key() + " protects the figure: " + kept + ".";
  }

  private static Object acceptance(LevelLimits level) {
    return level.finished() instanceof ProductionTest.NotNeeded
        ? Cell.missing("tested on a jig")
        : finished(level).map(Finished::acceptGrams);
  }

  private static String name(LevelLimits level) {
    return StudyWords.level(level.level().label())
        + (level.correction().isPresent() ? ", corrected" : "");
  }

  private static Optional<Finished> finished(LevelLimits level) {
    return level.finished() instanceof Finished test ? Optional.of(test) : Optional.empty();
  }

  private static Table finished(Study study, ProductionLimits limits) {
    String sign = limits.form().twoSided() ? " ±" : "";
    return new TableBuilder<LevelLimits>(
            "pair-limits",
            text(
                "Test of every %s",
                limits.subject() == ClaimRequest.Subject.KIT
                    ? "finished kit"
                    : StudyWords.one(study)))
        .note(
            "Yield and risks are for production as it was studied, normal, at the tested load"
                + " that rejects most (JCGM 106). The limit itself does not depend on them.{}",
            ReportedLevel.formNote(limits.form()))
        .add("Calibration level", TEXT, LimitsSection::name)
        .add("Figure to protect" + sign + " [g]", significant(4), LevelLimits::figureGrams)
        .missing("no limit protects it")
        .add("Acceptance limit" + sign + " [g]", significant(3), LimitsSection::acceptance)
        .missing(NO_TEST)
        .add(
            "Tester's standard uncertainty [g]",
            significant(3),
            l -> finished(l).map(Finished::testerUncertaintyGrams))
        .secondary()
        .add("Expected yield", percent(1), l -> finished(l).map(f -> f.expected().yieldFraction()))
        .add("Study runs that pass", TEXT, l -> finished(l).map(f -> passed(f)))
        .add("Consumer's risk", percent(3), l -> finished(l).map(f -> f.expected().consumersRisk()))
        .secondary()
        .add("Producer's risk", percent(3), l -> finished(l).map(f -> f.expected().producersRisk()))
        .secondary()
        .of(limits.levels());
  }

  private static String passed(Finished test) {
    int runs = test.expected().runs();
    return runs == 0 ? "none measured" : test.expected().passed() + " of " + runs;
  }

  private static String place(LoadGuard load) {
    return plain(load.loadKilograms()) + " kg " + load.direction().word();
  }

  private record LoadLine(LevelLimits level, Finished test, int index) {
    LoadGuard load() {
      return test.loads().get(index);
    }
  }

  private static Table loads(List<LevelLimits> levels) {
    List<LoadLine> lines = new ArrayList<>();
    for (LevelLimits level : levels) {
      if (level.finished() instanceof Finished test) {
        for (int i = 0; i < test.loads().size(); i++) {
          lines.add(new LoadLine(level, test, i));
        }
      }
    }
    return new TableBuilder<LoadLine>(
            "load-guards", "What each load allows the limit of this test to be")
        .detail()
        .note(
            "Tested loads need no guard band beyond the reading. A load that is not tested is"
                + " predicted from a tested one by a line over the study's runs, with an allowance"
                + " for what the line leaves over.")
        .add("Calibration level", TEXT, l -> name(l.level()))
        .add("Load [kg]", EXACT, l -> l.load().loadKilograms())
        .add("Direction", TEXT, l -> l.load().direction().word())
        .add(
            "Basis",
            TEXT,
            l ->
                l.load().tested()
                    ? "tested"
                    : "from " + place(l.test().loads().get(l.load().predictedFrom().getAsInt())))
        .missing("-")
        .add(
            "Offset [g]",
            significant(3),
            l -> l.load().tested() ? Optional.empty() : l.load().offsetGrams())
        .secondary()
        .add(
            "Slope [g/g]",
            significant(3),
            l -> l.load().tested() ? Optional.empty() : l.load().slope())
        .secondary()
        .add("Allowance [g]", significant(3), l -> l.load().uncertaintyGrams())
        .add("Allowed limit ± [g]", significant(4), l -> l.load().allowsGrams())
        .add("Role", TEXT, l -> l.index() == l.test().governing() ? "sets the limit" : "")
        .of(lines);
  }

  /** The tests on a jig; where none is called for only why. */
  private static List<Block> jigs(Study study, ProductionLimits limits) {
    List<Block> blocks = new ArrayList<>();
    boolean any =
        limits.levels().stream()
            .anyMatch(level -> !(level.jig() instanceof ProductionTest.NotNeeded));
    if (!any) {
      limits.levels().stream()
          .map(level -> new LimitsWords(study, limits, level).jig())
          .distinct()
          .forEach(reason -> blocks.add(Block.paragraph("{}", reason)));
      return blocks;
    }
    blocks.add(units(limits));
    for (LevelLimits level : limits.levels()) {
      blocks.add(
          Block.paragraph("{}: {}", name(level), new LimitsWords(study, limits, level).jig()));
    }
    return blocks;
  }

  private record UnitLine(LevelLimits level, ProductionTest.UnitLimit limit) {}

  private static Table units(ProductionLimits limits) {
    List<UnitLine> lines = new ArrayList<>();
    for (LevelLimits level : limits.levels()) {
      if (level.jig() instanceof ProductionTest.OnJig test) {
        test.units().forEach(limit -> lines.add(new UnitLine(level, limit)));
      }
    }
    return new TableBuilder<UnitLine>("unit-limits", "Tests of cells and boards alone, on a jig")
        .detail()
        .note(
            "The unit's own part of the error may differ from the centre by the limit; a jig"
                + " measures it against a known partner, a dummy bridge of that signal in the"
                + " case of boards.{}",
            limits.subject() == ClaimRequest.Subject.KIT
                ? " Limits of both kinds add up, so that any accepted cell may meet any"
                    + " accepted board."
                : "")
        .add("Calibration level", TEXT, l -> name(l.level()))
        .add("Kind", TEXT, l -> l.limit().kind().key())
        .add("Load [kg]", EXACT, l -> l.limit().loadKilograms())
        .add("Direction", TEXT, l -> l.limit().direction().word())
        .add("Centre [g]", significant(3), l -> l.limit().centreGrams())
        .add("Acceptance limit ± [g]", significant(3), l -> l.limit().acceptGrams())
        .missing("-")
        .add("Centre of the signal [mV/V]", significant(6), l -> l.limit().centreMillivoltPerVolt())
        .secondary()
        .add(
            "Acceptance limit of the signal ± [mV/V]",
            significant(3),
            l -> l.limit().acceptMillivoltPerVolt())
        .secondary()
        .add("Expected yield", percent(1), l -> l.limit().yieldFraction())
        .add("Consumer's risk", percent(3), l -> l.limit().consumersRisk())
        .secondary()
        .add("Producer's risk", percent(3), l -> l.limit().producersRisk())
        .secondary()
        .of(lines);
  }

  /** What the jig says of boards alone; empty where the study has no such claim. */
  static Optional<Section> jig(StudyResult result) {
    return result.asDecided().jig().map(jig -> jigSection(result.study(), jig));
  }

  private static Section jigSection(Study study, JigLimits jig) {
    return new Section(
        "jig",
        "What do boards do on the jig?",
        Prose.of(
            "{} boards on {}: limits that {} of boards keep, each by itself with {} confidence.",
            jig.boards(),
            StudyWords.partner(study),
            Quantity.percent(jig.content(), 1),
            Quantity.percent(jig.confidence(), 1)),
        List.of(jigLimits(jig)));
  }

  private static String title(JigLimits.Property property) {
    return switch (property) {
      case GAIN -> "Gain, from the factory default factor";
      case OFFSET -> "Offset";
      case NOISE -> "Noise of a sample, rms";
      case RESOLUTION -> "Noise-free resolution";
    };
  }

  private static String unit(JigLimits.Property property) {
    return switch (property) {
      case GAIN -> "%";
      case OFFSET -> "mV/V";
      case NOISE -> "g";
      case RESOLUTION -> "parts of the capacity";
    };
  }

  private static String kind(JigLimits.Kind kind) {
    return switch (kind) {
      case ABOUT_ZERO -> "within plus or minus";
      case AT_MOST -> "at most";
      case AT_LEAST -> "at least";
    };
  }

  private static String why(JigLimits.Missing missing) {
    return switch (missing) {
      case FEWER_THAN_TWO_RUNS -> "fewer than two runs show it";
      case NOT_FITTED -> "the runs cannot be fitted";
      case NO_NOISE -> "the noise is not above zero";
    };
  }

  private static Object known(JigLimits.Limit limit, OptionalDouble value) {
    return value.isPresent()
        ? value
        : Cell.missing(limit.missing().map(LimitsSection::why).orElse("from the noise"));
  }

  private static Table jigLimits(JigLimits jig) {
    String bits =
        jig.resolutionBits().isPresent()
            ? text(
                " Such a resolution is %s bits of the capacity.",
                jig.resolutionBits().getAsDouble())
            : "";
    return new TableBuilder<JigLimits.Limit>("jig-limits", "Limits of boards alone")
        .note(
            "The larger of model and largest tested value counts. Gain is slope over the"
                + " factory default factor minus one; what the partner adds to it is in it."
                + " Noise-free resolution is the capacity over 6.6 times the limit of the noise"
                + " (the span that 99.9 % of normal samples keep).{}",
            bits)
        .add("Property", TEXT, l -> title(l.property()))
        .add("Unit", TEXT, l -> unit(l.property()))
        .add("Limit", TEXT, l -> kind(l.kind()))
        .add("Value", significant(4), l -> known(l, l.value()))
        .add("By the model", significant(4), l -> known(l, l.model()))
        .add("Largest tested", significant(4), l -> known(l, l.tested()))
        .add("Runs", COUNT, l -> l.runs())
        .of(jig.limits());
  }
}
