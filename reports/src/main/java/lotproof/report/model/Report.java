package lotproof.report.model;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A whole report. Every writer says the same things from it.
 *
 * @param identity what the report is about and what it was made from
 * @param verdict what a reader learns first
 * @param levels the calibration levels, each with its own evidence
 * @param sections the evidence of all levels, in reading order
 */
public record Report(
    Identity identity, Verdict verdict, List<Level> levels, List<Section> sections) {
  public Report {
    levels = List.copyOf(levels);
    sections = List.copyOf(sections);
    Check.distinct(allSections(levels, sections).map(Section::id).toList(), "ids of sections");
    List<String> ids =
        blocks(levels, sections)
            .flatMap(
                block ->
                    block instanceof Chart chart
                        ? Stream.of(chart.id(), chart.tableId())
                        : Stream.of(block.id()))
            .filter(id -> !id.isEmpty())
            .toList();
    Check.distinct(ids, "ids of tables, charts and explanations");
  }

  private static Stream<Section> allSections(List<Level> levels, List<Section> sections) {
    return Stream.concat(
        levels.stream().flatMap(level -> level.evidence().stream()), sections.stream());
  }

  private static Stream<Block> blocks(List<Level> levels, List<Section> sections) {
    return Stream.concat(
        levels.stream().flatMap(Level::blocks),
        sections.stream().flatMap(section -> section.blocks().stream()));
  }

  /** The evidence of each level, then that of all of them. */
  public List<Section> allSections() {
    return allSections(levels, sections).toList();
  }

  /** All blocks in reading order. */
  public Stream<Block> blocks() {
    return blocks(levels, sections);
  }

  /** All tables in reading order. */
  public List<Table> tables() {
    return blocksOf(Table.class);
  }

  /** All charts in reading order. */
  public List<Chart> charts() {
    return blocksOf(Chart.class);
  }

  /** Whether there is a section, table, chart or explanation of that id. */
  public boolean has(String id) {
    return allSections().stream().anyMatch(section -> section.id().equals(id))
        || blocks().anyMatch(block -> block.id().equals(id));
  }

  /** The table of that id. */
  public Optional<Table> table(String id) {
    return tables().stream().filter(table -> table.id().equals(id)).findFirst();
  }

  /** The chart of that id. */
  public Optional<Chart> chart(String id) {
    return charts().stream().filter(chart -> chart.id().equals(id)).findFirst();
  }

  private <T extends Block> List<T> blocksOf(Class<T> type) {
    return blocks().filter(type::isInstance).map(type::cast).toList();
  }
}
