package lotproof.app.files;

/** A workbook that the library cannot read; the message says why. */
final class UnreadableWorkbookException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  UnreadableWorkbookException(String why) {
    super(why);
  }
}
