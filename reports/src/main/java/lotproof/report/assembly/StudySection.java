package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.decimals;
import static lotproof.report.model.Format.percent;
import static lotproof.report.words.Numbers.plain;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.reduce.UnitSummary;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Prose;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;
import lotproof.study.ClaimRequest;
import lotproof.study.Kit;
import lotproof.study.Lot;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/** What was studied: the numbers that everything is computed with, and the lots. */
final class StudySection {
  /** Id of the table whose single row holds the numbers that formulas refer to. */
  static final String NUMBERS = "study";

  private StudySection() {}

  static Section of(StudyResult result, List<RecordedRun> runs) {
    Study study = result.study();
    return new Section(
        "study",
        "What was studied?",
        Prose.of(
            "Cell: {}. Board: {}. Loads of a run: {} kg.",
            study.kit().cellDescription(),
            study.kit().boardDescription(),
            study.design().loadsKilograms().stream()
                .map(load -> plain(load))
                .collect(Collectors.joining(", "))),
        List.of(numbers(study), lots(study, RunTables.summaries(result, runs))));
  }

  /** The cell of one of the numbers that everything is computed with. */
  static Range number(String column) {
    return Range.cell(NUMBERS, column, 0);
  }

  private static Table numbers(Study study) {
    Kit kit = study.kit();
    ClaimRequest claim = study.claim();
    return new TableBuilder<Study>(NUMBERS, "Numbers that everything is computed with")
        .note(
            "From study.yaml. In the workbook, formulas refer to these cells; bounds and intervals"
                + " of the model are constants and do not follow a change here.")
        .add(
            decimal("capacity", "Rated capacity", "kg", kit.capacityKilograms()),
            s -> kit.capacityKilograms(),
            "none")
        .add(
            decimal(
                "default-factor",
                "Default factor",
                "counts/kg",
                kit.defaultFactorCountsPerKilogram()),
            s -> kit.defaultFactorCountsPerKilogram(),
            "none")
        .add(
            decimal(
                "converter-scale",
                "Converter scale",
                "counts/(mV/V)",
                kit.countsPerMillivoltPerVolt()),
            s -> kit.countsPerMillivoltPerVolt(),
            "none")
        .add("content", "Content", percent(2), s -> claim.content())
        .add("confidence", "Confidence", percent(2), s -> claim.confidence())
        .add(
            decimal("rounding", "Step of figures", "g", claim.roundingGrams()),
            s -> claim.roundingGrams(),
            "none")
        .of(List.of(study));
  }

  private static Column decimal(String key, String title, String unit, double value) {
    return new Column(key, title, unit, decimals(CellTexts.decimals(value)));
  }

  /** A lot and the runs of its units that are used. */
  private record MeasuredLot(Lot lot, List<UnitSummary> units) {}

  private static Table lots(Study study, List<UnitSummary> units) {
    List<MeasuredLot> lots = new ArrayList<>();
    for (UnitKind kind : UnitKind.values()) {
      for (Lot lot : study.units().lots(kind)) {
        List<UnitSummary> measured =
            units.stream()
                .filter(u -> u.kind() == kind && lot.serials().contains(u.serial()))
                .toList();
        lots.add(new MeasuredLot(lot, measured));
      }
    }
    return new TableBuilder<MeasuredLot>("lots-studied", "Lots and how much of them was measured")
        .add("kind", "Kind", TEXT, l -> l.lot().kind().key())
        .add("lot", "Lot", TEXT, l -> l.lot().name())
        .add("units", "Units named", COUNT, l -> l.lot().serials().size())
        .add("measured", "Units with runs that are used", COUNT, l -> l.units().size())
        .add(
            "runs",
            "Runs that are used",
            COUNT,
            l -> l.units().stream().mapToInt(u -> u.runs().size()).sum())
        .of(lots);
  }
}
