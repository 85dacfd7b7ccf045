package lotproof.app;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Headline;
import lotproof.report.model.NumberStyle;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;
import lotproof.report.text.ProseText;

/** Prints parts of a report for a terminal. Charts and evidence tables are left to the files. */
final class ReportPrinter {
  private static final int WIDTH = 100;

  private final PrintWriter to;
  private final Palette palette;

  ReportPrinter(PrintWriter to, Palette palette) {
    this.to = to;
    this.palette = palette;
  }

  void title(Report report) {
    to.println(palette.strong(OutsideText.clean(report.identity().title())));
    to.println(OutsideText.clean(report.identity().generatedFrom()));
  }

  void headline(Headline headline) {
    paragraph(OutsideText.clean(headline.claimSentence()), "");
    verdicts(headline);
    headline.thingsToKnow().forEach(thing -> paragraph(ProseText.of(thing), "- "));
  }

  void verdicts(Headline headline) {
    for (Headline.Verdict verdict : headline.verdicts()) {
      String answer =
          switch (verdict.answer()) {
            case YES -> palette.yes(verdict.answer().word());
            case NO -> palette.no(verdict.answer().word());
            case OPEN -> verdict.answer().word();
          };
      to.println();
      to.println(OutsideText.clean(verdict.question()) + " " + answer);
      paragraph(ProseText.of(verdict.because()), "  ");
    }
  }

  /** A section with those of its blocks that are wanted. */
  void section(Section section, Predicate<Block> wanted) {
    to.println();
    to.println(palette.strong(section.title()));
    for (Block block : section.blocks()) {
      if (wanted.test(block)) {
        block(block);
      }
    }
  }

  /** Whether a block is for reading rather than for looking up. */
  static boolean isForReading(Block block) {
    return block instanceof Block.Paragraph
        || block instanceof Block.Callout
        || (block instanceof Table table && table.role() == Table.Role.READ);
  }

  private void block(Block block) {
    if (block instanceof Table table) {
      table(table);
    } else if (block instanceof Block.Paragraph paragraph) {
      to.println();
      paragraph(ProseText.of(paragraph.text()), "");
    } else if (block instanceof Block.Callout callout) {
      to.println();
      String mark = callout.kind() == Block.CalloutKind.CAUTION ? "Caution: " : "Note: ";
      paragraph(mark + ProseText.of(callout.text()), "");
    } else if (block instanceof ExplanationTree tree) {
      to.println();
      to.println(palette.strong(OutsideText.clean(tree.title())));
      node(tree.root(), "");
    }
  }

  void table(Table table) {
    to.println();
    to.println(OutsideText.clean(table.title()));
    if (table.rows().isEmpty()) {
      to.println("  none");
    } else {
      TextTable text =
          new TextTable(
              table.columns().stream().map(ReportPrinter::heading).toArray(String[]::new));
      for (Table.Row row : table.rows()) {
        String[] cells = new String[table.columns().size()];
        for (int c = 0; c < cells.length; c++) {
          cells[c] = cell(row.cells().get(c), table.columns().get(c).style());
        }
        text.row(cells);
      }
      text.print(to, palette);
    }
    note(table.note());
  }

  private void note(Prose note) {
    if (!note.isEmpty()) {
      paragraph(ProseText.of(note), "");
    }
  }

  private static String heading(Table.Column column) {
    String right = column.kind().numeric() ? ">" : "";
    String unit = column.unit().isEmpty() ? "" : " [" + column.unit() + "]";
    return right + OutsideText.clean(column.title()) + unit;
  }

  private static String cell(Cell cell, Optional<NumberStyle> style) {
    if (cell instanceof Cell.Text text) {
      return OutsideText.clean(text.text());
    }
    if (cell instanceof Cell.Missing missing) {
      return "(" + OutsideText.clean(missing.reason()) + ")";
    }
    double value =
        cell instanceof Cell.Computed computed ? computed.value() : ((Cell.Numeric) cell).value();
    return NumberText.of(value, style.orElseThrow());
  }

  private void node(ExplanationTree.Node node, String indent) {
    String value = node.value().map(quantity -> " = " + NumberText.of(quantity)).orElse("");
    String place = node.place().map(p -> " [" + p.file() + ", row " + p.row() + "]").orElse("");
    String how = node.how().isEmpty() ? "" : ": " + node.how();
    to.println(OutsideText.clean(indent + node.label() + value + how + place));
    node.children().forEach(child -> node(child, indent + "  "));
  }

  /** Words in lines of a readable width. */
  void paragraph(String text, String indent) {
    StringBuilder line = new StringBuilder(indent);
    String blank = " ".repeat(indent.length());
    int start = indent.length();
    for (String word : List.of(text.split(" ", -1))) {
      if (line.length() > start && line.length() + 1 + word.length() > WIDTH) {
        to.println(line);
        line = new StringBuilder(blank);
      }
      line.append(line.length() > start ? " " : "").append(word);
    }
    if (!text.isEmpty()) {
      to.println(line);
    }
  }
}
