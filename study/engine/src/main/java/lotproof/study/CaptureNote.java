package lotproof.study;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The note that import puts behind a reading's own remark when the reading comes from a capture:
 * {@code capture of N samples}, signs of trouble and the options it was read with (docs/formats.md,
 * "Captures").
 *
 * @param signs signs of trouble, each after {@code ", "}; empty without trouble
 * @param told the options that the capture was read with; empty as found
 */
public record CaptureNote(long samples, String signs, String told) {
  private static final String TOLD = ", read as told: ";
  private static final Pattern NOTE =
      Pattern.compile(
          "(?<own>.*; )?capture of (?<samples>[0-9]{1,15}) samples(?<signs>.*?)(?:"
              + TOLD
              + "(?<told>.*))?",
          Pattern.DOTALL);

  /** The note in a remark, if there is one. */
  public static Optional<CaptureNote> in(String remark) {
    Matcher note = NOTE.matcher(remark);
    return note.matches()
        ? Optional.of(
            new CaptureNote(
                Long.parseLong(note.group("samples")),
                note.group("signs"),
                note.group("told") == null ? "" : note.group("told")))
        : Optional.empty();
  }

  /** A remark with this note behind it. */
  public String after(String remark) {
    return (remark.isEmpty() ? "" : remark + "; ")
        + "capture of "
        + samples
        + " samples"
        + signs
        + (told.isEmpty() ? "" : TOLD + told);
  }
}
