package lotproof.report.text;

import java.util.ArrayList;
import java.util.List;
import lotproof.report.model.Block;
import lotproof.report.model.Block.Callout;
import lotproof.report.model.Block.Paragraph;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Headline;
import lotproof.report.model.Headline.Answer;
import lotproof.report.model.Headline.Verdict;
import lotproof.report.model.Identity;
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

  public TextReport {
    if (width < NARROWEST) {
      throw new IllegalArgumentException("width must be " + NARROWEST + " or more, was " + width);
    }
  }

  /** The whole report. */
  public String of(Report report) {
    return of(report, true);
  }

  /** The sections of a report and what it was made from, without its headline. */
  public String sectionsOf(Report report) {
    return of(report, false);
  }

  private String of(Report report, boolean headline) {
    List<String> lines = new ArrayList<>();
    wrap(lines, "", report.identity().title());
    if (headline) {
      addHeadline(lines, report.headline());
    }
    report.allSections().forEach(section -> addSection(lines, section));
    addIdentity(lines, report.identity());
    return finished(lines);
  }

  /** The figure, the verdicts and what to know. */
  public String of(Headline headline) {
    List<String> lines = new ArrayList<>();
    addHeadline(lines, headline);
    return finished(lines);
  }

  /** Blocks alone, for a command that shows a few. */
  public String of(List<? extends Block> blocks) {
    List<String> lines = new ArrayList<>();
    blocks.forEach(block -> addBlock(lines, block));
    return finished(lines);
  }

  private void addSection(List<String> lines, Section section) {
    lines.add("");
    lines.add(style(BOLD, SanitizedText.clean(section.title())));
    addProse(lines, section.intro());
    section.blocks().forEach(block -> addBlock(lines, block));
  }

  private void addIdentity(List<String> lines, Identity identity) {
    lines.add("");
    wrap(lines, "", "Made from " + identity.generatedFrom() + ".");
    wrap(lines, "", "Record " + identity.recordHash());
    wrap(lines, "", "Seed " + identity.seedText() + ", Lotproof " + identity.toolVersion());
  }

  private void addHeadline(List<String> lines, Headline headline) {
    lines.add("");
    TextLayout.wrapped(SanitizedText.clean(headline.verdict().text()), width)
        .forEach(line -> lines.add(style(BOLD, line)));
    for (Verdict verdict : headline.verdicts()) {
      lines.add("");
      int first = lines.size();
      String word = verdict.answer().word();
      String because = PlainText.of(verdict.because());
      wrap(lines, "", word + ": " + verdict.question() + " " + because);
      String rest = lines.get(first).substring(word.length());
      lines.set(first, style(verdict.answer() == Answer.YES ? GREEN : RED, word) + rest);
    }
    if (!headline.claimSentence().isEmpty()) {
      lines.add("");
      wrap(lines, "  ", headline.claimSentence());
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
    if (block instanceof Paragraph) {
      wrap(lines, "", PlainText.of(block));
      return;
    }
    lines.add("");
    if (block instanceof Callout callout) {
      hang(lines, "! ", PlainText.of(callout));
    } else if (block instanceof Chart chart) {
      wrap(lines, "", chart.caption().question());
      hang(lines, "  ", chart.caption().answer());
    } else if (block instanceof ExplanationTree tree) {
      wrap(lines, "", tree.title());
      tree.steps().forEach(step -> addStep(lines, step));
    } else if (block instanceof Table table) {
      String where = ": " + table.rows().size() + " rows in tables/" + table.id() + ".csv";
      boolean read = table.role() != Table.Role.EVIDENCE;
      wrap(lines, "", table.title() + (read ? "" : where));
      if (read) {
        lines.addAll(TextTable.lines(table, width));
        addProse(lines, table.note());
      }
    }
  }

  private void addStep(List<String> lines, ExplanationTree.Step step) {
    ExplanationTree.Node node = step.node();
    hang(
        lines,
        "  ".repeat(Math.min(1 + step.depth(), width / 4)),
        node.label()
            + node.value().map(value -> ": " + PlainText.of(value)).orElse("")
            + (node.how().isEmpty() ? "" : " (" + node.how() + ")")
            + (node.place().isEmpty() ? "" : ", " + node.place()));
  }

  private void addProse(List<String> lines, Prose prose) {
    if (!prose.isEmpty()) {
      wrap(lines, "", PlainText.of(prose));
    }
  }

  private void wrap(List<String> lines, String indent, String text) {
    TextLayout.wrapped(SanitizedText.clean(text), width - indent.length())
        .forEach(line -> lines.add(indent + line));
  }

  private void hang(List<String> lines, String first, String text) {
    String indent = " ".repeat(first.length());
    List<String> parts = TextLayout.wrapped(SanitizedText.clean(text), width - first.length());
    for (int i = 0; i < parts.size(); i++) {
      lines.add((i == 0 ? first : indent) + parts.get(i));
    }
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
