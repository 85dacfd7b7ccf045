package lotproof.report.model;

import java.util.List;

/**
 * A part of the report.
 *
 * @param id plain id, unique in the report
 * @param title heading
 * @param intro what the section is for; may be empty
 * @param blocks its content in reading order
 */
public record Section(String id, String title, Prose intro, List<Block> blocks) {
  public Section {
    Check.id(id, "section id");
    Check.text(title, "section title");
    blocks = List.copyOf(blocks);
  }

  /** The same without the blocks of these ids. */
  public Section without(List<String> ids) {
    return new Section(
        id, title, intro, blocks.stream().filter(block -> !ids.contains(block.id())).toList());
  }
}
