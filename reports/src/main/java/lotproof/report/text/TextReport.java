package lotproof.report.text;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.percent;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.report.model.Block;
import lotproof.report.model.Block.Callout;
import lotproof.report.model.Block.CalloutKind;
import lotproof.report.model.Block.Paragraph;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Identity;
import lotproof.report.model.Level;
import lotproof.report.model.Prose;
import lotproof.report.model.Report;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.model.Verdict.Answer;

/**
 * A report as plain text. Charts are left to the files; tables that are looked up are named with
 * their size.
 *
 * @param width characters in a line, 40 or more
 * @param color whether to mark headings and verdicts with a terminal's own colours
 * @param details whether to show all tables that can be read, with all of their columns
 */
public record TextReport(int width, boolean color, boolean details) {
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

  /** The first screen, the claim, and what was found in each part of the evidence. */
  public String of(Report report) {
    List<String> lines = new ArrayList<>();
    addScreen(lines, report, report.levels());
    for (Level level : report.levels()) {
      if (level.leading()) {
        addTitle(lines, "Claim sentence (use it whole)");
        wrap(lines, "  ", level.sentence());
      }
    }
    addList(lines, "Valid only when", report.identity().conditions());
    addList(lines, "Cautions", cautions(report));
    addTitle(lines, "Evidence, in report.html and report.xlsx; tables/NAME.csv");
    for (Level level : report.levels()) {
      if (level.leading()) {
        level.evidence().forEach(section -> addFinding(lines, section));
      }
    }
    report.sections().forEach(section -> addFinding(lines, section));
    addIdentity(lines, report.identity());
    return finished(lines);
  }

  /** The verdict, the levels, and of some of them what could make it wrong and what to print. */
  public String screen(Report report, List<Level> shown) {
    List<String> lines = new ArrayList<>();
    addScreen(lines, report, shown);
    return finished(lines);
  }

  /** Sections below each other. */
  public String sections(List<Section> sections) {
    List<String> lines = new ArrayList<>();
    for (Section section : sections) {
      addTitle(lines, section.title());
      addProse(lines, section.intro());
      addBlocks(lines, section.blocks());
    }
    return finished(lines);
  }

  /** The words of a chart in rows, such as what adds up to a figure. */
  public String rows(Chart chart) {
    List<String> lines = new ArrayList<>();
    addTitle(lines, chart.caption().question());
    chart.up().words().forEach(row -> hang(lines, "  ", row));
    return finished(lines);
  }

  /** Blocks alone, for a command that shows a few. */
  public String of(List<? extends Block> blocks) {
    List<String> lines = new ArrayList<>();
    addBlocks(lines, blocks);
    return finished(lines);
  }

  private void addScreen(List<String> lines, Report report, List<Level> shown) {
    wrap(lines, "", report.identity().title());
    wrap(lines, "", String.join("; ", report.identity().facts()));
    lines.add("");
    TextLayout.wrapped(SanitizedText.clean(report.verdict().text()), width)
        .forEach(line -> lines.add(style(BOLD, line)));
    addLevels(lines, report.levels());
    Set<String> said = new HashSet<>();
    shown.stream().filter(Level::leading).forEach(level -> addLevel(lines, level, said));
    shown.stream().filter(level -> !level.leading()).forEach(l -> addLevel(lines, l, said));
  }

  private void addLevels(List<String> lines, List<Level> levels) {
    if (levels.isEmpty()) {
      return;
    }
    lines.add("");
    Table table =
        new TableBuilder<Level>("Levels")
            .missing("-")
            .add("Calibration by the buyer", TEXT, Level::name)
            .add(
                "Wanted",
                TEXT,
                l -> Optional.of(l.row().wanted()).filter(wanted -> !wanted.isEmpty()))
            .add("Verdict", TEXT, l -> l.row().answer().map(answer -> answer.word()))
            .add("Printable", TEXT, l -> l.row().printable())
            .add("Share used", percent(0), l -> l.row().usedFraction())
            .add(
                "Exclusions put back",
                TEXT,
                l -> l.row().excludedIn() + (l.row().restsOnExclusions() ? " !" : ""))
            .of(levels);
    String no = Answer.NO.word();
    String yes = Answer.YES.word();
    for (String line : TextTable.lines(table, width, details)) {
      lines.add(
          line.contains(no)
              ? line.replace(no, style(RED, no))
              : line.replace(yes, style(GREEN, yes)));
    }
    if (levels.stream().anyMatch(level -> level.row().restsOnExclusions())) {
      wrap(lines, "", "! The margin rests on the exclusions.");
    }
  }

  /** What was not said of another level yet. */
  private void addLevel(List<String> lines, Level level, Set<String> said) {
    addTitle(lines, level.name() + " (" + level.buyer() + "): what could make it wrong");
    int number = 1;
    for (Level.Risk risk : level.risks()) {
      if (said.add(risk.prose().text())) {
        hang(lines, number++ + ". ", PlainText.of(risk.prose()));
      }
    }
    if (number <= level.risks().size()) {
      lines.add(number == 1 ? "The same as above." : "And the same as above.");
    }
    if (!level.product().isEmpty()) {
      addTitle(lines, "Words for the product page, " + level.name());
      level.product().forEach(words -> wrap(lines, "  ", said.add(words) ? words : "* As above."));
    }
  }

  /** Each once; the last section has those that matter to everybody. */
  private static List<String> cautions(Report report) {
    List<Section> sections = new ArrayList<>(report.allSections());
    Collections.reverse(sections);
    return sections.stream()
        .flatMap(section -> section.blocks().stream())
        .filter(Callout.class::isInstance)
        .map(Callout.class::cast)
        .filter(callout -> callout.kind() == CalloutKind.CAUTION)
        .map(callout -> PlainText.of(callout.text()))
        .distinct()
        .toList();
  }

  /** What was found, and the tables that show it. */
  private void addFinding(List<String> lines, Section section) {
    hang(lines, "- ", section.title() + ": " + PlainText.of(section.intro()));
    String tables =
        section.blocks().stream()
            .filter(Table.class::isInstance)
            .map(Block::id)
            .collect(Collectors.joining(", "));
    if (!tables.isEmpty()) {
      wrap(lines, "    ", tables);
    }
  }

  private void addIdentity(List<String> lines, Identity identity) {
    lines.add("");
    wrap(lines, "", "Made from " + identity.generatedFrom() + ".");
    wrap(lines, "", "Record " + identity.recordHash());
    wrap(lines, "", "Seed " + identity.seedText() + ", Lotproof " + identity.toolVersion());
  }

  private void addTitle(List<String> lines, String title) {
    lines.add("");
    TextLayout.wrapped(SanitizedText.clean(title), width)
        .forEach(line -> lines.add(style(BOLD, line)));
  }

  private void addList(List<String> lines, String title, List<String> items) {
    if (!items.isEmpty()) {
      addTitle(lines, title);
      items.forEach(item -> hang(lines, "- ", item));
    }
  }

  /** Below each other, with an empty line before each that is not of the kind of the last one. */
  private void addBlocks(List<String> lines, List<? extends Block> blocks) {
    for (int i = 0; i < blocks.size(); i++) {
      Block block = blocks.get(i);
      boolean words = block instanceof Paragraph || block instanceof Callout;
      boolean on = i == 0 ? words : block.getClass() == blocks.get(i - 1).getClass() && words;
      if (!on && !(block instanceof Chart)) {
        lines.add("");
      }
      addBlock(lines, block);
    }
  }

  private void addBlock(List<String> lines, Block block) {
    if (block instanceof Paragraph paragraph) {
      addProse(lines, paragraph.text());
    } else if (block instanceof Callout callout) {
      hang(lines, "! ", PlainText.of(callout));
    } else if (block instanceof ExplanationTree tree) {
      wrap(lines, "", tree.title());
      tree.steps().forEach(step -> addStep(lines, step));
    } else if (block instanceof Table table) {
      addTable(lines, table);
    }
  }

  private void addTable(List<String> lines, Table table) {
    boolean read =
        table.role() == Table.Role.READ || (details && table.role() == Table.Role.DETAIL);
    if (table.rows().isEmpty()) {
      wrap(lines, "", table.title() + ": none.");
      return;
    }
    if (read) {
      wrap(lines, "", table.title());
      lines.addAll(TextTable.lines(table, width, details));
      addProse(lines, table.note());
    } else {
      hang(
          lines,
          "> ",
          table.title()
              + ": "
              + PlainText.rows(table)
              + (table.role() == Table.Role.DETAIL ? " by --details, or in" : " in")
              + " tables/"
              + table.id()
              + ".csv of the report");
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
    if (!text.isBlank()) {
      TextLayout.wrapped(SanitizedText.clean(text), width - indent.length())
          .forEach(line -> lines.add(indent + line));
    }
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
