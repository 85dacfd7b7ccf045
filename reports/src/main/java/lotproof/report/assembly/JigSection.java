package lotproof.report.assembly;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.claim.JigLimits;
import lotproof.claim.StudyResult;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;

/** What the jig says of boards alone: gain, offset, noise and resolution. */
final class JigSection {
  private JigSection() {}

  /** The section; empty where the study has no such claim. */
  static Optional<Section> of(StudyResult result) {
    return result.asDecided().jig().map(JigSection::section);
  }

  private static Section section(JigLimits jig) {
    List<Block> blocks = new ArrayList<>();
    blocks.add(table(jig));
    return new Section(
        "jig",
        "What do boards do on the jig?",
        Prose.of(
            "{} boards on {}: limits that {} of boards keep, each by itself with {} confidence.",
            Quantity.count(jig.boards()),
            jig.partner(),
            Quantity.percent(jig.content(), 1),
            Quantity.percent(jig.confidence(), 1)),
        blocks);
  }

  private static Table table(JigLimits jig) {
    List<Row> rows =
        jig.limits().stream()
            .map(
                limit -> {
                  String none = limit.missing().isEmpty() ? "from the noise" : limit.missing();
                  return Row.of(
                      Cell.text(limit.property().title()),
                      Cell.text(limit.property().unit()),
                      Cell.text(limit.kind().words()),
                      CellTexts.optional(limit.value(), none),
                      CellTexts.optional(limit.model(), none),
                      CellTexts.optional(limit.tested(), none),
                      Cell.number(limit.runs()));
                })
            .toList();
    String bits =
        jig.of(JigLimits.Property.RESOLUTION)
            .map(
                limit ->
                    " Such a resolution is "
                        + Math.floor(10 * Math.log(limit.value().orElseThrow()) / Math.log(2)) / 10
                        + " bits of the capacity.")
            .orElse("");
    return new Table(
        "jig-limits",
        "Limits of boards alone",
        Table.Role.READ,
        List.of(
            Column.text("property", "Property"),
            Column.text("unit", "Unit"),
            Column.text("kind", "Limit"),
            Column.significant("limit", "Value", "", 4),
            Column.significant("model", "By the model", "", 4),
            Column.significant("tested", "Largest tested", "", 4),
            Column.count("runs", "Runs")),
        rows,
        Prose.text(
            "The larger of model and largest tested value counts. Gain is slope over the factory"
                + " default factor minus one; what the partner adds to it is in it. Resolution free"
                + " of noise is the capacity over 6.6 times the limit of the noise (the span that"
                + " 99.9 % of normal samples keep)."
                + bits));
  }
}
