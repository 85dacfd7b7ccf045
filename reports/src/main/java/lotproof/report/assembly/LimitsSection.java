package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import lotproof.claim.Numbers;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionLimits.LevelLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.words.LimitsWords;
import lotproof.report.words.SubjectWords;
import lotproof.study.ClaimSubject;
import lotproof.study.Study;

/** Production tests that protect the figures, for the report and for the command. */
public final class LimitsSection {
  private LimitsSection() {}

  /** The limits of a plan that tests all loads of the study with a tester as good as its bench. */
  static Section of(StudyResult result) {
    return of(
        result.study(),
        ProductionLimits.of(result, LimitOptions.defaults(result.study().claim().content())));
  }

  /** The section of any limits. */
  public static Section of(Study study, ProductionLimits limits) {
    List<Block> blocks = new ArrayList<>();
    if (!limits.levels().isEmpty()) {
      blocks.add(finished(study, limits));
      for (LevelLimits level : limits.levels()) {
        blocks.add(
            new Block.Paragraph(
                Prose.of("{}: {}", name(level), new LimitsWords(study, limits, level).finished())));
      }
      blocks.add(loads(limits.levels()));
      blocks.addAll(jigs(study, limits));
    }
    LimitsWords.cautions()
        .forEach(
            caution ->
                blocks.add(new Block.Callout(Block.CalloutKind.CAUTION, Prose.text(caution))));
    return new Section(
        "limits",
        "Which production tests protect the figure?",
        Prose.text(
            "A study says what untested "
                + limits.subject().plural()
                + " do. A test of every "
                + limits.subject().key()
                + " that ships can guarantee a figure, if its limit leaves room for the tester's"
                + " uncertainty and for what it does not test."),
        blocks);
  }

  private static String name(LevelLimits level) {
    return Levels.name(level.level()) + (level.correction().isPresent() ? ", corrected" : "");
  }

  private static Table finished(Study study, ProductionLimits limits) {
    List<Row> rows = new ArrayList<>();
    for (LevelLimits level : limits.levels()) {
      List<Cell> cells = new ArrayList<>();
      cells.add(Cell.text(name(level)));
      cells.add(Cell.number(level.typicalGrams()));
      cells.add(Cell.number(level.characterisedGrams()));
      cells.add(Cell.number(level.figureGrams()));
      if (level.finished() instanceof ProductionTest.Finished p) {
        cells.add(Cell.number(p.acceptGrams()));
        cells.add(Cell.number(p.testerUncertaintyGrams()));
        ProductionTest.Expected expected = p.expected();
        cells.add(Cell.number(expected.yieldFraction()));
        cells.add(
            Cell.text(
                expected.runs() == 0
                    ? "none measured"
                    : expected.passed() + " of " + expected.runs()));
        cells.add(Cell.number(expected.consumersRisk()));
        cells.add(Cell.number(expected.producersRisk()));
      } else {
        String none =
            level.finished() instanceof ProductionTest.NotNeeded
                ? "tested on a jig"
                : "no limit protects it";
        cells.add(Cell.missing(none));
        for (int i = 0; i < 2; i++) {
          cells.add(Cell.missing("no test"));
        }
        cells.add(Cell.text(""));
        cells.add(Cell.missing("no test"));
        cells.add(Cell.missing("no test"));
      }
      rows.add(new Row(cells));
    }
    String kind = limits.subject().key();
    String sign = limits.form().twoSided() ? " ±" : "";
    return new Table(
        "pair-limits",
        "Test of every "
            + (limits.subject() == ClaimSubject.KIT ? "finished kit" : SubjectWords.one(study)),
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.significant("typical", "Median " + kind + sign, "g", 3),
            Column.significant("characterised", "Untested " + kind + "s" + sign, "g", 4),
            Column.significant("guaranteed", "To be guaranteed" + sign, "g", 4),
            Column.significant("accept", "Accept within" + sign, "g", 3),
            Column.significant("tester", "Tester's standard uncertainty", "g", 3),
            Column.fraction("yield", "Expected yield", 1),
            Column.text("passed", "Study runs that pass"),
            Column.fraction("consumer", "Consumer's risk", 3),
            Column.fraction("producer", "Producer's risk", 3)),
        rows,
        Prose.text(
            "Yield and risks are for production as it was studied, normal, at the tested load that"
                + " rejects most (JCGM 106). The limit itself does not lean on them."
                + Levels.formNote(limits.form())));
  }

  private static String place(ProductionTest.LoadGuard load) {
    return Numbers.plain(load.loadKilograms()) + " kg " + load.direction().word();
  }

  private static Table loads(List<LevelLimits> levels) {
    List<Row> rows = new ArrayList<>();
    for (LevelLimits level : levels) {
      if (level.finished() instanceof ProductionTest.Finished p) {
        for (int i = 0; i < p.loads().size(); i++) {
          ProductionTest.LoadGuard load = p.loads().get(i);
          rows.add(
              Row.of(
                  Cell.text(name(level)),
                  Cell.number(load.loadKilograms()),
                  Cell.text(load.direction().word()),
                  Cell.text(
                      load.tested()
                          ? "tested"
                          : "from " + place(p.loads().get(load.predictedFrom().getAsInt()))),
                  load.tested() ? Cell.missing("tested") : Cell.number(load.offsetGrams()),
                  load.tested() ? Cell.missing("tested") : Cell.number(load.slope()),
                  Cell.number(load.uncertaintyGrams()),
                  Cell.number(load.allowsGrams()),
                  Cell.text(i == p.governing() ? "sets the limit" : "")));
        }
      }
    }
    return new Table(
        "load-guards",
        "What each load allows the limit of this test to be",
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.decimal("load", "Load", "kg", 2),
            Column.text("direction", "Direction"),
            Column.text("how", "How it is known"),
            Column.significant("offset", "Offset", "g", 3),
            Column.significant("slope", "Slope", "g/g", 3),
            Column.significant("allowance", "Allowance", "g", 3),
            Column.significant("allows", "Allows ±", "g", 4),
            Column.text("governs", "Governs")),
        rows,
        Prose.text(
            "Tested loads need no guard band beyond the reading. A load that is not tested is"
                + " predicted from a tested one by a line over the study's runs, with an allowance"
                + " for what the line leaves over."));
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
          .forEach(reason -> blocks.add(new Block.Paragraph(Prose.text(reason))));
      return blocks;
    }
    blocks.add(units(limits));
    for (LevelLimits level : limits.levels()) {
      blocks.add(
          new Block.Paragraph(
              Prose.of("{}: {}", name(level), new LimitsWords(study, limits, level).jig())));
    }
    return blocks;
  }

  private static Table units(ProductionLimits limits) {
    List<LevelLimits> levels = limits.levels();
    String both =
        limits.subject() == ClaimSubject.KIT
            ? " Limits of both kinds add up, so that any accepted cell may meet any accepted board."
            : "";
    List<Row> rows = new ArrayList<>();
    for (LevelLimits level : levels) {
      if (level.jig() instanceof ProductionTest.OnJig p) {
        for (ProductionTest.UnitLimit unit : p.units()) {
          rows.add(
              Row.of(
                  Cell.text(name(level)),
                  Cell.text(unit.kind().word()),
                  Cell.number(unit.loadKilograms()),
                  Cell.text(unit.direction().word()),
                  Cell.number(unit.centreGrams()),
                  Cell.number(unit.acceptGrams()),
                  CellTexts.optional(unit.centreMillivoltPerVolt(), "in grams"),
                  CellTexts.optional(unit.acceptMillivoltPerVolt(), "in grams"),
                  Cell.number(unit.yieldFraction()),
                  Cell.number(unit.consumersRisk()),
                  Cell.number(unit.producersRisk())));
        }
      }
    }
    return new Table(
        "unit-limits",
        "Tests of cells and boards alone, on a jig",
        Table.Role.READ,
        List.of(
            Column.text("level", "Calibration level"),
            Column.text("kind", "Kind"),
            Column.decimal("load", "Load", "kg", 2),
            Column.text("direction", "Direction"),
            Column.significant("centre", "Centre", "g", 3),
            Column.significant("accept", "Accept within ±", "g", 3),
            Column.significant("signal", "Centre", "mV/V", 6),
            Column.significant("signal-accept", "Accept within ±", "mV/V", 3),
            Column.fraction("yield", "Expected yield", 1),
            Column.fraction("consumer", "Consumer's risk", 3),
            Column.fraction("producer", "Producer's risk", 3)),
        rows,
        Prose.text(
            "The unit's own part of the error may differ from the centre by the limit; a jig"
                + " measures it against a known partner, a dummy bridge of that signal in the case"
                + " of boards."
                + both));
  }
}
