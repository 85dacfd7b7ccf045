package lotproof.gather.layout;

import java.util.List;
import java.util.Optional;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue;

/** One layout: the way from the rows of a file to its single readings. */
interface ReadingLayout {

  /** Looks at the places of one reading. */
  interface Visitor {
    /**
     * Takes the next.
     *
     * @param slots where its values stand
     * @param row the row that they stand in
     * @param line line or sheet row that is named as its source
     */
    void visit(ColumnMap slots, Row row, int line);
  }

  /**
   * Goes through all readings in file order.
   *
   * @param first whether this is the first time, when the shape of the file is judged
   * @return why the file cannot be read to its end, when it cannot
   */
  Optional<DataIssue> forEach(boolean first, Visitor visitor);

  /** The layout, for people. */
  String layout();

  /** How its columns were understood. */
  List<ColumnUse> uses();

  /** Whether every column is understood. */
  boolean isSound();

  /** Line of the header. */
  int headerLine();
}
