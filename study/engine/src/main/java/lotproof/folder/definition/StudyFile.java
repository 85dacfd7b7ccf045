package lotproof.folder.definition;

import java.nio.ByteBuffer;
import java.util.List;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Study;

/** study.yaml: text to definition and back. */
public final class StudyFile {
  /** Its name in the study folder. */
  public static final String NAME = "study.yaml";

  private StudyFile() {}

  /**
   * Reads a definition. Every problem that can be found is an issue with line and column; reading
   * never stops at the first, except where the text is no YAML.
   */
  public static StudyOutcome read(String fileName, byte[] content) {
    CsvText.TextOutcome decoded = CsvText.decode(ByteBuffer.wrap(content));
    if (decoded instanceof CsvText.TextOutcome.NotUtf8 broken) {
      return refused(Code.FILE_UNREADABLE, fileName, broken.line(), "a byte is not UTF-8 text");
    }
    String text = ((CsvText.TextOutcome.Decoded) decoded).text();
    if (text.isBlank()) {
      return refused(Code.FILE_EMPTY, fileName, 0, "the file is empty; it must define a study");
    }
    YamlTree.Outcome outcome = YamlTree.read(fileName, text);
    if (outcome instanceof YamlTree.Outcome.Read read) {
      return new StudyReader(read.tree()).read();
    }
    return new StudyOutcome.Refused(List.of(((YamlTree.Outcome.Unreadable) outcome).issue()));
  }

  /** The definition as text that {@link #read} turns into the same definition. */
  public static String write(Study study) {
    return StudyWriter.write(study);
  }

  private static StudyOutcome refused(Code code, String file, int line, String message) {
    return new StudyOutcome.Refused(List.of(DataIssue.error(code, file, line, "", "", message)));
  }
}
