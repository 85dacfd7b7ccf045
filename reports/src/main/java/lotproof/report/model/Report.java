package lotproof.report.model;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A whole report. Every writer says the same things from it.
 *
 * @param identity what the report is about and what it was made from
 * @param headline what a reader learns first
 * @param sections the evidence, in reading order
 */
public record Report(Identity identity, Headline headline, List<Section> sections) {
  public Report {
    sections = List.copyOf(sections);
    Check.distinct(sections.stream().map(Section::id).toList(), "ids of sections");
    List<String> ids =
        sections.stream()
            .flatMap(section -> section.blocks().stream())
            .flatMap(
                block ->
                    block instanceof Chart chart
                        ? Stream.of(chart.id(), chart.tableId())
                        : Stream.of(block.id()))
            .filter(id -> !id.isEmpty())
            .toList();
    Check.distinct(ids, "ids of tables, charts and explanations");
  }

  /** All blocks in reading order. */
  public Stream<Block> blocks() {
    return sections.stream().flatMap(section -> section.blocks().stream());
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
    return sections.stream().anyMatch(section -> section.id().equals(id))
        || blocks().anyMatch(block -> block.id().equals(id));
  }

  /** The table of that id. */
  public Optional<Table> table(String id) {
    return tables().stream().filter(table -> table.id().equals(id)).findFirst();
  }

  private <T extends Block> List<T> blocksOf(Class<T> type) {
    return blocks().filter(type::isInstance).map(type::cast).toList();
  }
}
