package lotproof.report.summary;

/** Sizes of paper. */
public enum Paper {
  A4("210mm 297mm"),
  LETTER("8.5in 11in");

  private final String size;

  Paper(String size) {
    this.size = size;
  }

  /** Width and height as a style sheet states them. */
  public String size() {
    return size;
  }
}
