package lotproof.report.model;

/**
 * Where a number came from.
 *
 * @param file name of the file
 * @param row line or sheet row, counted from 1
 */
public record Place(String file, int row) {
  public Place {
    Check.text(file, "file");
    if (row < 1) {
      throw new IllegalArgumentException("row is counted from 1, was " + row);
    }
  }
}
