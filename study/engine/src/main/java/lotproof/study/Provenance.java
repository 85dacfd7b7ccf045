package lotproof.study;

/**
 * Where a number came from.
 *
 * @param file name of the file as it was received
 * @param sheet name of the sheet in a workbook; empty for every other kind of file
 * @param sha256 hash of that file's bytes, lower-case hexadecimal
 * @param row line in a text file or row in a sheet, counted from 1
 */
public record Provenance(String file, String sheet, String sha256, int row) {
  public Provenance {
    Require.text(file, "source file");
    if (row < 1) {
      throw new IllegalArgumentException("row is counted from 1, was " + row);
    }
  }

  /** A place in a file that has no sheets. */
  public Provenance(String file, String sha256, int row) {
    this(file, "", sha256, row);
  }

  /** For people: {@code bench-03.csv, row 17} or {@code bench.xlsx, sheet Monday, row 17}. */
  public String place() {
    return file + (sheet.isEmpty() ? "" : ", sheet " + sheet) + ", row " + row;
  }
}
