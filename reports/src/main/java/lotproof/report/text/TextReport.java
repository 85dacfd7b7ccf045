package lotproof.report.text;

import java.util.ArrayList;
import java.util.List;
import lotproof.report.model.Block;
import lotproof.report.model.Block.Callout;
import lotproof.report.model.Block.CalloutKind;
import lotproof.report.model.Block.Paragraph;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Headline;
import lotproof.report.model.Headline.Answer;
import lotproof.report.model.Headline.Verdict;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;

/**
 * A report as plain text for a terminal. Charts are named with what they show; evidence tables are
 * named with their size.
 *
 * @param width characters in a line, 40 or more
 * @param color whether to mark headings and verdicts with a terminal's own colours
 */
public record TextReport(int width, boolean color) {
  private static final int NARROWEST = 40;
  private static final String RESET = "\u001b[0m";
  private static final String BOLD = "\u001b[1m";
  private static final String GREEN = "\u001b[32m";
  private static final String RED = "\u001b[31m";
  private static final String YELLOW = "\u001b[33m";

  public TextReport {
    if (width < NARROWEST) {
      throw new IllegalArgumentException("width must be " + NARROWEST + " or more, was " + width);
    }
  }

  /** The whole report. */
  public String of(Report report) {
    List<String> lines = new ArrayList<>();
    wrap(lines, "", SanitizedText.clean(report.identity().title()));
    addHeadline(lines, report.headline());
    report.sections().forEach(section -> addSection(lines, section));
    addIdentity(lines, report);
    return finished(lines);
  }

  /** The sections of a report and what it was made from, without its headline. */
  public String sectionsOf(Report report) {
    List<String> lines = new ArrayList<>();
    wrap(lines, "", SanitizedText.clean(report.identity().title()));
    report.sections().forEach(section -> addSection(lines, section));
    addIdentity(lines, report);
    return finished(lines);
  }

  private void addSection(List<String> lines, Section section) {
    lines.add("");
    lines.add(style(BOLD, SanitizedText.clean(section.title())));
    addProse(lines, "", section.intro());
    section.blocks().forEach(block -> addBlock(lines, block));
  }

  private void addIdentity(List<String> lines, Report report) {
    lines.add("");
    wrap(lines, "", "Made from " + SanitizedText.clean(report.identity().generatedFrom()) + ".");
    wrap(lines, "", "Record " + SanitizedText.clean(report.identity().recordHash()));
    wrap(
        lines,
        "",
        "Seed "
            + report.identity().seedText()
            + ", Lotproof "
            + SanitizedText.clean(report.identity().toolVersion()));
  }

  /** The figure, the verdicts and what to know. */
  public String of(Headline headline) {
    List<String> lines = new ArrayList<>();
    addHeadline(lines, headline);
    return finished(lines);
  }

  /** One table with its title and note. */
  public String of(Table table) {
    List<String> lines = new ArrayList<>();
    addTable(lines, table);
    return finished(lines);
  }

  /** Blocks alone, for a command that shows a few. */
  public String of(List<Block> blocks) {
    List<String> lines = new ArrayList<>();
    blocks.forEach(block -> addBlock(lines, block));
    return finished(lines);
  }

  private void addHeadline(List<String> lines, Headline headline) {
    lines.add("");
    lines.add(style(BOLD, PlainText.of(headline.figure())));
    wrap(lines, "", SanitizedText.clean(headline.figure().of()));
    if (headline.figure() instanceof Headline.NotSupported none) {
      wrap(lines, "", SanitizedText.clean(none.reason()));
    }
    for (Verdict verdict : headline.verdicts()) {
      lines.add("");
      String word = verdict.answer().word();
      List<String> text =
          TextLayout.wrapped(
              word
                  + ": "
                  + SanitizedText.clean(verdict.question())
                  + " "
                  + PlainText.of(verdict.because()),
              width);
      lines.add(style(colorOf(verdict.answer()), word) + text.get(0).substring(word.length()));
      lines.addAll(text.subList(1, text.size()));
    }
    if (!headline.claimSentence().isEmpty()) {
      lines.add("");
      wrap(lines, "  ", SanitizedText.clean(headline.claimSentence()));
    }
    addList(lines, "Main risks", headline.thingsToKnow());
    addList(lines, "Conditions", headline.conditions());
  }

  private void addList(List<String> lines, String title, List<Prose> items) {
    if (items.isEmpty()) {
      return;
    }
    lines.add("");
    lines.add(style(BOLD, title));
    items.forEach(item -> hang(lines, "- ", PlainText.of(item)));
  }

  private void addBlock(List<String> lines, Block block) {
    if (block instanceof Paragraph paragraph) {
      addProse(lines, "", paragraph.text());
    } else if (block instanceof Callout callout) {
      lines.add("");
      String word = callout.kind() == CalloutKind.CAUTION ? "Caution: " : "Found: ";
      hang(lines, "! ", word + PlainText.of(callout.text()));
    } else if (block instanceof Chart chart) {
      lines.add("");
      wrap(lines, "", SanitizedText.clean(chart.caption().question()));
      hang(lines, "  ", SanitizedText.clean(chart.caption().answer()));
    } else if (block instanceof Table table && table.role() == Table.Role.EVIDENCE) {
      lines.add("");
      wrap(
          lines,
          "",
          SanitizedText.clean(table.title())
              + ": "
              + table.rows().size()
              + " rows in tables/"
              + table.id()
              + ".csv");
    } else if (block instanceof Table table) {
      addTable(lines, table);
    } else if (block instanceof ExplanationTree tree) {
      lines.add("");
      wrap(lines, "", SanitizedText.clean(tree.title()));
      addNode(lines, tree.root(), "  ");
    }
  }

  private void addTable(List<String> lines, Table table) {
    lines.add("");
    wrap(lines, "", SanitizedText.clean(table.title()));
    lines.addAll(TextTable.lines(table, width));
    addProse(lines, "", table.note());
  }

  private void addNode(List<String> lines, ExplanationTree.Node node, String indent) {
    StringBuilder text = new StringBuilder(SanitizedText.clean(node.label()));
    node.value().ifPresent(value -> text.append(": ").append(PlainText.of(value)));
    if (!node.how().isEmpty()) {
      text.append(" (").append(SanitizedText.clean(node.how())).append(')');
    }
    if (!node.place().isEmpty()) {
      text.append(", ").append(SanitizedText.clean(node.place()));
    }
    hang(lines, indent, text.toString());
    String deeper = indent.length() < width / 2 ? indent + "  " : indent;
    node.children().forEach(child -> addNode(lines, child, deeper));
  }

  private void addProse(List<String> lines, String indent, Prose prose) {
    if (!prose.isEmpty()) {
      wrap(lines, indent, PlainText.of(prose));
    }
  }

  private void wrap(List<String> lines, String indent, String text) {
    TextLayout.wrapped(text, width - indent.length()).forEach(line -> lines.add(indent + line));
  }

  private void hang(List<String> lines, String first, String text) {
    String indent = " ".repeat(first.length());
    List<String> parts = TextLayout.wrapped(text, width - first.length());
    for (int i = 0; i < parts.size(); i++) {
      lines.add((i == 0 ? first : indent) + parts.get(i));
    }
  }

  private static String colorOf(Answer answer) {
    return switch (answer) {
      case YES -> GREEN;
      case NO -> RED;
      case OPEN -> YELLOW;
    };
  }

  private String style(String code, String text) {
    return color ? code + text + RESET : text;
  }

  /** A terminal's font may lack the signs of print. */
  private static String finished(List<String> lines) {
    return String.join("\n", lines).replace('\u202F', ' ').replace('\u2212', '-').stripLeading()
        + "\n";
  }
}
